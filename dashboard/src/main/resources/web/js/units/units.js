/** The units that the viewer reads in. The server always speaks °C and Pa. */
import { recall, remember } from '../page/dom.js';

/**
 * @typedef {object} Unit
 * @property {string} label
 * @property {(coherent: number) => number} from °C or Pa to this unit
 * @property {(difference: number) => number} step a difference in K or Pa to this unit
 * @property {number} decimals sensible digits after the point
 */

/** @type {Record<string, Unit>} */
const TEMPERATURE = {
  C: { label: '°C', from: (c) => c, step: (k) => k, decimals: 0 },
  F: { label: '°F', from: (c) => c * 1.8 + 32, step: (k) => k * 1.8, decimals: 0 },
};

/**
 * Pound per square inch and conventional inch of water as in NIST SP 811, appendix B.
 *
 * @type {Record<string, Unit>}
 */
const PRESSURE = {
  kPa: scaled('kPa', 1e3, 1),
  bar: scaled('bar', 1e5, 2),
  psi: scaled('psi', 6894.757, 1),
  inH2O: scaled('inH₂O', 249.08891, 0),
};

/**
 * Inch: exact by the international yard and pound agreement of 1959. The server's lengths are in mm.
 *
 * @type {Record<string, Unit>}
 */
const LENGTH = {
  mm: scaled('mm', 1, 1),
  in: scaled('in', 25.4, 3),
};

/** @type {Set<() => void>} */
const listeners = new Set();

let temperatureChosen = known(recall('unit.temperature'), TEMPERATURE, 'C');
let pressureChosen = known(recall('unit.pressure'), PRESSURE, 'bar');

/** By what key the server knows the unit of temperature. */
export const temperatureKey = () => temperatureChosen;

/** By what key the server knows the unit of pressure. */
export const pressureKey = () => pressureChosen;

/** @returns {Unit} */
export const temperature = () => TEMPERATURE[temperatureChosen];

let lengthKey = known(recall('unit.length'), LENGTH, 'mm');

/** @returns {Unit} of mm */
export const length = () => LENGTH[lengthKey];

/**
 * Fills a select with the units of length and follows it.
 *
 * @param {HTMLSelectElement} lengths
 */
export function offerLengths(lengths) {
  fill(lengths, LENGTH, lengthKey, (key) => {
    lengthKey = key;
    remember('unit.length', key);
  });
}

/** @returns {Unit} */
export const pressure = () => PRESSURE[pressureChosen];

/**
 * A number with sensible digits.
 *
 * @param {number} value
 * @param {number} decimals
 */
export function fixed(value, decimals) {
  const text = value.toFixed(decimals);
  // A minus before zero says nothing.
  return (Number(text) === 0 ? (0).toFixed(decimals) : text).replace('-', '−');
}

/** @param {() => void} listener called when the viewer takes another unit */
export function onChange(listener) {
  listeners.add(listener);
}

/**
 * Fills the two selects and follows them.
 *
 * @param {HTMLSelectElement} temperatures
 * @param {HTMLSelectElement} pressures
 */
export function offer(temperatures, pressures) {
  fill(temperatures, TEMPERATURE, temperatureChosen, (key) => {
    temperatureChosen = key;
    remember('unit.temperature', key);
  });
  fill(pressures, PRESSURE, pressureChosen, (key) => {
    pressureChosen = key;
    remember('unit.pressure', key);
  });
}

/**
 * @param {HTMLSelectElement} select
 * @param {Record<string, Unit>} units
 * @param {string} chosen
 * @param {(key: string) => void} take
 */
function fill(select, units, chosen, take) {
  for (const [key, unit] of Object.entries(units)) {
    select.add(new Option(unit.label, key, false, key === chosen));
  }
  select.addEventListener('change', () => {
    take(select.value);
    listeners.forEach((listener) => listener());
  });
}

/**
 * @param {string} label
 * @param {number} pascals of one such unit
 * @param {number} decimals
 * @returns {Unit}
 */
function scaled(label, pascals, decimals) {
  return { label, from: (pa) => pa / pascals, step: (pa) => pa / pascals, decimals };
}

/**
 * @param {string|null} key
 * @param {Record<string, Unit>} units
 * @param {string} usual
 */
function known(key, units, usual) {
  return key !== null && Object.hasOwn(units, key) ? key : usual;
}
