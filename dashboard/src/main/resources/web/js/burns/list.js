/** The burns of a forge, month by month, newest first. */
import { byId, longDay, make, month, shortClock, span, zone } from '../page/dom.js';
import { glowColour } from '../now/glow.js';
import { fixed } from '../units/units.js';
import { degrees, seconds, withInterval } from './words.js';

/**
 * @typedef {import('../server/types.js').Burn} Burn
 * @typedef {import('../server/types.js').BurnLoss} BurnLoss
 */

const SVG = 'http://www.w3.org/2000/svg';

/**
 * @param {Burn[]} burns newest first
 * @param {Map<string, BurnLoss>} losses by burn
 * @param {string} currency
 */
export function showList(burns, losses, currency) {
  /** @type {Map<string, Burn[]>} */
  const months = new Map();
  for (const burn of burns) {
    const name = month(seconds(burn.start));
    months.set(name, [...(months.get(name) ?? []), burn]);
  }
  byId('burns-months').replaceChildren(
    ...[...months].map(([name, ofMonth]) =>
      make(
        'section',
        { class: 'month' },
        make('h3', {}, name, make('small', {}, ` ${sums(ofMonth, currency)}`)),
        make('ol', { class: 'burn-rows' }, ...ofMonth.map((burn) => row(burn, losses.get(burn.id), currency))),
      ),
    ),
  );
}

/**
 * @param {Burn[]} burns
 * @param {string} currency
 */
function sums(burns, currency) {
  const count = `${burns.length} ${burns.length === 1 ? 'burn' : 'burns'} shown`;
  const kg = burns.reduce((sum, burn) => sum + (burn.gasUsedKg ?? 0), 0);
  const cost = burns.reduce((sum, burn) => sum + (burn.gasCost ?? 0), 0);
  const gas = kg > 0 ? `, ${fixed(kg, 1)} kg gas` : '';
  return count + gas + (cost > 0 && currency ? `, ${fixed(cost, 2)} ${currency}` : '');
}

/**
 * @param {Burn} burn
 * @param {BurnLoss|undefined} loss
 * @param {string} currency
 */
function row(burn, loss, currency) {
  const start = seconds(burn.start);
  const link = make(
    'a',
    { class: 'burn-row', href: `#burns/${encodeURIComponent(burn.id)}` },
    make('span', { class: 'when' }, make('b', {}, longDay(start)), ` ${shortClock(start)} ${zone(start)}`),
    swatch(burn.peakC),
    cell('highest', burn.peakC === null ? 'not known' : degrees(burn.peakC)),
    cell('lasted', burn.end === null ? 'still burning' : span(seconds(burn.end) - start)),
    cell('gas', gasWords(burn, currency)),
    lossCell(loss),
  );
  return make('li', {}, link);
}

/**
 * @param {string} label
 * @param {string} value
 * @param {string} [aside]
 */
const cell = (label, value, aside = '') =>
  make('span', { class: `cell ${label}` }, make('i', {}, `${label} `), make('b', {}, value), ...(aside ? [' ', make('small', {}, aside)] : []));

/** @param {BurnLoss|undefined} loss */
function lossCell(loss) {
  if (!loss) {
    return cell('loses', 'not known');
  }
  const { value, interval } = withInterval(loss.lossWPerK, loss.low95, loss.high95);
  return cell('loses', `${value} W/K`, `${interval} at ${degrees(loss.atC)}`);
}

/**
 * @param {Burn} burn
 * @param {string} currency
 */
export function gasWords(burn, currency) {
  if (burn.gasUsedKg === null) {
    return 'not known';
  }
  const cost = burn.gasCost !== null && currency ? `, ${fixed(burn.gasCost, 2)} ${currency}` : '';
  return `${fixed(burn.gasUsedKg, 2)} kg${cost}`;
}

/**
 * A short bar in the colour of the greatest heat, beside its figure.
 *
 * @param {number|null} peakC
 */
function swatch(peakC) {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 60 14');
  svg.setAttribute('class', 'swatch');
  svg.setAttribute('aria-hidden', 'true');
  const bar = document.createElementNS(SVG, 'path');
  bar.setAttribute('d', 'M1 1H44Q53 3 59 7Q53 11 44 13H1Z');
  bar.style.fill = peakC === null ? '' : glowColour(peakC);
  svg.append(bar);
  return svg;
}
