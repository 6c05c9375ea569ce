/** What a burn tells of its forge: each parameter, how sure it is, and whether the burn or the description says it. */
import { byId, make } from '../page/dom.js';
import { fixed } from '../units/units.js';
import { digits, retold, termOf, withInterval } from './words.js';

/** @typedef {import('../server/types.js').FittedParameter} FittedParameter */

const SVG = 'http://www.w3.org/2000/svg';

/** @type {Record<string, {mark: string, word: string, meaning: string}>} */
const STATUS = {
  identified: { mark: '●', word: 'identified', meaning: 'the burn tells it' },
  prior: { mark: '◐', word: 'from the prior', meaning: 'the burn hardly told more than the description' },
  'not-identifiable': { mark: '○', word: 'not identifiable', meaning: 'the burn cannot tell it' },
};

const HEADS = ['of the forge', 'value, 95 % interval', 'left open', 'who says so'];

/**
 * A table that a narrow screen shows as cards: the roles keep it a table for those who hear it.
 *
 * @param {FittedParameter[]} parameters
 */
export function showParameters(parameters) {
  const head = make('tr', { role: 'row' }, ...HEADS.map((name) => make('th', { role: 'columnheader', scope: 'col' }, name)));
  byId('parameters').replaceChildren(
    make(
      'table',
      { class: 'parameters', role: 'table' },
      make('caption', { class: 'unseen' }, 'Fitted parameters'),
      make('thead', { role: 'rowgroup' }, head),
      make('tbody', { role: 'rowgroup' }, ...parameters.map(row)),
    ),
  );
}

/** @param {FittedParameter} parameter */
function row(parameter) {
  const { name, meaning, unit, times } = termOf(parameter.name, parameter.unit);
  /** @param {number|null|undefined} figure */
  const told = (figure) => (figure === null || figure === undefined ? null : times * figure);
  const [value, low, high, expected] = [parameter.value, parameter.low95, parameter.high95, parameter.expected].map(told);
  const shown = withInterval(value, low, high);
  const status = STATUS[parameter.status] ?? { mark: '', word: parameter.status, meaning: '' };
  const half = low !== null && high !== null ? (high - low) / 2 : 0;
  const asDescribed = expected === null ? '' : `described: ${fixed(expected, digits(half))}`;
  return make(
    'tr',
    { role: 'row', 'data-parameter': parameter.name, 'data-status': parameter.status },
    make('th', { role: 'rowheader', scope: 'row' }, name, make('small', {}, meaning)),
    make('td', { role: 'cell', class: 'figure' }, make('b', {}, shown.value), ` ${value === null ? '' : unit}`, make('small', {}, shown.interval)),
    make('td', { role: 'cell', class: 'open' }, gauge(value, low, high, expected, parameter.narrowedTo ?? null), make('small', {}, narrowed(parameter, asDescribed))),
    make(
      'td',
      { role: 'cell', class: 'status' },
      make('b', {}, make('span', { 'aria-hidden': 'true' }, `${status.mark} `), status.word),
      make('small', {}, parameter.advice ? `${status.meaning}. To know it: ${retold(parameter.advice)}` : status.meaning),
    ),
  );
}

/**
 * @param {FittedParameter} parameter
 * @param {string} asDescribed
 */
function narrowed(parameter, asDescribed) {
  const share = parameter.narrowedTo;
  if (share === null || share === undefined) {
    return asDescribed;
  }
  const percent = `${share < 0.1 ? fixed(100 * share, 1) : fixed(100 * Math.min(1, share), 0)} % of before`;
  return asDescribed ? `${percent}; ${asDescribed}` : percent;
}

/**
 * What was left open before, as a light bar, what is left open now as a dark one, and the description as a stroke.
 *
 * @param {number|null} value
 * @param {number|null} low
 * @param {number|null} high
 * @param {number|null} expected
 * @param {number|null} narrowedTo
 */
function gauge(value, low, high, expected, narrowedTo) {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'gauge');
  svg.setAttribute('viewBox', '0 0 100 16');
  svg.setAttribute('preserveAspectRatio', 'none');
  svg.setAttribute('aria-hidden', 'true');
  if (value === null || low === null || high === null || expected === null || !narrowedTo) {
    return svg;
  }
  const before = (high - low) / 2 / Math.min(1, narrowedTo);
  const from = Math.min(expected - before, low);
  const to = Math.max(expected + before, high);
  /** @param {number} figure */
  const x = (figure) => 2 + (96 * (figure - from)) / (to - from || 1);
  svg.append(
    bar(x(expected - before), x(expected + before), 5, 6, 'before'),
    bar(Math.min(x(low), x(value) - 0.75), Math.max(x(high), x(value) + 0.75), 3, 10, 'now'),
    bar(x(expected) - 0.5, x(expected) + 0.5, 0, 16, 'described'),
  );
  return svg;
}

/**
 * @param {number} from
 * @param {number} to
 * @param {number} top
 * @param {number} height
 * @param {string} kind
 */
function bar(from, to, top, height, kind) {
  const rect = document.createElementNS(SVG, 'rect');
  for (const [name, size] of Object.entries({ x: from, y: top, width: to - from, height })) {
    rect.setAttribute(name, size.toFixed(2));
  }
  rect.setAttribute('class', kind);
  return rect;
}
