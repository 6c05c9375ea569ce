/** Alarm sounds, made by the browser itself. Each priority has a rhythm of its own. */
import { recall, remember } from '../page/dom.js';
import { PATTERNS, samplesOf } from './rhythm.js';

/**
 * @typedef {import('../server/types.js').Priority} Priority
 *
 * @typedef {'works'|'blocked'|'off'|'none'} SoundState
 *   `blocked`: the browser waits for a touch; `off`: the user switched it off here; `none`: the browser has no sound
 */

/** Sounds for the gravest alarm that calls. */
export class Sound {
  /** @param {() => void} changed called when the state changes */
  constructor(changed) {
    this.changed = changed;
    /** @type {AudioContext|null} */
    this.context = typeof AudioContext === 'undefined' ? null : new AudioContext();
    this.on = recall('sound') !== 'off';
    /** @type {Priority|null} */
    this.priority = null;
    /** @type {AudioBufferSourceNode|null} */
    this.playing = null;
    /** @type {AudioBufferSourceNode|null} */
    this.trying = null;
    if (this.context) {
      this.context.addEventListener('statechange', () => {
        this.changed();
        this.restart();
      });
      // Any touch of the page is leave enough for the browser.
      const wake = () => this.unblock();
      document.addEventListener('pointerdown', wake, { passive: true });
      document.addEventListener('keydown', wake, { passive: true });
      // A phone takes the sound away for a call, and does not always give it back by itself.
      document.addEventListener('visibilitychange', wake);
    }
  }

  /** @returns {SoundState} */
  get state() {
    if (!this.context) {
      return 'none';
    }
    if (!this.on) {
      return 'off';
    }
    return this.context.state === 'running' ? 'works' : 'blocked';
  }

  unblock() {
    if (this.context && this.context.state !== 'running') {
      this.context.resume().catch(() => {});
    }
  }

  /** @param {boolean} on whether alarms sound on this device */
  turn(on) {
    this.on = on;
    remember('sound', on ? 'on' : 'off');
    if (on) {
      this.unblock();
    }
    this.changed();
    this.restart();
  }

  /** @param {Priority|null} priority of the gravest alarm that calls; null for silence */
  set(priority) {
    if (priority !== this.priority) {
      this.priority = priority;
      this.restart();
    }
  }

  /**
   * Sounds a pattern once, also while sound is off.
   *
   * @param {Priority} priority
   * @returns {Promise<boolean>} whether it sounds
   */
  async test(priority) {
    const context = this.context;
    if (!context) {
      return false;
    }
    await context.resume();
    this.trying?.stop();
    this.trying = this.play(context, priority, false);
    return context.state === 'running';
  }

  /** Sounds go round in the audio itself, not by a timer: a browser slows the timers of a page in the background. */
  restart() {
    this.playing?.stop();
    this.playing = null;
    if (this.context?.state === 'running' && this.on && this.priority) {
      this.playing = this.play(this.context, this.priority, PATTERNS[this.priority].everyS > 0);
      if (this.priority === 'critical' && 'vibrate' in navigator && navigator.userActivation?.hasBeenActive) {
        navigator.vibrate([200, 100, 200]);
      }
    }
  }

  /**
   * @param {AudioContext} context
   * @param {Priority} priority
   * @param {boolean} again until it is stopped
   */
  play(context, priority, again) {
    const samples = samplesOf(priority, context.sampleRate);
    const buffer = context.createBuffer(1, samples.length, context.sampleRate);
    buffer.copyToChannel(samples, 0);
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.loop = again;
    source.connect(context.destination);
    source.start();
    return source;
  }
}
