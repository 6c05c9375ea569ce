/** What is said of one forge among many, and of all of them together. */
import { STATES } from '../alarms/names.js';
import { span } from '../page/dom.js';

/**
 * @typedef {import('../server/types.js').FleetRow} FleetRow
 * @typedef {import('../server/types.js').Attention} Attention
 */

/** The most urgent first. @type {Attention[]} */
export const ORDER = ['critical', 'calls', 'standing', 'flame', 'silent', 'never', 'none'];

const PHASES = {
  cold: 'Cold',
  lighting: 'Lighting',
  heating: 'Heating up',
  steady: 'Steady',
  idling: 'Idling',
  cooling: 'Cooling down',
};

const TRENDS = { rising: 'rising', falling: 'falling', level: 'level', steady: 'steady' };

/** The same marks as beside the large figure of Now. */
const SHAPES = { rising: '▲', falling: '▼', level: '▬', steady: '▬' };

const AT_HEAT = ['heating', 'steady', 'idling'];

/** @param {FleetRow} row */
export const burns = (row) => (AT_HEAT.includes(row.phase ?? '') || row.phase === 'lighting') && row.silentSinceT === undefined;

/** @param {FleetRow} row */
export const calls = (row) => row.attention === 'critical' || row.attention === 'calls';

/** @param {FleetRow} row */
export const needs = (row) => row.attention !== 'none';

/**
 * A cold forge goes nowhere, which is nothing to say, and of a silent one nobody knows where it went.
 *
 * @param {FleetRow} row
 */
const moves = (row) => row.phase !== 'cold' && row.silentSinceT === undefined;

/** @param {FleetRow} row */
export const trendShape = (row) => (row.trend && moves(row) ? SHAPES[row.trend] : '');

/** @param {FleetRow} row */
export function phaseWords(row) {
  if (!row.phase) {
    return '';
  }
  // "Steady, steady" says nothing more.
  return row.trend && row.trend !== row.phase && moves(row) ? `${PHASES[row.phase]}, ${TRENDS[row.trend]}` : PHASES[row.phase];
}

/**
 * What is the matter with a forge, in one line; empty where nothing is.
 *
 * @param {FleetRow} row
 * @param {number} nowT the daemon's time, seconds since 1970
 */
export function matter(row, nowT) {
  const parts = [];
  if (row.alarm) {
    const more = (row.alarms ?? 1) - 1;
    parts.push(`${row.alarm.title}: ${STATES[row.alarm.state] ?? row.alarm.state}${more > 0 ? `; ${more} more` : ''}.`);
  }
  if (row.attention === 'flame') {
    parts.push(row.flame === 'out' ? 'The flame is out while gas flows.' : 'The flame may be out.');
  }
  if (row.attention === 'never') {
    parts.push('Not heard of since the daemon started.');
  } else if (row.silentSinceT !== undefined) {
    parts.push(`Silent: last heard ${span(nowT - row.silentSinceT)} ago.`);
  }
  return parts.join(' ');
}

/**
 * How many there are of each kind; every forge is counted once, by what matters most.
 *
 * @param {Iterable<FleetRow>} rows
 */
export function countWords(rows) {
  let all = 0;
  let calling = 0;
  let burning = 0;
  let out = 0;
  /** @type {Record<string, number>} */
  const kinds = { standing: 0, flame: 0, silent: 0, never: 0 };
  for (const row of rows) {
    all++;
    if (calls(row)) {
      calling++;
    } else if (row.attention !== 'none') {
      kinds[row.attention]++;
    } else if (burns(row)) {
      burning++;
    } else {
      out++;
    }
  }
  if (all === 0) {
    return 'Which forge needs somebody?';
  }
  const parts = [
    calling === 0 ? 'None calls' : `${calling} ${calling === 1 ? 'calls' : 'call'} for somebody`,
    some(kinds.standing, 'with a critical alarm still there'),
    some(kinds.flame, 'with a flame in doubt'),
    some(kinds.silent, 'silent'),
    some(kinds.never, 'not heard of yet'),
    some(burning, all > burning + out ? 'more burning' : 'burning'),
    some(out, 'out'),
  ];
  return `${parts.filter((part) => part).join(', ')}.`;
}

/**
 * @param {number} count
 * @param {string} what
 */
const some = (count, what) => (count > 0 ? `${count} ${what}` : '');
