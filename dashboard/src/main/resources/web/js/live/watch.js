/** Notices that the daemon has fallen silent, and tells that from a phone that was asleep. */

/** The daemon speaks every 2 s; two words missed and one to spare. */
export const SILENCE_MS = 5000;
const LOOK_EVERY_MS = 500;
/** A page whose own clock jumped by this much was asleep and knows nothing of the daemon. */
const ASLEEP_MS = 3000;

/** Watches the time since the last word. */
export class Watch {
  /**
   * @param {object} heard
   * @param {(silentMs: number) => void} heard.silent again and again while the daemon is silent
   * @param {() => void} heard.back with its first word afterwards
   * @param {() => void} heard.awake after the page was asleep
   * @param {() => void} heard.tick twice a second
   */
  constructor(heard) {
    this.heard = heard;
    this.lastWord = performance.now();
    // The civil clock, for the other one stands still on some phones while they sleep.
    this.lastLook = Date.now();
    this.gone = false;
    setInterval(() => this.look(), LOOK_EVERY_MS);
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible' && performance.now() - this.lastWord > ASLEEP_MS) {
        this.wake();
      }
    });
  }

  /** The daemon said something. */
  word() {
    this.lastWord = performance.now();
    if (this.gone) {
      this.gone = false;
      this.heard.back();
    }
  }

  look() {
    if (Date.now() - this.lastLook > ASLEEP_MS && !this.gone) {
      this.wake();
    }
    this.lastLook = Date.now();
    const now = performance.now();
    if (now - this.lastWord > SILENCE_MS) {
      this.gone = true;
      this.heard.silent(now - this.lastWord);
    }
    this.heard.tick();
  }

  wake() {
    // A new deadline: the silence was this page's own.
    if (!this.gone) {
      this.lastWord = performance.now();
    }
    this.lastLook = Date.now();
    this.heard.awake();
  }
}
