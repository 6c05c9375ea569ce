/** One chart of a channel over the last hours: a band from least to greatest, the mean as a line, and marks. */
import { drawBehind, drawLevels, drawMarks, palette, tickLabels, withAlpha } from './ink.js';
import { Columns } from './series.js';
import { clock, shortClock } from '../page/dom.js';
import { fixed } from '../units/units.js';

/**
 * @typedef {import('../units/units.js').Unit} Unit
 * @typedef {import('../server/types.js').Entry} Entry
 * @typedef {import('./ink.js').Behind} Behind
 * @typedef {import('./ink.js').Level} Level
 */

/** A page that nobody looks at closely enough to tell more: once a second, ms. */
const REDRAW_MS = 1000;

/** Draws through uPlot, which stands in the page as a script of its own. */
export class BurnChart {
  /**
   * @param {HTMLElement} place
   * @param {HTMLElement} caption
   * @param {string} title
   * @param {() => Unit} unit
   * @param {number} leastSpan least height of the scale in the channel's own unit, so that noise is not blown up
   */
  constructor(place, caption, title, unit, leastSpan) {
    this.place = place;
    this.caption = caption;
    this.title = title;
    this.unit = unit;
    this.leastSpan = leastSpan;
    this.columns = new Columns();
    /** @type {Level[]} */
    this.levels = [];
    /** @type {Behind|null} */
    this.behind = null;
    /** @type {Entry[]} */
    this.marks = [];
    this.spanS = 4 * 3600;
    this.toT = Date.now() / 1000;
    /** @type {any} */
    this.plot = null;
    this.drawn = 0;
    this.hovering = false;
    new ResizeObserver(() => this.resize()).observe(place);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.rebuild());
  }

  /** Builds it anew: another unit, other colours. */
  rebuild() {
    this.plot?.destroy();
    this.plot = null;
    this.draw(true);
  }

  /** @param {boolean} now at once, not only once a second */
  draw(now) {
    const at = performance.now();
    if (!now && at - this.drawn < REDRAW_MS) {
      return;
    }
    this.drawn = at;
    this.columns.trim(this.toT - this.spanS);
    const data = this.data();
    if (this.plot) {
      this.plot.setData(data);
    } else if (this.place.clientWidth > 0) {
      // @ts-ignore uPlot is a global of the script in the page
      this.plot = new globalThis.uPlot(this.options(), data, this.place);
    }
    if (!this.hovering) {
      this.summary();
    }
  }

  resize() {
    if (!this.plot) {
      this.draw(true);
    } else if (this.place.clientWidth > 0) {
      this.plot.setSize({ width: this.place.clientWidth, height: this.place.clientHeight });
    }
  }

  data() {
    const { from } = this.unit();
    /** @param {(number|null)[]} column */
    const shown = (column) => column.map((value) => (value === null ? null : from(value)));
    const { t, min, mean, max } = this.columns;
    return [t, shown(max), shown(min), shown(mean)];
  }

  /** Words for those who do not see the picture, and for a glance. */
  summary() {
    const means = this.columns.mean.filter((value) => value !== null);
    const unit = this.unit();
    if (means.length === 0) {
      this.caption.textContent = `${this.title}: nothing measured in this span`;
      return;
    }
    /** @param {number} value */
    const text = (value) => fixed(unit.from(value), unit.decimals);
    const least = this.columns.min.reduce((a, b) => (b !== null && b < /** @type {number} */ (a) ? b : a), Infinity);
    const most = this.columns.max.reduce((a, b) => (b !== null && b > /** @type {number} */ (a) ? b : a), -Infinity);
    const behind = this.behind ? `; broken line and grey band: ${this.behind.label}, 95 %` : '';
    this.caption.textContent = `${this.title}, ${unit.label}: from ${text(Number(least))} to ${text(Number(most))}${behind}`;
  }

  options() {
    const colour = palette();
    const ink = colour('--ink');
    const soft = colour('--soft');
    const rule = colour('--rule');
    const unit = this.unit();
    const font = '13px system-ui, sans-serif';
    return {
      width: this.place.clientWidth,
      height: this.place.clientHeight,
      legend: { show: false },
      cursor: { y: false, drag: { setScale: false, x: false, y: false }, sync: { key: 'burn' }, points: { show: false } },
      padding: [8, 6, 0, 0],
      scales: {
        x: { time: true, range: () => [this.toT - this.spanS, this.toT] },
        y: { range: (/** @type {any} */ _, /** @type {number|null} */ low, /** @type {number|null} */ high) => this.range(low, high) },
      },
      axes: [
        {
          stroke: soft, font, grid: { stroke: rule, width: 1 }, ticks: { show: false }, size: 28, space: 64,
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => ticks.map((t) => shortClock(t)),
        },
        {
          stroke: soft, font, grid: { stroke: rule, width: 1 }, ticks: { show: false }, size: 46, space: 34,
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks),
        },
      ],
      series: [
        {},
        { stroke: 'transparent', width: 0, points: { show: false } },
        { stroke: 'transparent', width: 0, points: { show: false } },
        { stroke: ink, width: 2, points: { show: false } },
      ],
      bands: [{ series: [1, 2], fill: withAlpha(colour('--margin'), 0.35) }],
      hooks: {
        drawAxes: [(/** @type {any} */ plot) => {
          drawLevels(plot, unit, this.levels, soft, withAlpha(colour('--pen'), 0.12));
          if (this.behind) {
            drawBehind(plot, unit, this.behind, soft, withAlpha(colour('--soft'), 0.2));
          }
        }],
        draw: [(/** @type {any} */ plot) => drawMarks(plot, this.marks.map((mark) => mark.t), colour('--pen'))],
        setCursor: [(/** @type {any} */ plot) => this.point(plot.cursor.idx)],
      },
    };
  }

  /**
   * @param {number|null} low
   * @param {number|null} high
   * @returns {[number, number]}
   */
  range(low, high) {
    const unit = this.unit();
    const zero = unit.from(0);
    const least = unit.step(this.leastSpan);
    const bottom = Math.min(low ?? zero, zero);
    const heights = this.levels.map((level) => unit.from(level.value + (level.band ?? 0)));
    const top = Math.max(high ?? bottom, bottom + least, ...heights);
    return [bottom, top + (this.levels.length > 0 ? 0.12 : 0.06) * (top - bottom)];
  }

  /** @param {number|null|undefined} index of the point under the pointer */
  point(index) {
    const mean = typeof index === 'number' ? this.columns.mean[index] : undefined;
    this.hovering = typeof mean === 'number';
    if (typeof index !== 'number' || typeof mean !== 'number') {
      this.summary();
      return;
    }
    const unit = this.unit();
    /** @param {number|null} value */
    const text = (value) => fixed(unit.from(value ?? mean), unit.decimals);
    const low = text(this.columns.min[index]);
    const high = text(this.columns.max[index]);
    const between = low === high ? '' : ` (${low} to ${high})`;
    this.caption.textContent = `${clock(this.columns.t[index])}: ${text(mean)} ${unit.label}${between}${this.expected(this.columns.t[index])}`;
  }

  /** @param {number} t what was expected then, in words; empty when nothing was */
  expected(t) {
    const { behind } = this;
    const at = behind ? behind.t.findIndex((time) => time >= t) : -1;
    if (!behind || at < 0 || (at === 0 && t < behind.t[0])) {
      return '';
    }
    const unit = this.unit();
    const [value, low, high] = [behind.value, behind.low, behind.high].map((column) => fixed(unit.from(column[at]), unit.decimals));
    return `; ${behind.label} ${value} (${low} to ${high})`;
  }
}
