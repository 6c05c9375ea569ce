/** The heat ledger over a burn: the bar of the Now screen, one line for each stretch of time, as in an account book. */
import { byId, make, say } from '../page/dom.js';
import { fixed } from '../units/units.js';

/** @typedef {import('../server/types.js').LedgerStretch} LedgerStretch */

/**
 * Uses of heat in the order of the bar.
 *
 * @type {{kind: string, key: 'openingsW'|'flueW'|'liningW'|'stockW'|'storedW', words: string, name: string}[]}
 */
const USES = [
  { kind: 'openings', key: 'openingsW', words: 'radiated out of the openings', name: 'openings' },
  { kind: 'flue', key: 'flueW', words: 'gone with the flue gas', name: 'flue' },
  { kind: 'lining', key: 'liningW', words: 'through the lining', name: 'lining' },
  { kind: 'stock', key: 'stockW', words: 'into the stock', name: 'stock' },
  { kind: 'stored', key: 'storedW', words: 'stored in the lining', name: 'stored' },
];

/** Lengths of a stretch that people count in, s. */
const STRETCHES = [15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200];
const MOST_ROWS = 14;
const J_PER_KWH = 3.6e6;

/**
 * @typedef {object} Stretch mean flows
 * @property {number} fromS
 * @property {number} toS
 * @property {number} inputW
 * @property {number[]} usesW in the order of USES
 */

/** @param {LedgerStretch[]} ledger */
export function showSpent(ledger) {
  byId('burn-spent').hidden = ledger.length === 0;
  if (ledger.length === 0) {
    return;
  }
  const lastS = ledger[ledger.length - 1].atS;
  const stepS = STRETCHES.find((step) => lastS / step <= MOST_ROWS) ?? Math.ceil(lastS / MOST_ROWS / 3600) * 3600;
  const rows = [];
  for (let fromS = 0; fromS < lastS; fromS += stepS) {
    rows.push(mean(ledger, fromS, Math.min(lastS, fromS + stepS)));
  }
  const whole = mean(ledger, 0, lastS);
  showKey(whole);
  showRows(rows);
  showNumbers([...rows, whole]);
}

/**
 * @param {LedgerStretch[]} ledger
 * @param {number} fromS
 * @param {number} toS
 * @returns {Stretch}
 */
function mean(ledger, fromS, toS) {
  let heldS = 0;
  let inputW = 0;
  const usesW = USES.map(() => 0);
  for (const entry of ledger) {
    const s = Math.min(toS, entry.atS) - Math.max(fromS, entry.fromS);
    if (s > 0) {
      heldS += s;
      inputW += s * entry.inputW;
      USES.forEach(({ key }, i) => {
        usesW[i] += s * entry[key];
      });
    }
  }
  const share = heldS > 0 ? 1 / heldS : 0;
  return { fromS, toS, inputW: inputW * share, usesW: usesW.map((w) => w * share) };
}

/** @param {Stretch} whole */
function showKey(whole) {
  const s = whole.toS - whole.fromS;
  const input = whole.inputW * s;
  const rows = USES.map(({ kind, words }, i) => {
    const joules = whole.usesW[i] * s;
    const share = input > 0 ? `, ${fixed((100 * joules) / input, 0)} %` : '';
    return make('li', {}, make('span', { class: `key-${kind}`, 'aria-hidden': 'true' }), make('span', {}, words), make('b', { 'data-use': kind }, `${kilowattHours(joules)}${share}`));
  });
  byId('spent-key').replaceChildren(
    ...rows,
    make('li', { class: 'plain sum' }, make('span', {}, 'heat input of the gas'), make('b', { 'data-use': 'input' }, kilowattHours(input))),
  );
}

/** @param {Stretch[]} rows */
function showRows(rows) {
  const most = Math.max(...rows.map((row) => Math.max(row.inputW, used(row))), 1);
  byId('spent-rows').replaceChildren(
    ...rows.map((row) => {
      const bar = make('span', { class: 'ledger' });
      row.usesW.forEach((watts, i) => {
        if (watts > 0) {
          const part = make('span', { class: USES[i].kind });
          part.style.width = `${((100 * watts) / most).toFixed(2)}%`;
          bar.append(part);
        }
      });
      const brought = make('span', { class: 'brought' });
      brought.style.left = `${((100 * row.inputW) / most).toFixed(2)}%`;
      return make('div', {}, make('span', { class: 'time' }, stretchWords(row)), make('span', { class: 'track' }, bar, brought), make('b', {}, fixed(row.inputW / 1000, 1)));
    }),
  );
  const back = rows.filter((row) => used(row) > 1.02 * row.inputW);
  say(
    byId('spent-words'),
    'Each line is a stretch of the burn, counted in minutes from gas on; the figure is the heat input in kW. The heavy upright stroke is what the gas brings: what reaches beyond it, the hot lining gives back'
      + (back.length > 0 ? `, as from ${fixed(back[0].fromS / 60, 0)} min on.` : '.'),
  );
}

/** @param {Stretch} row */
const used = (row) => row.usesW.reduce((sum, watts) => sum + Math.max(0, watts), 0);

/** @param {Stretch} row */
function stretchWords({ fromS, toS }) {
  /** @param {number} s */
  const minutes = (s) => fixed(s / 60, Number.isInteger(s / 60) ? 0 : Math.abs(s) < 600 ? 1 : 0);
  return `${minutes(fromS)}–${minutes(toS)}`;
}

/** @param {Stretch[]} rows the last is the whole */
function showNumbers(rows) {
  const head = ['min', 'heat input, kW', ...USES.map(({ name }) => name)].map((name) => make('th', { scope: 'col' }, name));
  const body = rows.map((row, i) => {
    const whole = i === rows.length - 1;
    const cells = [row.inputW, ...row.usesW].map((watts) => make('td', {}, fixed(watts / 1000, 2)));
    return make('tr', { class: whole ? 'weighty' : '' }, make('th', { scope: 'row' }, whole ? 'whole burn' : stretchWords(row)), ...cells);
  });
  byId('spent-numbers').replaceChildren(
    make('table', {}, make('caption', { class: 'unseen' }, 'Heat ledger over the burn, mean of each stretch'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...body)),
  );
}

/** @param {number} joules */
const kilowattHours = (joules) => `${fixed(joules / J_PER_KWH, 2)} kWh`;
