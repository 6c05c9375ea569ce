/** What lies ahead: one sentence on how to hold the target, one on where the chamber goes; the curves on demand. */
import { byId, say } from '../page/dom.js';
import { unpressed } from '../page/press.js';
import { get, of } from '../server/api.js';
import { holdWords, scoreWords, settlingWords } from './outlook-words.js';

/**
 * @typedef {import('../server/types.js').Outlook} Outlook
 * @typedef {import('../server/types.js').OutlookAnswer} OutlookAnswer
 * @typedef {import('../server/types.js').Snapshot} Snapshot
 */

/** The daemon looks ahead about as often, ms. */
const EVERY_MS = 5000;

/** Keeps the section of one forge. */
export class OutlookSection {
  /** @param {(outlook: Outlook|null) => void} heard hears each answer */
  constructor(heard) {
    this.heard = heard;
    this.section = byId('ahead');
    this.details = /** @type {HTMLDetailsElement} */ (byId('ahead-details'));
    this.forge = '';
    this.nextAt = 0;
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    /** @type {OutlookAnswer|null} */
    this.answer = null;
    /** @type {import('./outlook-details.js').OutlookDetails|null} */
    this.shown = null;
    this.pauseS = '';
    this.details.addEventListener('toggle', () => this.unfold());
  }

  /** @param {string} forge whose outlook it is from now on */
  open(forge) {
    this.asked++;
    this.forge = forge;
    this.answer = null;
    this.nextAt = 0;
    this.section.hidden = true;
    this.heard(null);
  }

  /**
   * Called several times a second: asks only now and then.
   *
   * @param {Snapshot} snapshot
   */
  take(snapshot) {
    if (snapshot.burn?.end !== null) {
      if (this.answer) {
        this.open(this.forge);
      }
      return;
    }
    if (performance.now() >= this.nextAt) {
      this.ask();
    }
  }

  async ask() {
    this.nextAt = performance.now() + EVERY_MS;
    const { forge, pauseS } = this;
    const asked = ++this.asked;
    /** @type {OutlookAnswer|null} */
    let answer = null;
    try {
      answer = await get(of(forge, pauseS === '' ? 'outlook' : `outlook?pauseS=${pauseS}`));
    } catch {
      // That the daemon is away is said elsewhere; what was said of the future is stale by now.
    }
    if (asked === this.asked) {
      this.answer = answer;
      this.heard(answer?.outlook ?? null);
      this.render();
    }
  }

  /** Also when another unit is taken. */
  render() {
    unpressed(this, () => this.draw());
  }

  draw() {
    const outlook = this.answer?.outlook;
    this.section.hidden = !outlook;
    if (!outlook || !this.answer) {
      return;
    }
    say(byId('ahead-hold'), holdWords(outlook, this.answer.currency));
    const doubt = outlook.idle ? (outlook.doubts[0]?.words ?? '') : '';
    byId('ahead-doubt').hidden = doubt === '';
    say(byId('ahead-doubt'), doubt);
    const settling = settlingWords(outlook);
    byId('ahead-settling').hidden = settling === '';
    say(byId('ahead-settling'), settling);
    say(byId('ahead-score'), scoreWords(this.answer.score));
    this.details.hidden = outlook.idle === null && outlook.settling === null;
    this.shown?.show(this.answer);
  }

  /** What few look at is fetched when it is looked at. */
  async unfold() {
    if (!this.details.open) {
      return;
    }
    if (!this.shown) {
      const { OutlookDetails } = await import('./outlook-details.js');
      this.shown = new OutlookDetails((pauseS) => {
        this.pauseS = pauseS;
        this.ask();
      });
    }
    if (this.answer) {
      this.shown.show(this.answer);
    }
  }
}
