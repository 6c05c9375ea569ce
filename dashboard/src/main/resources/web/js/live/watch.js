/** Notices that the daemon has fallen silent, and tells that from a phone that was asleep. */

/** The daemon speaks every 2 s; two words missed and one to spare. */
export const SILENCE_MS = 5000;
/** The worker's beat stopped for this long: it could not be started, and the page beats for itself, ms. */
const BEAT_LOST_MS = 1500;
const LOOK_EVERY_MS = 500;
/** A page whose own clock jumped by this much was asleep and knows nothing of the daemon. */
const ASLEEP_MS = 3000;

/** Watches the time since the last word. */
export class Watch {
  /**
   * @param {object} heard
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
    this.beat();
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible' && performance.now() - this.lastWord > ASLEEP_MS) {
        this.wake();
      }
    });
  }

  /** A worker beats, and the page itself where there is none. */
  beat() {
    let beaten = -Infinity;
    try {
      new Worker(new URL('./tick.js', import.meta.url)).addEventListener('message', () => {
        beaten = performance.now();
        this.look();
      });
    } catch {
      // No worker, no beat: the page's own timer below does it alone.
    }
    setInterval(() => {
      if (performance.now() - beaten > BEAT_LOST_MS) {
        this.look();
      }
    }, LOOK_EVERY_MS);
  }

  /** Time since the last word, s. */
  get silentS() {
    return (performance.now() - this.lastWord) / 1000;
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
