/** One trial held against another: what changed, by how much, whether that is real, and what says so. */
import { degrees, seconds } from '../burns/words.js';
import { nameInWords } from '../log/words.js';
import { day, make, shortClock } from '../page/dom.js';
import { fixed, pressure } from '../units/units.js';
import { apart, chance, ended, keyOf, mark, nameOf, sentence, shown, trialName, unitOf, worth } from './words.js';

/**
 * @typedef {import('../server/types.js').Trials} Trials
 * @typedef {import('../server/types.js').Trial} Trial
 * @typedef {import('../server/types.js').TrialComparison} TrialComparison
 * @typedef {import('../server/types.js').TrialDifference} TrialDifference
 * @typedef {import('../server/types.js').TrialCorrections} TrialCorrections
 */

const SVG = 'http://www.w3.org/2000/svg';
/** Half the length of a gauge, in its own units. */
const HALF = 60;

/** @type {Record<string, string>} */
const SOURCES = {
  usual: 'what forges usually show: too few burns here were repeated',
  mixed: 'repeated burns here, and what forges usually show',
  pooled: 'repeated burns here',
  welch: 'repeated burns here, of each trial for itself',
};

/**
 * @param {Trials} trials
 * @param {TrialComparison} comparison
 * @param {Set<string>} open figures whose evidence is shown; kept up to date
 * @returns {HTMLElement[]}
 */
export function comparisonOf(trials, comparison, open) {
  const { changed, from, to } = comparison;
  const what = changed.map((each) => `${nameInWords(each.setting)} from ${each.from || 'not said'} to ${each.to || 'not said'}`).join('; ');
  return [
    make('p', {}, what === '' ? 'The same settings in both.' : `Changed from trial ${from} to trial ${to}: ${what}.`),
    make('p', { class: 'verdict' }, mark(comparison.verdict, ': '), sentence(comparison.sentence)),
    make('ol', { class: 'differences' }, ...comparison.figures.map((figure) => make('li', {}, oneDifference(trials, comparison, figure, open)))),
    burnByBurn(trials, comparison),
  ];
}

/**
 * @param {Trials} trials
 * @param {TrialComparison} comparison
 * @param {TrialDifference} figure
 * @param {Set<string>} open
 */
function oneDifference(trials, comparison, figure, open) {
  const key = keyOf(figure);
  const better = trials.trials.find((trial) => trial.trial === comparison.to)?.figures.find((each) => keyOf(each) === key)?.better;
  const by = figure.difference === null ? null : apart(figure.differenceUnit, figure.difference, figure.low95, figure.high95);
  const summary = make(
    'summary',
    {},
    make('span', { class: 'difference-name' }, nameOf(figure)),
    figure.difference === null ? make('span', { class: 'gauge' }) : gauge(comparison, figure),
    make('span', { class: 'difference-by' }, make('b', {}, by?.value ?? 'no difference told'), make('small', {}, by?.interval ?? '')),
    mark(figure.verdict, figure.verdict === 'real' ? worth(better, figure.difference) : ''),
  );
  const details = /** @type {HTMLDetailsElement} */ (make('details', { 'data-figure': key }, summary, evidence(comparison, figure)));
  details.open = open.has(key);
  details.addEventListener('toggle', () => (details.open ? open.add(key) : open.delete(key)));
  return details;
}

/**
 * The interval against nothing at all, all figures of one unit on one scale.
 *
 * @param {TrialComparison} comparison
 * @param {TrialDifference} figure
 */
function gauge(comparison, figure) {
  const most = comparison.figures
    .filter((each) => each.differenceUnit === figure.differenceUnit)
    .reduce((so, { low95, high95, difference }) => Math.max(so, Math.abs(low95 ?? difference ?? 0), Math.abs(high95 ?? difference ?? 0)), 1e-9);
  const x = (/** @type {number} */ value) => HALF + (value / most) * (HALF - 4);
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', `0 0 ${2 * HALF} 16`);
  svg.setAttribute('class', `gauge ${figure.verdict}`);
  svg.setAttribute('aria-hidden', 'true');
  const value = figure.difference ?? 0;
  const [low, high] = [x(figure.low95 ?? value), x(figure.high95 ?? value)];
  svg.append(
    bar('before', 2, 7, 2 * HALF - 4, 2),
    bar('now', low, 5, Math.max(2, high - low), 6),
    bar('described', HALF - 1, 0, 2, 16),
    bar('middle', x(value) - 1.5, 2, 3, 12),
  );
  return svg;
}

/**
 * @param {string} kind
 * @param {number} x
 * @param {number} y
 * @param {number} width
 * @param {number} height
 */
function bar(kind, x, y, width, height) {
  const rect = document.createElementNS(SVG, 'rect');
  rect.setAttribute('class', kind);
  Object.entries({ x, y, width, height }).forEach(([name, value]) => rect.setAttribute(name, value.toFixed(2)));
  return rect;
}

/**
 * @param {TrialComparison} comparison
 * @param {TrialDifference} figure
 */
function evidence(comparison, figure) {
  const { differenceUnit, scatter, correctedBy, p, pTogether } = figure;
  const sized = (/** @type {number} */ value) => apart(differenceUnit, value, null, null).value;
  const plain = (/** @type {number} */ value) => sized(value).replace(/^\+/, '');
  const lines = [];
  if (p !== null) {
    lines.push(line('As great by chance, were nothing changed', `in ${chance(p)}`));
  }
  if (pTogether !== null) {
    lines.push(line(`The same, ${comparison.figures.length} figures in view`, `in ${chance(pTogether)}`));
  }
  if (scatter !== null) {
    lines.push(
      line('Burns of equal settings scatter by', plain(scatter.value), `from ${SOURCES[scatter.source] ?? scatter.source}; ${fixed(scatter.degreesOfFreedom, 0)} degrees of freedom`),
      line('Model and instruments add', plain(scatter.modelAndSensors)),
    );
  }
  const corrections = [[comparison.from, correctedBy?.from], [comparison.to, correctedBy?.to]]
    .filter(([, by]) => by)
    .map(([trial, by]) => line(`Trial ${trial} corrected for`, corrected(/** @type {NonNullable<TrialCorrections>} */ (by), differenceUnit)));
  lines.push(...(corrections.length > 0 ? corrections : [line('Corrected for start, ambient, pressure', 'no: the figure is free of them')]));
  const words = [figure.evidence && ended(sentence(figure.evidence)), figure.would && ended(`What would tell: ${sentence(figure.would).replace(/^./, (c) => c.toLowerCase())}`)];
  return make('div', { class: 'evidence' }, make('dl', { class: 'lines' }, ...lines), ...words.filter(Boolean).map((each) => make('p', { class: 'small' }, each)));
}

/**
 * @param {NonNullable<TrialCorrections>} by
 * @param {string} unit
 */
function corrected(by, unit) {
  // They are small, and a tenth would round them away.
  const sized = (/** @type {number} */ value) => apart(unit, value, null, null, 2).value;
  return `start ${sized(by.start)}, ambient ${sized(by.ambient)}, pressure ${sized(by.pressure)}`;
}

/**
 * @param {string} name
 * @param {string} value
 * @param {string} [more]
 */
const line = (name, value, more = '') => make('div', {}, make('dt', {}, name), make('dd', {}, value, ...(more ? [make('small', {}, ` ${more}`)] : [])));

/**
 * The first figure of every burn of both trials: as measured, what was corrected, and brought to the conditions of all.
 *
 * @param {Trials} trials
 * @param {TrialComparison} comparison
 */
function burnByBurn(trials, comparison) {
  const of = trials.trials.flatMap((trial) => trial.figures).find((figure) => figure.figure === trials.first);
  if (!of) {
    return make('p', { class: 'small' }, 'No burn of these tells the figure that verdicts rest on.');
  }
  const both = trials.trials.filter((trial) => trial.trial === comparison.from || trial.trial === comparison.to);
  const rows = both.flatMap((trial) => trial.stretches.map((stretch) => {
    const at = seconds(stretch.start);
    const measured = stretch.figures.find((each) => keyOf(each) === keyOf(of));
    const brought = stretch.corrected.find((each) => keyOf(each) === keyOf(of));
    const unit = pressure();
    const text = (/** @type {number|null|undefined} */ value) => (value === null || value === undefined ? 'cannot tell' : shown(of, value, null, null).value.replace('interval not known', ''));
    const cells = [
      trialName(trial),
      stretch.startC === null ? '–' : degrees(stretch.startC),
      stretch.ambientC === null ? '–' : degrees(stretch.ambientC),
      stretch.gasPa === null ? '–' : `${fixed(unit.from(stretch.gasPa), unit.decimals)}\u00a0${unit.label}`,
      text(measured?.value),
      brought?.by ? corrected(brought.by, of.unit === 'Cel' ? 'K' : '%') : '–',
      text(brought?.value),
    ];
    const link = make('a', { href: `#burns/${encodeURIComponent(stretch.burn)}` }, `${day(at)}, ${shortClock(at)}`);
    const why = measured?.value === null && measured.because ? make('small', {}, sentence(measured.because)) : '';
    return make('tr', {}, make('th', { scope: 'row' }, link, why), ...cells.map((each) => make('td', {}, each)));
  }));
  const head = ['burn', 'trial', 'start', 'ambient', 'gas', `measured, ${unitOf(of)}`, 'corrected for', 'at equal conditions'].map((each) => make('th', { scope: 'col' }, each));
  return make(
    'details',
    { class: 'burn-by-burn' },
    make('summary', {}, `${nameOf(of)}, burn by burn`),
    make(
      'div',
      { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': `${nameOf(of)}, burn by burn` },
      make('table', {}, make('caption', { class: 'unseen' }, 'Burn by burn'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows)),
    ),
  );
}

