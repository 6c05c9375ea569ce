/** Alarm sounds, made by the browser itself. Each priority has a rhythm of its own. */

/** @typedef {import('../server/types.js').Priority} Priority */

/**
 * Tones as [start s, length s, frequency Hz], and how often they come again; 0 is once. Steep square waves between 700
 * and 1200 Hz carry over a burner's roar, which is strongest below 500 Hz (common practice, no source).
 *
 * @type {Record<Priority, {tones: [number, number, number][], everyS: number}>}
 */
const PATTERNS = {
  critical: { tones: [[0, 0.18, 1175], [0.22, 0.18, 784], [0.44, 0.18, 1175], [0.66, 0.18, 784]], everyS: 1.2 },
  high: { tones: [[0, 0.22, 932], [0.32, 0.22, 932]], everyS: 3 },
  medium: { tones: [[0, 0.3, 784]], everyS: 8 },
  low: { tones: [[0, 0.2, 698]], everyS: 0 },
};
const LOUDNESS = 0.35;

/** Sounds for the gravest alarm that calls. */
export class Sound {
  /** @param {() => void} changed called when the browser lets sound through or holds it back */
  constructor(changed) {
    this.changed = changed;
    /** @type {AudioContext|null} */
    this.context = typeof AudioContext === 'undefined' ? null : new AudioContext();
    /** @type {Priority|null} */
    this.priority = null;
    /** @type {ReturnType<typeof setInterval>|undefined} */
    this.timer = undefined;
    if (this.context) {
      this.context.addEventListener('statechange', () => {
        this.changed();
        this.restart();
      });
      // Any touch of the page is leave enough for the browser.
      const wake = () => this.unblock();
      document.addEventListener('pointerdown', wake, { passive: true });
      document.addEventListener('keydown', wake, { passive: true });
    }
  }

  /** Whether an alarm would be silent. */
  get blocked() {
    return this.context !== null && this.context.state !== 'running';
  }

  get possible() {
    return this.context !== null;
  }

  unblock() {
    if (this.context && this.context.state !== 'running') {
      this.context.resume().catch(() => {});
    }
  }

  /** @param {Priority|null} priority of the gravest alarm that calls; null for silence */
  set(priority) {
    if (priority !== this.priority) {
      this.priority = priority;
      this.restart();
    }
  }

  /** Sounds the gravest pattern once. */
  async test() {
    if (this.context) {
      await this.context.resume();
      this.play('critical');
    }
  }

  restart() {
    clearInterval(this.timer);
    const priority = this.priority;
    if (!priority) {
      return;
    }
    this.play(priority);
    const { everyS } = PATTERNS[priority];
    if (everyS > 0) {
      this.timer = setInterval(() => this.play(priority), 1000 * everyS);
    }
  }

  /** @param {Priority} priority */
  play(priority) {
    const context = this.context;
    if (!context || context.state !== 'running') {
      return;
    }
    for (const [start, length, frequency] of PATTERNS[priority].tones) {
      const tone = context.createOscillator();
      const gain = context.createGain();
      const from = context.currentTime + start;
      tone.type = 'square';
      tone.frequency.value = frequency;
      gain.gain.setValueAtTime(0, from);
      gain.gain.linearRampToValueAtTime(LOUDNESS, from + 0.01);
      gain.gain.setValueAtTime(LOUDNESS, from + length - 0.02);
      gain.gain.linearRampToValueAtTime(0, from + length);
      tone.connect(gain).connect(context.destination);
      tone.start(from);
      tone.stop(from + length + 0.02);
    }
    if (priority === 'critical' && 'vibrate' in navigator && navigator.userActivation?.hasBeenActive) {
      navigator.vibrate([200, 100, 200]);
    }
  }
}
