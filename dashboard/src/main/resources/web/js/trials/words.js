/** Words and figures of the Trials screen. */
import { degrees, difference, retold, stepLabel, withInterval } from '../burns/words.js';
import { nameInWords } from '../log/words.js';
import { make } from '../page/dom.js';
import { fixed, pressure, temperature } from '../units/units.js';

/**
 * @typedef {import('../server/types.js').FigureName} FigureName
 * @typedef {import('../server/types.js').TrialVerdict} TrialVerdict
 * @typedef {import('../server/types.js').Trial} Trial
 *
 * @typedef {object} Named
 * @property {FigureName} figure
 * @property {number|null} atC
 * @property {string} unit
 */

const SVG = 'http://www.w3.org/2000/svg';

/** @type {Record<FigureName, (at: string) => string>} */
const NAMES = {
  timeToTarget: (at) => `Time to ${at}`,
  heatingRate: (at) => `Heats at ${at} by`,
  steadyTemperature: () => 'Steady temperature',
  gasAtTarget: (at) => `Gas to hold ${at}`,
  lossCoefficient: (at) => `Loss coefficient at ${at}`,
  efficiency: (at) => `Efficiency at ${at}`,
  mixture: () => 'Mixture',
  chamberFlutter: () => 'Flutter of the chamber',
  gasFlutter: () => 'Flutter of the gas pressure',
};

/** @type {Record<TrialVerdict, string>} */
export const VERDICTS = { real: 'real', 'within-noise': 'within noise', 'cannot-tell': 'cannot tell' };

/** Shapes that stay apart without colour: a full lozenge, a wave, a broken ring. */
const SHAPES = {
  real: 'M8 1L15 8L8 15L1 8Z',
  'within-noise': 'M1 9Q3 3 5.5 8T10 8T15 6',
  'cannot-tell': 'M8 2A6 6 0 1 1 7.9 2',
};

/** @param {Named} of */
export const keyOf = ({ figure, atC }) => `${figure}@${atC ?? ''}`;

/** @param {Named} of */
export const nameOf = ({ figure, atC }) => NAMES[figure](atC === null ? 'target' : degrees(atC));

/**
 * How a figure is read: in which unit, and by which conversion.
 *
 * @param {Named} of
 * @returns {{label: string, from: (value: number) => number}}
 */
function scaleOf({ figure, unit }) {
  switch (unit) {
    case 'K/min':
      return { label: `${stepLabel()}/min`, from: temperature().step };
    case 'Cel':
      return temperature();
    case 'K':
      return { label: stepLabel(), from: temperature().step };
    case 'Pa':
      return pressure();
    case '1':
      return figure === 'mixture' ? { label: 'λ', from: (value) => value } : { label: '%', from: (value) => 100 * value };
    default:
      return { label: unit, from: (value) => value };
  }
}

/** @param {Named} of */
export const unitOf = (of) => (of.unit === 's' ? 'min:s' : scaleOf(of).label);

/**
 * A length of time as minutes and seconds, to stand in a column.
 *
 * @param {number} seconds
 */
function minutes(seconds) {
  const whole = Math.max(0, Math.round(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

/**
 * A value and its interval in the viewer's unit, the unit itself aside.
 *
 * @param {Named} of
 * @param {number} value
 * @param {number|null} low
 * @param {number|null} high
 */
export function shown(of, value, low, high) {
  if (of.unit === 's') {
    return { value: minutes(value), interval: low === null || high === null ? '' : `${minutes(low)} to ${minutes(high)}` };
  }
  const { from } = scaleOf(of);
  return withInterval(from(value), low === null ? null : from(low), high === null ? null : from(high));
}

/**
 * A difference with its sign, and its interval.
 *
 * @param {string} unit % or K
 * @param {number} value
 * @param {number|null} low
 * @param {number|null} high
 * @param {number} [decimals]
 */
export function apart(unit, value, low, high, decimals = 1) {
  const step = unit === 'K' ? temperature().step : (/** @type {number} */ each) => each;
  const label = unit === 'K' ? stepLabel() : unit;
  const text = (/** @type {number} */ each) => fixed(step(each), decimals);
  const sign = Number(text(value)) > 0 ? '+' : '';
  return {
    value: unit === 'K' ? difference(value) : `${sign}${text(value)}\u00a0%`,
    interval: low === null || high === null ? '' : `${text(low)} to ${text(high)}\u00a0${label}`,
  };
}

/**
 * A chance in words that do not pretend to more digits than it has.
 *
 * @param {number} p from 0 to 1
 */
export function chance(p) {
  if (p < 0.001) {
    return 'less than 0.1\u00a0%';
  }
  return `${fixed(100 * p, p < 0.1 ? 1 : 0)}\u00a0%`;
}

/**
 * A verdict as shape and words.
 *
 * @param {TrialVerdict} verdict
 * @param {string} [more] after the words
 */
export function mark(verdict, more = '') {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 16 16');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', SHAPES[verdict]);
  svg.append(path);
  return make('span', { class: `judged ${verdict}` }, svg, VERDICTS[verdict] + more);
}

/**
 * Whether a real difference is wanted.
 *
 * @param {'less'|'more'|'neither'|undefined} better
 * @param {number|null} by
 */
export function worth(better, by) {
  if (by === null || by === 0 || better === undefined || better === 'neither') {
    return '';
  }
  return (by < 0) === (better === 'less') ? ', better' : ', worse';
}

/** @param {Record<string, string>} settings */
export function settingsInWords(settings) {
  const parts = Object.entries(settings).map(([name, value]) => `${nameInWords(name)} ${value}`);
  return parts.length === 0 ? 'nothing written down' : parts.join(', ');
}

/** @param {Trial} trial */
export const trialName = (trial) => `Trial ${trial.trial}`;

/**
 * A sentence of the server in the viewer's units, with a capital.
 *
 * @param {string} text
 */
export function sentence(text) {
  const unit = pressure();
  const words = retold(text).replace(/(\d+(?:\.\d+)?) kPa\b/g, (_, figure) => `${fixed(unit.from(1e3 * Number(figure)), unit.decimals)} ${unit.label}`);
  return words === '' ? '' : words[0].toUpperCase() + words.slice(1);
}

/** @param {string} text */
export const ended = (text) => (text === '' || /[.!?…]$/.test(text) ? text : `${text}.`);
