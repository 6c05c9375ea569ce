/** Words and figures of the Burns screen. A figure and its unit are not parted at the end of a line. */
import { fixed, temperature } from '../units/units.js';

/**
 * What the trade calls what a fit finds.
 *
 * @typedef {object} Term
 * @property {string} name at the head of a line
 * @property {string} inSentence
 * @property {string} meaning
 * @property {string} unit after a figure
 * @property {number} times figures of the server by this
 */

/** @type {Record<string, Term>} */
const TERMS = {
  heatReleaseFactor: term('Heat released', 'the heat released', 'of what jet and pressure should give', '× described', 1),
  mixture: term('Mixture', 'the mixture', 'air to fuel, λ: below 1 rich, above 1 lean', 'λ', 1),
  liningConductivityScale: term('Lining conductivity', 'the lining’s conductivity', 'how readily heat passes through', '× described', 1),
  liningCapacityScale: term('Lining heat capacity', 'the lining’s heat capacity', 'heat it takes to warm through', '× described', 1),
  effectiveOpeningArea: term('Opening area', 'the area of the openings', 'as large as they radiate', 'cm²', 1e4),
  sensorLag: term('Probe lag', 'the probe’s lag', 'how far the thermocouple runs behind', 's', 1),
  flameConvection: term('Flame on the wall', 'how the flame plays on the wall', 'how hard it blows heat into the lining', '× described', 1),
  flameEmissivity: term('Glow of the flame', 'the glow of the flame', 'how much heat it radiates', '× described', 1),
  draught: term('Draught', 'the draught', 'air through the openings, against a room on fire', '', 1),
  probeConvection: term('Flame on the probe', 'how the flame plays on the probe', 'how far it heats the thermocouple above the wall', '× described', 1),
};

/**
 * @param {string} name
 * @param {string} inSentence
 * @param {string} meaning
 * @param {string} unit
 * @param {number} times
 * @returns {Term}
 */
function term(name, inSentence, meaning, unit, times) {
  return { name, inSentence, meaning, unit, times };
}

/**
 * @param {string} parameter its name in the server's answers
 * @param {string} [unit] there
 * @returns {Term}
 */
export function termOf(parameter, unit = '1') {
  if (Object.hasOwn(TERMS, parameter)) {
    return TERMS[parameter];
  }
  const spelt = parameter.replace(/([A-Z])/g, ' $1').toLowerCase();
  return term(spelt, spelt, '', unit === '1' ? '' : unit, 1);
}

/**
 * A sentence of the server, in the trade's words and the viewer's unit of temperature.
 *
 * @param {string} text
 */
export function retold(text) {
  const unit = temperature();
  // Names that are also words of the language are parameters only where something is put down to them.
  const named = Object.keys(TERMS).reduce(
    (words, name) =>
      /[A-Z]/.test(name) ? words.replaceAll(name, TERMS[name].inSentence) : words.replace(new RegExp(`\\bby ${name}\\b`, 'g'), `by ${TERMS[name].inSentence}`),
    text,
  );
  if (unit.label === '°C') {
    return named;
  }
  return named
    .replace(/([+−-]?\d+(?:\.\d+)?) °C/g, (_, figure) => `${fixed(unit.from(asNumber(figure)), 0)} ${unit.label}`)
    .replace(/([+−-]?)(\d+(?:\.\d+)?) K(?![\w/])/g, (_, sign, figure) => `${sign}${fixed(unit.step(Number(figure)), 0)} ${unit.label}`);
}

/** @param {string} figure */
const asNumber = (figure) => Number(figure.replace('−', '-'));

/**
 * Digits after the point that an interval lets mean something: two when its half width begins with 1, else one.
 *
 * @param {number} half half the width of the interval
 */
export function digits(half) {
  if (!(half > 0)) {
    return 2;
  }
  const exponent = Math.floor(Math.log10(half));
  const first = half / 10 ** exponent;
  return Math.min(4, Math.max(0, -exponent + (first < 2 ? 1 : 0)));
}

/**
 * A value and its interval with digits that mean something.
 *
 * @param {number|null} value
 * @param {number|null} low
 * @param {number|null} high
 * @returns {{value: string, interval: string}}
 */
export function withInterval(value, low, high) {
  if (value === null) {
    return { value: 'not known', interval: '' };
  }
  if (low === null || high === null) {
    return { value: fixed(value, 2), interval: 'interval not known' };
  }
  const after = digits((high - low) / 2);
  return { value: fixed(value, after), interval: `${fixed(low, after)} to ${fixed(high, after)}` };
}

/**
 * A length of time, exact enough to compare.
 *
 * @param {number} seconds
 */
export function duration(seconds) {
  if (seconds < 9.95) {
    return `${fixed(seconds, 1)}\u00a0s`;
  }
  const whole = Math.round(seconds);
  if (whole < 60) {
    return `${whole}\u00a0s`;
  }
  const pad = (/** @type {number} */ part) => String(part).padStart(2, '0');
  if (whole < 3600) {
    return `${Math.floor(whole / 60)}\u00a0min ${pad(whole % 60)}\u00a0s`;
  }
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)}\u00a0h ${pad(minutes % 60)}\u00a0min`;
}

/** @param {number} celsius */
export function degrees(celsius) {
  const unit = temperature();
  return `${fixed(unit.from(celsius), unit.decimals)}\u00a0${unit.label}`;
}

/** Kelvin, or the viewer's degrees where he reads in others. */
export const stepLabel = () => (temperature().label === '°C' ? 'K' : temperature().label);

/**
 * A difference of temperatures with its sign.
 *
 * @param {number} kelvin
 */
export function difference(kelvin) {
  const step = temperature().step(kelvin);
  const text = fixed(step, Math.abs(step) < 10 ? 1 : 0);
  return `${step > 0 && Number(text) !== 0 ? '+' : ''}${text}\u00a0${stepLabel()}`;
}

/** @param {string} iso */
export const seconds = (iso) => Date.parse(iso) / 1000;

/** @param {unknown} failure */
export const message = (failure) => (failure instanceof Error ? failure.message : String(failure));
