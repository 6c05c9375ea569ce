/** The heat ledger: where the heat input goes right now, as far as it is known. */
import { byId, make } from '../page/dom.js';
import { fixed } from '../units/units.js';

/** @typedef {import('../server/types.js').Snapshot} Snapshot */

/** Shows the bar and its key. */
export class Ledger {
  constructor() {
    this.bar = byId('ledger');
    this.openings = byId('ledger-openings');
    this.rest = byId('ledger-rest');
    this.key = byId('ledger-key');
    this.shown = '';
  }

  /** @param {Snapshot} snapshot */
  show(snapshot) {
    const { inputW, openingsW } = snapshot.ledger;
    const known = openingsW !== null;
    if (inputW === null || inputW <= 0) {
      this.widths(0, 0);
      const none = snapshot.flame === 'out' ? 'The gas does not burn: no heat input.' : 'No gas, no heat input.';
      const words = inputW === null ? 'The heat input is not known.' : none;
      this.list(known && openingsW >= 50 ? [['', `${words} Still radiating out of the openings`, kilowatts(openingsW)]] : [['', words, '']]);
      return;
    }
    const out = known ? openingsW : 0;
    const share = Math.min(1, out / inputW);
    this.widths(100 * share, 100 - 100 * share);
    if (out > inputW) {
      this.list([
        ['key-openings', 'radiated out of the openings: more than the gas brings, so the lining is giving heat back', kilowatts(out)],
      ]);
      return;
    }
    this.list([
      ['key-openings', known ? 'radiated out of the openings' : 'out of the openings: not known', known ? `${kilowatts(out)}, ${percent(share)}` : ''],
      ['key-rest', 'flue, lining and stored heat, not told apart yet', `${kilowatts(inputW - out)}, ${percent(1 - share)}`],
    ]);
  }

  /**
   * @param {number} openings percent
   * @param {number} rest percent
   */
  widths(openings, rest) {
    this.openings.style.width = `${openings.toFixed(1)}%`;
    this.openings.hidden = openings === 0;
    this.bar.hidden = openings + rest === 0;
    this.rest.style.width = `${rest.toFixed(1)}%`;
  }

  /** @param {[string, string, string][]} rows class of the sample, words, figure */
  list(rows) {
    const key = JSON.stringify(rows);
    if (key === this.shown) {
      return;
    }
    this.shown = key;
    this.key.replaceChildren(
      ...rows.map(([sample, words, figure]) =>
        sample
          ? make('li', {}, make('span', { class: sample, 'aria-hidden': 'true' }), make('span', {}, words), make('b', {}, figure))
          : make('li', { class: 'plain' }, make('span', {}, words), make('b', {}, figure)),
      ),
    );
  }
}

/** @param {number} watts */
const kilowatts = (watts) => `${fixed(watts / 1000, 1)} kW`;

/** @param {number} share */
const percent = (share) => `${fixed(100 * share, 0)} %`;
