/** A channel's series in columns, thinned by the server and carried on by the live stream. */

/** @typedef {import('../server/types.js').Series} Series */

/** Columns of time, least, mean and greatest value. */
export class Columns {
  constructor() {
    /** @type {number[]} */
    this.t = [];
    /** @type {(number|null)[]} */
    this.min = [];
    /** @type {(number|null)[]} */
    this.mean = [];
    /** @type {(number|null)[]} */
    this.max = [];
    this.stepS = 1;
    /** Readings in the last column while it grows. */
    this.count = 0;
    this.lastT = 0;
  }

  /** @param {Series} series */
  load(series) {
    this.stepS = Math.max(series.stepS, 0.25);
    this.t = [];
    this.min = [];
    this.mean = [];
    this.max = [];
    for (let i = 0; i < series.t.length; i++) {
      this.gap(series.t[i]);
      this.push(series.t[i], series.min[i], series.mean[i], series.max[i]);
    }
    this.count = 0;
    this.lastT = this.t.length === 0 ? 0 : series.t[series.t.length - 1];
  }

  /**
   * Adds a reading of the live stream.
   *
   * @param {number} t
   * @param {number} value
   */
  append(t, value) {
    if (t <= this.lastT) {
      return;
    }
    this.lastT = t;
    const last = this.t.length - 1;
    if (this.count > 0 && t - this.t[last] < this.stepS) {
      this.count++;
      this.min[last] = Math.min(/** @type {number} */ (this.min[last]), value);
      this.max[last] = Math.max(/** @type {number} */ (this.max[last]), value);
      const mean = /** @type {number} */ (this.mean[last]);
      this.mean[last] = mean + (value - mean) / this.count;
      return;
    }
    this.gap(t);
    this.push(t, value, value, value);
    this.count = 1;
  }

  /** @param {number} from what is older is dropped, so that a page left open for days does not grow */
  trim(from) {
    let first = 0;
    while (first < this.t.length && this.t[first] < from) {
      first++;
    }
    if (first > 0) {
      for (const column of [this.t, this.min, this.mean, this.max]) {
        column.splice(0, first);
      }
    }
  }

  /**
   * Where nothing was measured, no line is drawn.
   *
   * @param {number} t
   */
  gap(t) {
    const last = this.t[this.t.length - 1];
    if (last !== undefined && t - last > Math.max(5 * this.stepS, 15)) {
      this.push(last + this.stepS, null, null, null);
    }
  }

  /**
   * @param {number} t
   * @param {number|null} min
   * @param {number|null} mean
   * @param {number|null} max
   */
  push(t, min, mean, max) {
    this.t.push(t);
    this.min.push(min);
    this.mean.push(mean);
    this.max.push(max);
  }
}
