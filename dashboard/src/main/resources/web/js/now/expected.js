/** The predicted curve of the burn that goes on, with its band: behind the measured line of the chart. */
import { get, of } from '../server/api.js';
import { seconds } from '../burns/words.js';

/**
 * @typedef {import('../chart/ink.js').Behind} Behind
 * @typedef {import('../server/types.js').Moment} Moment
 * @typedef {import('../server/types.js').Outlook} Outlook
 */

/** The daemon fits a burn that goes on every minute or so, ms. */
const EVERY_MS = 60_000;
/** After a failure, ms. */
const SOON_MS = 15_000;

/** Keeps the curve of one forge. */
export class Expected {
  /** @param {(behind: Behind|null) => void} changed */
  constructor(changed) {
    this.changed = changed;
    this.forge = '';
    this.burn = '';
    this.nextAt = 0;
    this.shown = false;
  }

  /** @param {string} forge whose curve it is from now on */
  open(forge) {
    this.forge = forge;
    this.burn = '';
    this.clear();
  }

  clear() {
    this.nextAt = 0;
    if (this.shown) {
      this.shown = false;
      this.changed(null);
    }
  }

  /** @param {Outlook|null} outlook as it comes, every few seconds: asks only now and then, and when there is a fit */
  async take(outlook) {
    const burn = outlook?.hasFit ? outlook.burn : '';
    if (burn !== this.burn) {
      this.burn = burn;
      this.clear();
    }
    if (burn === '' || performance.now() < this.nextAt) {
      return;
    }
    this.nextAt = performance.now() + EVERY_MS;
    const { forge } = this;
    try {
      const fit = await get(of(forge, 'fit'));
      if (forge === this.forge && burn === this.burn) {
        this.shown = true;
        this.changed(behind(fit.curve, seconds(fit.start)));
      }
    } catch {
      // That the daemon is away is said elsewhere.
      this.nextAt = performance.now() + SOON_MS;
    }
  }
}

/**
 * @param {Moment[]} curve
 * @param {number} startT gas on, seconds since 1970
 * @returns {Behind|null}
 */
function behind(curve, startT) {
  const told = curve.filter(({ predictedC }) => predictedC !== null);
  return told.length === 0
    ? null
    : {
        label: 'as described',
        t: told.map(({ tS }) => startT + tS),
        value: told.map(({ predictedC }) => Number(predictedC)),
        low: told.map(({ low95C, predictedC }) => low95C ?? Number(predictedC)),
        high: told.map(({ high95C, predictedC }) => high95C ?? Number(predictedC)),
      };
}
