/** Alarms, their states and what was done about them, in words. */
import { span } from '../page/dom.js';

/** @typedef {import('../server/types.js').Priority} Priority */

/** Every alarm by its code, in the order of the list of alarms. @type {Record<string, string>} */
export const TITLES = {
  'flame-out': 'Flame out',
  'no-ignition': 'No ignition',
  'gas-left-on': 'Gas left on',
  'chamber-over-limit': 'Chamber over limit',
  'chamber-high': 'Chamber high',
  'shell-high': 'Shell high',
  'first-fire-rate': 'First-fire rate',
  'gas-pressure-high': 'Gas pressure high',
  'gas-falling': 'Gas falling',
  'mixture-flutter': 'Mixture fluttering',
  'chamber-sensor-bad': 'Chamber sensor bad',
  'pressure-sensor-bad': 'Pressure sensor bad',
  'no-data': 'No data',
  'watch-lost': 'Watch lost',
  'wire-over-temperature': 'Wire over temperature',
  'lining-loss-up': 'Lining loss up',
  'store-failing': 'Store failing',
  'disk-nearly-full': 'Disk nearly full',
  'database-unreachable': 'Database unreachable',
  'clock-stepped': 'Clock stepped',
};

/** How an alarm stands. @type {Record<string, string>} */
export const STATES = {
  unacknowledged: 'calls',
  acknowledged: 'acknowledged, still there',
  'returned-unacknowledged': 'gone again, not yet acknowledged',
  'latched-unacknowledged': 'cause gone, held until acknowledged',
  shelved: 'shelved',
  suppressed: 'follows from another alarm',
  'out-of-service': 'out of service',
};

/** What happened, for the journal. @type {Record<string, string>} */
export const STEPS = {
  normal: 'over',
  unacknowledged: 'raised',
  acknowledged: 'acknowledged',
  'returned-unacknowledged': 'gone again before anybody acknowledged',
  'latched-unacknowledged': 'cause gone, held until acknowledged',
  shelved: 'shelved',
  suppressed: 'held back, for it follows from another alarm',
  'out-of-service': 'taken out of service',
};

/** Whoever pressed a button of a page without a name. */
const UNNAMED = { page: 'Somebody at a page', 'the user': 'Somebody' };

/** What the notes about alarms are named. */
const ACTS = ['acknowledge', 'shelve', 'unshelve', 'out-of-service', 'in-service'];

/**
 * A note that keeps what was done about an alarm, as a sentence.
 *
 * @param {string} name of the note
 * @param {string} text alarm, for a shelf its length in seconds, and who did it
 * @returns {string|null} null for any other note
 */
export function actInWords(name, text) {
  if (!ACTS.includes(name)) {
    return null;
  }
  const [code, ...rest] = text.trim().split(/\s+/);
  const seconds = name === 'shelve' ? Number(rest.shift()) : NaN;
  const by = rest.join(' ') || 'the user';
  const who = UNNAMED[/** @type {keyof typeof UNNAMED} */ (by)] ?? by;
  const alarm = `“${TITLES[code] ?? code}”`;
  switch (name) {
    case 'acknowledge':
      return `${who} acknowledged ${alarm}.`;
    case 'shelve':
      return `${who} shelved ${alarm}${seconds > 0 ? ` for ${span(seconds)}` : ''}.`;
    case 'unshelve':
      return `${who} took ${alarm} back from the shelf.`;
    case 'out-of-service':
      return `${who} took ${alarm} out of service.`;
    default:
      return `${who} put ${alarm} back into service.`;
  }
}
