/** Behind the sentences: where the chamber goes, what holds the target as the lining soaks, and what a pause costs. */
import { palette, tickLabels, withAlpha } from '../chart/ink.js';
import { byId, make, say } from '../page/dom.js';
import { fixed, pressure, temperature } from '../units/units.js';
import { degrees, gauge, minutesOf, withBand } from './outlook-words.js';

/**
 * @typedef {import('../server/types.js').Figure} Figure
 * @typedef {import('../server/types.js').Hold} Hold
 * @typedef {import('../server/types.js').Idle} Idle
 * @typedef {import('../server/types.js').OutlookAnswer} OutlookAnswer
 * @typedef {import('../server/types.js').Settling} Settling
 * @typedef {import('../units/units.js').Unit} Unit
 *
 * @typedef {object} Ahead a curve with its band
 * @property {number[]} t minutes from now
 * @property {(number|null)[]} value
 * @property {(number|null)[]} low
 * @property {(number|null)[]} high
 */

const FONT = '13px system-ui, sans-serif';
const S_PER_MIN = 60;

/** Shows the details; its charts are made anew with each outlook, every few seconds and of some dozen points. */
export class OutlookDetails {
  /** @param {(pauseS: string) => void} pause another length of the pause */
  constructor(pause) {
    this.plots = new Map();
    const select = /** @type {HTMLSelectElement} */ (byId('ahead-pause'));
    select.addEventListener('change', () => pause(select.value));
  }

  /** @param {OutlookAnswer} answer with an outlook */
  show({ outlook, currency }) {
    if (!outlook) {
      return;
    }
    byId('ahead-curve').hidden = outlook.settling === null;
    if (outlook.settling) {
      this.settling(outlook.settling);
    }
    byId('ahead-idle').hidden = outlook.idle === null;
    if (outlook.idle) {
      this.holding(outlook.idle, currency);
    }
    byId('ahead-doubts').replaceChildren(...outlook.doubts.map(({ words }) => make('li', {}, words)));
  }

  /** @param {Settling} settling */
  settling({ curve, gaugePa }) {
    say(byId('ahead-curve-caption'), `Chamber from now on at ${gauge(gaugePa ?? 0)}, ${temperature().label} over minutes, with its 95 % band`);
    this.chart('ahead-curve-chart', ahead(curve.map(({ aheadS, chamberC }) => ({ aheadS, figure: chamberC })), temperature()));
  }

  /**
   * @param {Idle} idle
   * @param {string} currency
   */
  holding(idle, currency) {
    const from = idle.kind === 'heating' ? 'from when it is reached' : 'from now';
    say(byId('ahead-hold-caption'), `What holds ${degrees(idle.targetC)} ${from}, ${pressure().label} over minutes, with its 95 % band`);
    this.chart('ahead-hold-chart', ahead(idle.curve.map(({ aheadS, pressurePa }) => ({ aheadS, figure: pressurePa })), pressure()));
    byId('ahead-table').replaceChildren(table(idle, currency));
    say(byId('ahead-pause-words'), pauseWords(idle, currency));
  }

  /**
   * @param {string} id
   * @param {Ahead} data
   */
  chart(id, { t, value, low, high }) {
    const place = byId(id);
    this.plots.get(id)?.destroy();
    if (place.clientWidth === 0 || t.length < 2) {
      return;
    }
    const colour = palette();
    const axis = { stroke: colour('--soft'), font: FONT, grid: { stroke: colour('--rule'), width: 1 }, ticks: { show: false } };
    const hidden = { stroke: 'transparent', width: 0, points: { show: false } };
    const options = {
      width: place.clientWidth,
      height: place.clientHeight,
      legend: { show: false },
      cursor: { show: false },
      padding: [8, 14, 0, 0],
      scales: { x: { time: false } },
      axes: [
        { ...axis, size: 28, space: 48, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => ticks.map((minutes) => `${minutes}`) },
        { ...axis, size: 46, space: 34, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks) },
      ],
      series: [{}, hidden, hidden, { stroke: colour('--ink'), width: 2, points: { show: false } }],
      bands: [{ series: [1, 2], fill: withAlpha(colour('--margin'), 0.3) }],
    };
    // @ts-ignore uPlot is a global of the script in the page
    this.plots.set(id, new globalThis.uPlot(options, [t, high, low, value], place));
  }
}

/**
 * @param {{aheadS: number|null, figure: Figure}[]} points
 * @param {Unit} unit
 * @returns {Ahead}
 */
function ahead(points, unit) {
  const shown = (/** @type {number|null} */ value) => (value === null ? null : unit.from(value));
  return {
    t: points.map(({ aheadS }) => (aheadS ?? 0) / S_PER_MIN),
    value: points.map(({ figure }) => shown(figure.value)),
    low: points.map(({ figure }) => shown(figure.low95)),
    high: points.map(({ figure }) => shown(figure.high95)),
  };
}

/**
 * @param {Idle} idle
 * @param {string} currency
 */
function table(idle, currency) {
  const rows = /** @type {[string, Hold][]} */ ([['for the next minutes', idle.now], ['soaked, hours later', idle.soaked]]).map(([when, hold]) =>
    row(when, withBand(hold.pressurePa), hold.kgPerHour, hold.costPerHour, currency));
  const { pressurePa, kgPerHour, costPerHour } = idle.full;
  const full = { value: kgPerHour, low95: null, high95: null };
  rows.push(row('full burn', pressurePa === null ? 'not known' : gauge(pressurePa), full, costPerHour, currency));
  const names = ['', 'pressure', 'gas, kg/h', ...(currency ? [`${currency}/h`] : [])];
  const head = make('tr', {}, ...names.map((name) => (name ? make('th', { scope: 'col' }, name) : make('td'))));
  return make('table', {}, make('caption', { class: 'unseen' }, 'What holds the target, and what it costs'), make('thead', {}, head), make('tbody', {}, ...rows));
}

/**
 * @param {string} when
 * @param {string} at
 * @param {Figure} kgPerHour
 * @param {number|null} cost
 * @param {string} currency
 */
function row(when, at, { value, low95, high95 }, cost, currency) {
  const band = low95 === null || high95 === null ? '' : ` (${fixed(low95, 2)} to ${fixed(high95, 2)})`;
  const cells = [at, value === null ? 'not known' : `${fixed(value, 2)}${band}`];
  if (currency) {
    cells.push(cost === null ? 'not known' : fixed(cost, 2));
  }
  return make('tr', {}, make('th', { scope: 'row' }, when), ...cells.map((cell) => make('td', {}, cell)));
}

/**
 * @param {Idle} idle
 * @param {string} currency
 */
function pauseWords({ pause }, currency) {
  const { idleKg, relightKg, relightS, savedKg } = pause;
  if (savedKg.value === null || idleKg.value === null || relightKg.value === null) {
    return 'Whether turning off pays over this pause cannot be told: full burn does not get back to the target.';
  }
  const kg = (/** @type {number} */ value) => `${fixed(value, 2)} kg`;
  const doubtful = savedKg.low95 === null || savedKg.high95 === null || savedKg.low95 * savedKg.high95 <= 0;
  const saved = pause.saved === null || currency === '' ? '' : `, ${fixed(Math.abs(pause.saved), 2)} ${currency}`;
  const less = savedKg.value > 0 ? 'Turning off takes less' : 'Idling takes less';
  const verdict = doubtful ? 'Which of the two takes less is within what is not known' : `${less}, by ${kg(Math.abs(savedKg.value))}${saved}`;
  return `Idling takes ${kg(idleKg.value)}; off and lit again ${kg(relightKg.value)}, and ${minutesOf(relightS)} of waiting. ${verdict}. ${breakEven(pause)}`;
}

/** @param {Idle['pause']} pause */
function breakEven({ breakEvenS, neverWorth }) {
  if (neverWorth) {
    return 'Over no pause up to twelve hours does turning off take less.';
  }
  return breakEvenS === null ? '' : breakEvenS === 0 ? 'Turning off always takes less.' : `From about ${fixed(breakEvenS / S_PER_MIN, 0)} min on turning off takes less.`;
}
