/** Measured against predicted: times to each temperature, the steady end, and which parameter makes the difference. */
import { byId, make } from '../page/dom.js';
import { fixed, pressure } from '../units/units.js';
import { degrees, difference, duration, termOf } from './words.js';

/** @typedef {import('../server/types.js').Fit} Fit */

/** A difference of times smaller than this is none, s. */
const SAME_S = 0.05;

/**
 * @param {Fit} fit
 * @param {number|null} targetC
 */
export function showComparison(fit, targetC) {
  const rows = (fit.milestones ?? []).map(({ chamberC, measuredS, predictedS }) =>
    row(degrees(chamberC), time(measuredS), time(predictedS), later(measuredS, predictedS)));
  const { predicted, measured } = fit;
  if (measured.timeToTargetS !== null || predicted.timeToTargetS !== null) {
    rows.push(
      row(
        targetC === null ? 'target' : `target, ${degrees(targetC)}`,
        time(measured.timeToTargetS),
        time(predicted.timeToTargetS),
        later(measured.timeToTargetS, predicted.timeToTargetS),
        timeBand(predicted.timeToTargetLow95S ?? null, predicted.timeToTargetHigh95S ?? null),
      ),
    );
  }
  if (measured.steadyC !== null || predicted.steadyC !== null) {
    rows.push(steadyRow(fit));
  }
  const head = ['reaches', 'measured', 'predicted', 'apart'].map((name) => make('th', { scope: 'col' }, name));
  byId('compare-table').replaceChildren(
    rows.length === 0
      ? make('p', { class: 'small' }, 'Nothing to compare: no temperature was reached that the prediction names.')
      : make('table', { class: 'compare' }, make('caption', { class: 'unseen' }, 'Measured against predicted'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows)),
  );
  showReasons(fit);
}

/** @param {Fit} fit */
function steadyRow({ predicted, measured, steadyGasPa }) {
  const unit = pressure();
  const gas = steadyGasPa === null || steadyGasPa === undefined ? '' : ` at ${fixed(unit.from(steadyGasPa), unit.decimals)} ${unit.label}`;
  const { steadyC, steadyLow95C, steadyHigh95C } = predicted;
  const band = typeof steadyLow95C === 'number' && typeof steadyHigh95C === 'number' ? `${degrees(steadyLow95C)} to ${degrees(steadyHigh95C)}` : '';
  return row(
    `would settle${gas}`,
    measured.steadyC === null ? 'not known' : degrees(measured.steadyC),
    steadyC === null ? 'not known' : degrees(steadyC),
    measured.steadyC === null || steadyC === null ? '' : difference(measured.steadyC - steadyC),
    band,
  );
}

/**
 * @param {string} name
 * @param {string} measured
 * @param {string} predicted
 * @param {string} apart
 * @param {string} [band] 95 % of the prediction
 */
function row(name, measured, predicted, apart, band = '') {
  return make(
    'tr',
    { class: band ? 'weighty' : '' },
    make('th', { scope: 'row' }, name),
    make('td', {}, measured),
    make('td', {}, predicted, ...(band ? [make('small', {}, band)] : [])),
    make('td', {}, apart),
  );
}

/** @param {number|null} s */
const time = (s) => (s === null ? 'not reached' : duration(s));

/**
 * @param {number|null} low
 * @param {number|null} high
 */
function timeBand(low, high) {
  if (low === null) {
    return '';
  }
  return high === null ? `from ${duration(low)}, or never` : `${duration(low)} to ${duration(high)}`;
}

/**
 * @param {number|null} measured
 * @param {number|null} predicted
 */
function later(measured, predicted) {
  if (measured === null || predicted === null) {
    return '';
  }
  const s = measured - predicted;
  return Math.abs(s) < SAME_S ? 'the same' : `${duration(Math.abs(s))} ${s > 0 ? 'later' : 'sooner'}`;
}

/** @param {Fit} fit */
function showReasons(fit) {
  const reasons = (fit.explanations ?? []).map(({ parameter, steadyK, timeToTargetS, beyondDoubt }) => {
    const effects = [];
    if (steadyK !== null && Math.abs(steadyK) >= 0.05) {
      effects.push(`settles ${difference(steadyK).replace(/^[+−]/, '')} ${steadyK > 0 ? 'higher' : 'lower'}`);
    }
    if (timeToTargetS !== null && Math.abs(timeToTargetS) >= SAME_S) {
      effects.push(`at target ${duration(Math.abs(timeToTargetS))} ${timeToTargetS > 0 ? 'later' : 'sooner'}`);
    }
    return make(
      'li',
      {},
      make('b', {}, termOf(parameter).name),
      make('span', {}, effects.length === 0 ? 'changes nothing here' : effects.join(', ')),
      make('i', {}, beyondDoubt ? 'beyond doubt' : 'within doubt'),
    );
  });
  byId('compare-why').replaceChildren(...(reasons.length > 0 ? reasons : [make('li', {}, 'No difference that a parameter explains.')]));
}
