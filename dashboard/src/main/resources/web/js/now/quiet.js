/** Quiet lines under the temperature: what matters only now and then. */
import { byId, say } from '../page/dom.js';
import { fixed, pressure, temperature } from '../units/units.js';

/** @typedef {import('../server/types.js').Snapshot} Snapshot */

/** Below this nobody would look up for it. */
const LEAST_DOUBT = 0.3;
/** Nearer to the surroundings a shell is not worth a line, °C. */
const WARM_SHELL_C = 40;

/** @param {Snapshot} snapshot */
export function showQuiet(snapshot) {
  line('flame-doubt', doubtOf(snapshot));
  line('gas-left', gasLeftOf(snapshot));
  line('shell', shellOf(snapshot));
}

/** @param {Snapshot} snapshot */
function doubtOf({ flameOutProbability, alarms }) {
  const told = alarms.some(({ alarm, state }) => alarm === 'flame-out' && state !== 'out-of-service');
  return typeof flameOutProbability === 'number' && flameOutProbability >= LEAST_DOUBT && !told
    ? `The flame may be out: ${fixed(100 * flameOutProbability, 0)} %`
    : '';
}

/** @param {Snapshot} snapshot */
function gasLeftOf({ conditions, alarms }) {
  const best = conditions?.gasLeftMinutes;
  if (typeof best !== 'number' || !conditions || !alarms.some(({ alarm }) => alarm === 'gas-falling')) {
    return '';
  }
  const { gasLeftLowMinutes: low, gasLeftHighMinutes: high, gasLeftToPa: to } = conditions;
  const range = low === null ? '' : high === null ? ` (at least ${fixed(low, 0)})` : ` (${fixed(low, 0)} to ${fixed(high, 0)})`;
  const unit = pressure();
  const level = to === null ? '' : ` until ${fixed(unit.from(to), unit.decimals)} ${unit.label}`;
  return `Gas: about ${fixed(best, 0)} min left${range}${level}`;
}

/** @param {Snapshot} snapshot */
function shellOf({ conditions, latest }) {
  const celsius = conditions?.predictedShellC;
  const measured = latest.some(({ channel, level }) => channel === 'shell' && level !== 'bad');
  if (typeof celsius !== 'number' || measured || celsius < WARM_SHELL_C) {
    return '';
  }
  const unit = temperature();
  const doubt = conditions?.predictedShellStandardUncertaintyK ?? null;
  const band = doubt === null ? '' : ` ± ${fixed(unit.step(2 * doubt), 0)}`;
  return `Shell: ${fixed(unit.from(celsius), 0)}${band} ${unit.label}, predicted, for no sensor is on it`;
}

/**
 * @param {string} id
 * @param {string} words
 */
function line(id, words) {
  const element = byId(id);
  element.hidden = words === '';
  say(element, words);
}
