/** Entries of the log in words. */
import { actInWords } from '../alarms/names.js';
import { recall } from '../page/dom.js';

/** @typedef {import('../server/types.js').Said} Said */

/** Settings that the monitor keeps for itself to outlast a restart; they say nothing to a reader. */
const KEPT = ['setting-wire-hours', 'setting-first-fire'];

/** @type {Record<string, string>} */
const NAMES = {
  'setting-lowest-stable': 'burns unsteadily below',
  'setting-highest-stable': 'burns unsteadily above',
  cylinder: 'cylinder weighed:',
};

/**
 * Without what the monitor wrote down for itself.
 *
 * @template {{name: string}} T
 * @param {T[]} entries
 */
export const forReaders = (entries) => entries.filter((entry) => !KEPT.includes(entry.name));

/**
 * The name of a setting as people say it.
 *
 * @param {string} name
 */
export const nameInWords = (name) => NAMES[name] ?? name.replace(/^setting-/, '').replace(/^possible-/, 'possible ').replaceAll('-', ' ');

/** By the international yard and pound agreement of 1959. */
const KG_PER_LB = 0.45359237;

/**
 * What an entry says beside its name; a weighing in the unit that the viewer weighs in.
 *
 * @param {Said} said
 * @param {string} name
 */
export function valueOf(said, name) {
  if (said.value !== undefined) {
    return `${said.value} ${said.unit ?? ''}`.trim();
  }
  const kg = name === 'cylinder' ? Number(/^([\d.]+) kg$/.exec(said.text ?? '')?.[1]) : NaN;
  if (Number.isNaN(kg)) {
    return said.text ?? '';
  }
  return recall('unit.mass') === 'lb' ? `${Number((kg / KG_PER_LB).toFixed(2))} lb` : `${Number(kg.toFixed(3))} kg`;
}

/**
 * What was written down, in words.
 *
 * @param {{name: string} & Said} entry
 */
export function words(entry) {
  if (entry.name === 'stock') {
    return `stock ${entry.text}`;
  }
  const act = actInWords(entry.name, entry.text ?? '');
  if (act) {
    return act;
  }
  if (entry.name === 'clock-step') {
    const seconds = Number(entry.text);
    return `The daemon’s clock was set ${seconds < 0 ? 'back' : 'forward'} by ${Math.abs(seconds)} s.`;
  }
  if (entry.value !== undefined || entry.name === 'cylinder') {
    return `${nameInWords(entry.name)} ${valueOf(entry, entry.name)}`;
  }
  return entry.name === 'note' ? (entry.text ?? '') : `${entry.name}: ${entry.text}`;
}
