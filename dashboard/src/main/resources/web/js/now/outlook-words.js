/** An outlook in sentences, in the viewer's units. */
import { fixed, pressure, temperature } from '../units/units.js';

/**
 * @typedef {import('../server/types.js').Figure} Figure
 * @typedef {import('../server/types.js').Idle} Idle
 * @typedef {import('../server/types.js').Outlook} Outlook
 * @typedef {import('../server/types.js').Score} Score
 */

/** Kelvin that make a sentence. */
const WORTH_A_WORD_K = 5;
/** Above the target by more than this nothing is held: it has to come down first. */
const FAR_K = 25;

/**
 * How to hold the target, or why nothing can be said.
 *
 * @param {Outlook} outlook
 * @param {string} currency
 */
export function holdWords(outlook, currency) {
  const { idle } = outlook;
  if (!idle) {
    return (outlook.doubts.find((doubt) => doubt.silencing) ?? outlook.doubts[0])?.words ?? 'Nothing can be said of what lies ahead.';
  }
  const target = degrees(idle.targetC);
  switch (idle.kind) {
    case 'heating':
      return `${target} in about ${minutesOf(idle.toTargetS)}. ${then(idle)}`;
    case 'never':
      return idle.advisedPa === null
        ? `At this pressure it does not get to ${target}.`
        : `At this pressure it does not get to ${target}; ${gauge(idle.advisedPa)} would.`;
    case 'limit-low':
      return `Turn ${turn(idle)}, the lowest at which it burns stably: the chamber ends ${above(idle)} ${target}. A smaller jet would hold it.`;
    case 'limit-high':
      return `Turn ${turn(idle)}, the highest at which it burns stably: the chamber ends ${above(idle)} ${target}. A larger jet would hold it.`;
    case 'leave':
      return `Leave the regulator: it holds ${target} on ${gasOf(idle, currency)}.`;
    default:
      return outlook.chamberC !== null && outlook.chamberC - idle.targetC > FAR_K
        ? `Turn ${turn(idle)}: the chamber comes down to ${target}, on ${gasOf(idle, currency)}.`
        : `Turn ${turn(idle)}: that holds ${target} on ${gasOf(idle, currency)}.`;
  }
}

/** @param {Idle} idle */
function then(idle) {
  const { value } = idle.advised.pressurePa;
  if (value === null) {
    return 'No pressure up to 4 bar would hold it.';
  }
  const limited = value !== idle.now.pressurePa.value ? ', as far as it burns stably' : '';
  return value === 0 ? 'It then stays above without gas for some minutes.' : `Then turn to ${withBand(idle.advised.pressurePa)}${limited}.`;
}

/** @param {Idle} idle */
function turn(idle) {
  const { advisedPa, turnPa } = idle;
  const way = (turnPa ?? 0) < 0 ? 'down' : 'up';
  const unit = pressure();
  const by = turnPa === null ? '' : ` (${fixed(Math.abs(unit.step(turnPa)), unit.decimals)} ${way})`;
  return `${way} to ${gauge(advisedPa ?? 0)}${by}`;
}

/** @param {Idle} idle */
function above(idle) {
  const kelvin = idle.aboveTargetK.value ?? 0;
  const unit = temperature();
  return `about ${fixed(Math.abs(unit.step(kelvin)), 0)} ${unit.label === '°C' ? 'K' : unit.label} ${kelvin < 0 ? 'below' : 'above'}`;
}

/**
 * @param {Idle} idle
 * @param {string} currency
 */
function gasOf(idle, currency) {
  const { kgPerHour, savedKgPerHour, savedPerHour } = idle.advised;
  const saved = savedKgPerHour === null || savedKgPerHour <= 0
    ? ''
    : `, ${fixed(savedKgPerHour, 2)} kg/h less than full burn${money(savedPerHour, currency)}`;
  const { value, low95, high95 } = kgPerHour;
  const band = low95 === null || high95 === null ? '' : ` (${fixed(low95, 2)} to ${fixed(high95, 2)})`;
  return `${value === null ? 'gas that is not known' : `${fixed(value, 2)} kg/h${band}`}${saved}`;
}

/**
 * @param {number|null} perHour
 * @param {string} currency
 */
const money = (perHour, currency) => (perHour === null || currency === '' ? '' : ` (${fixed(perHour, 2)} ${currency}/h)`);

/**
 * Where the chamber goes by itself; empty when nothing can be said.
 *
 * @param {Outlook} outlook
 */
export function settlingWords({ settling, chamberC }) {
  if (!settling || chamberC === null) {
    return '';
  }
  const { steadyC, untilS, soakedC } = settling;
  const end = soakedC.value === null ? '' : `; soaked, hours later, ${degrees(soakedC.value)}${range(soakedC)}`;
  if (settling.already) {
    const creeps = soakedC.value !== null && Math.abs(soakedC.value - chamberC) >= WORTH_A_WORD_K;
    return `At this pressure it is steady${creeps ? end : ''}.`;
  }
  if (steadyC.value === null) {
    return `At this pressure it is not steady for hours${end}.`;
  }
  return `At this pressure it settles near ${degrees(steadyC.value)}${range(steadyC)} in ${minutesOf(untilS)}${end}.`;
}

/** @param {Figure} celsius */
function range({ low95, high95 }) {
  const unit = temperature();
  return low95 === null || high95 === null ? '' : ` (${fixed(unit.from(low95), 0)} to ${fixed(unit.from(high95), 0)})`;
}

/**
 * How earlier forecasts did.
 *
 * @param {Score} score
 */
export function scoreWords({ count, rmsErrorK, shareInBand }) {
  if (count === 0 || rmsErrorK === null || shareInBand === null) {
    return 'No forecast could be compared with what happened yet: one is compared after each touch of the regulator, when the chamber has settled.';
  }
  const unit = temperature();
  const size = `${fixed(unit.step(rmsErrorK), 0)} ${unit.label === '°C' ? 'K' : unit.label}`;
  const within = Math.round(shareInBand * count);
  return count === 1
    ? `The one forecast that could be compared was off by ${size}, ${within === 1 ? 'inside' : 'outside'} its band.`
    : `${count} forecasts could be compared: off by ${size} (root mean square), ${within} of them inside their bands.`;
}

/** @param {number} celsius */
export function degrees(celsius) {
  const unit = temperature();
  return `${fixed(unit.from(celsius), unit.decimals)} ${unit.label}`;
}

/** @param {number} pascals */
export function gauge(pascals) {
  const unit = pressure();
  return `${fixed(unit.from(pascals), unit.decimals)} ${unit.label}`;
}

/** @param {Figure} pascals */
export function withBand({ value, low95, high95 }) {
  const unit = pressure();
  const band = low95 === null || high95 === null
    ? ''
    : ` (${fixed(unit.from(low95), unit.decimals)} to ${fixed(unit.from(high95), unit.decimals)})`;
  return value === null ? 'not known' : `${gauge(value)}${band}`;
}

/** @param {Figure} seconds */
export function minutesOf({ value, low95, high95 }) {
  if (value === null) {
    return 'hours';
  }
  const minutes = (/** @type {number} */ s) => fixed(s / 60, 0);
  if (low95 === null) {
    return `${minutes(value)} min`;
  }
  if (high95 === null) {
    return `${minutes(value)} min (at least ${minutes(low95)})`;
  }
  return minutes(low95) === minutes(high95) ? `${minutes(value)} min` : `${minutes(value)} min (${minutes(low95)} to ${minutes(high95)})`;
}
