/** One burn: what it was, what its fit says, and what was written down meanwhile. */
import { byId, longDay, make, say, shortClock, span, zone } from '../page/dom.js';
import { isCorrected, rowOf } from '../log/row.js';
import { fixed, temperature } from '../units/units.js';
import { showComparison } from './compare.js';
import { BurnCurve } from './curve.js';
import { gasWords } from './list.js';
import { Paper } from './paper.js';
import { showParameters } from './parameters.js';
import { showSpent } from './spent.js';
import { degrees, duration, retold, seconds, stepLabel, withInterval } from './words.js';

/**
 * @typedef {import('../server/types.js').Burn} Burn
 * @typedef {import('../server/types.js').Entry} Entry
 * @typedef {import('../server/types.js').Fit} Fit
 * @typedef {import('../server/types.js').Forge} Forge
 * @typedef {import('../server/types.js').Moment} Moment
 *
 * @typedef {object} OneBurn what is known of it; null for what is not
 * @property {Forge} forge
 * @property {string} currency
 * @property {Burn|null} burn as the list knows it
 * @property {Fit|null} fit
 * @property {string} noFit why there is no fit, and what to do
 * @property {Moment[]} measured what was measured, where there is no fit
 * @property {Entry[]} entries notes and settings, oldest first; those before the start were in force
 * @property {string} logTrouble
 */

/** Sections that a fit fills. */
const OF_THE_FIT = ['burn-verdict', 'burn-compare', 'burn-spent', 'burn-parameters'];
/** Beyond this a run of equal signs in what is left over is no chance: two-sided 95 % of the normal distribution. */
const CHANCE_Z = 1.96;

/** Shows one burn. */
export class OneBurnPage {
  constructor() {
    this.curve = new BurnCurve();
    this.paper = new Paper();
    this.id = '';
    this.state = byId('burn-state');
    this.body = byId('burn-body');
    /** What is to be done when an entry was corrected. */
    this.corrected = async () => {};
  }

  /** @param {string} id */
  loading(id) {
    say(byId('burn-title'), 'Burn');
    say(byId('burn-brief'), '');
    this.paper.show('');
    this.id = id;
    this.body.hidden = true;
    this.tell(`Fetching the burn ${id} …`);
  }

  /** @param {string} trouble what stands in the way and what to do */
  fail(trouble) {
    this.paper.show('');
    this.body.hidden = true;
    this.tell(trouble);
  }

  /** @param {string} text */
  tell(text) {
    this.state.hidden = text === '';
    say(this.state, text);
  }

  /** @param {OneBurn} one */
  show(one) {
    const { forge, burn, fit } = one;
    const startT = seconds(/** @type {string} */ (burn?.start ?? fit?.start));
    const end = burn ? burn.end : (fit?.end ?? null);
    say(byId('burn-title'), titleOf(startT, end));
    say(byId('burn-brief'), brief(one, startT, end));
    this.paper.show(this.id);
    this.body.hidden = false;
    this.tell(fit ? notConverged(fit) : one.noFit);
    this.body.classList.toggle('unfitted', fit === null);
    for (const id of OF_THE_FIT) {
      byId(id).hidden = fit === null;
    }
    this.curve.levels = [{ label: 'target', value: forge.targetC, dash: [] }];
    this.curve.marks = one.entries.filter((entry) => !entry.withdrawn).map((entry) => entry.t - startT).filter((s) => s >= 0);
    this.curve.show(fit?.curve ?? one.measured, startT, fit ? leftOver(fit) : '');
    if (fit) {
      this.verdict(fit, forge);
      showComparison(fit, forge.targetC);
      showSpent(fit.ledger);
      showParameters(fit.parameters);
      say(byId('burn-worth'), worth(fit));
    }
    showLog(one, startT, this.corrected);
  }

  /**
   * @param {Fit} fit
   * @param {Forge} forge
   */
  verdict(fit, forge) {
    say(byId('verdict'), fit.verdict ? retold(fit.verdict) : 'No prediction to hold this burn against.');
    byId('burn-loss').replaceChildren(...lossWords(fit, forge), ...timeConstantWords(fit));
    byId('burn-remarks').replaceChildren(...(fit.remarks ?? []).map((remark) => make('li', {}, retold(remark))));
  }
}

/**
 * @param {number} startT
 * @param {string|null} end
 */
function titleOf(startT, end) {
  const from = `Burn of ${longDay(startT)}, ${shortClock(startT)}`;
  return end === null ? `${from} ${zone(startT)}, still burning` : `${from}–${shortClock(seconds(end))} ${zone(startT)}`;
}

/**
 * @param {OneBurn} one
 * @param {number} startT
 * @param {string|null} end
 */
function brief({ burn, currency }, startT, end) {
  const parts = [];
  if (end !== null) {
    parts.push(`lasted ${span(seconds(end) - startT)}`);
  }
  if (burn && burn.peakC !== null) {
    parts.push(`highest ${degrees(burn.peakC)}`);
  }
  if (burn && burn.gasUsedKg !== null) {
    parts.push(`gas ${gasWords(burn, currency)}`);
  }
  const text = parts.join('; ');
  return text === '' ? '' : `${text[0].toUpperCase()}${text.slice(1)}.`;
}

/** @param {Fit} fit */
function notConverged(fit) {
  if (fit.converged) {
    return '';
  }
  return `This fit did not come to rest${fit.why ? `: ${retold(fit.why)}` : ''}. Take its figures as the last ones tried, without their intervals; a longer burn or a cooling to the end helps.`;
}

/**
 * @param {Fit} fit
 * @param {Forge} forge
 */
function lossWords(fit, forge) {
  const loss = fit.lossCoefficient;
  const at = `at ${degrees(loss.atC)}, soaked through`;
  if (loss.valueWPerK === null) {
    const why = loss.advice ? ` ${retold(loss.advice)}` : '';
    return [make('p', { class: 'label' }, `Loss coefficient ${at}`), make('p', { id: 'loss-value', class: 'untold' }, `This burn cannot tell it.${why}`)];
  }
  const { value, interval } = withInterval(loss.valueWPerK, loss.low95, loss.high95);
  const watts = loss.valueWPerK * (loss.atC - (forge.ambientC ?? 20));
  return [
    make('p', { class: 'label' }, `Loss coefficient ${at}`),
    make('p', { id: 'loss-value', class: 'great' }, value, make('small', {}, ' W/K')),
    make('p', { id: 'loss-interval' }, `${interval} (95 %): held there, about ${fixed(watts / 1000, 1)} kW go through lining and openings.`),
    ...(loss.advice ? [make('p', {}, retold(loss.advice))] : []),
  ];
}

/** @param {Fit} fit */
function timeConstantWords(fit) {
  if (fit.timeConstantS === null) {
    return [make('p', { id: 'time-constant' }, 'Time constant: this burn does not tell it.')];
  }
  return [make('p', { id: 'time-constant' }, `Time constant ${duration(fit.timeConstantS)}: so long the soaked forge takes for 63 % of a small change of its gas.`)];
}

/** @param {Fit} fit */
function leftOver(fit) {
  if (fit.rmsResidualK === null) {
    return '';
  }
  const rms = temperature().step(fit.rmsResidualK);
  const pattern = typeof fit.runsZ === 'number' && fit.runsZ < -CHANCE_Z
    ? '; it runs in stretches, so something small is not in the model'
    : '; it scatters as chance does';
  return `: ${fixed(rms, rms < 10 ? 1 : 0)} ${stepLabel()} in the root mean square${pattern}`;
}

/** @param {Fit} fit */
function worth(fit) {
  const worthS = fit.effectiveSamples === null ? '' : `, worth ${fixed(fit.effectiveSamples, 0)} that do not repeat each other; the intervals reckon with those`;
  return `Fitted to ${fit.samples.toLocaleString()} readings${worthS}.`;
}

/**
 * @param {OneBurn} one
 * @param {number} startT
 * @param {() => Promise<void>} corrected
 */
function showLog({ forge, burn, fit, entries, logTrouble }, startT, corrected) {
  const stale = burn && fit && burn.end !== null ? `The figures above were fitted before that; the command “fit --burn ${burn.id}” reckons with it.` : '';
  const status = byId('burn-log-state');
  status.hidden = logTrouble === '';
  say(status, logTrouble);
  const list = byId('burn-log-list');
  if (isCorrected(list)) {
    return;
  }
  const rows = entries.map((entry) => rowOf(forge.id, entry, entry.t < startT ? ' (in force when lit)' : '', async (told) => {
    await corrected();
    status.hidden = told === '';
    say(status, told === '' || !stale ? told : `${told} ${stale}`);
  }));
  const none = logTrouble === '' ? [make('li', { class: 'plain' }, 'Nothing was written down. Notes are taken on the Now screen, with one tap.')] : [];
  list.replaceChildren(...(rows.length > 0 ? rows : none));
}
