/** What all charts draw alike: colours of the sheet, labels of an axis, marks of what was written down. */
import { fixed } from '../units/units.js';

/**
 * @typedef {import('../units/units.js').Unit} Unit
 *
 * @typedef {object} Level a height marked in the chart
 * @property {string} label
 * @property {number} value in the channel's own unit
 * @property {number} [band] half its width; none for a line
 * @property {number[]} dash
 *
 * @typedef {object} Behind a curve with its band that lies behind the measured line, in the channel's own unit
 * @property {string} label
 * @property {number[]} t seconds since 1970
 * @property {number[]} value
 * @property {number[]} low
 * @property {number[]} high
 */

/**
 * The colours in force, by day or by night.
 *
 * @returns {(name: string) => string} from a custom property to its colour
 */
export function palette() {
  const style = getComputedStyle(document.documentElement);
  return (name) => style.getPropertyValue(name).trim();
}

/**
 * @param {string} hex #rrggbb
 * @param {number} alpha
 */
export function withAlpha(hex, alpha) {
  const value = Number.parseInt(hex.slice(1), 16);
  return `rgb(${value >> 16} ${(value >> 8) & 255} ${value & 255} / ${alpha})`;
}

/** @param {number[]} ticks */
export function tickLabels(ticks) {
  const step = ticks.length > 1 ? Math.abs(ticks[1] - ticks[0]) : 1;
  const decimals = step >= 1 ? 0 : step >= 0.1 ? 1 : 2;
  return ticks.map((value) => fixed(value, decimals));
}

/**
 * What was written down, as ticks at the foot.
 *
 * @param {any} plot
 * @param {number[]} at places on the axis of time
 * @param {string} stroke
 */
export function drawMarks(plot, at, stroke) {
  const { ctx, bbox } = plot;
  const ratio = devicePixelRatio;
  ctx.save();
  ctx.strokeStyle = stroke;
  ctx.lineWidth = 2 * ratio;
  for (const t of at) {
    const x = plot.valToPos(t, 'x', true);
    if (x >= bbox.left && x <= bbox.left + bbox.width) {
      ctx.beginPath();
      ctx.moveTo(x, bbox.top + bbox.height);
      ctx.lineTo(x, bbox.top + bbox.height - 14 * ratio);
      ctx.stroke();
    }
  }
  ctx.restore();
}

/**
 * Heights that mean something, with their names.
 *
 * @param {any} plot
 * @param {Unit} unit
 * @param {Level[]} levels
 * @param {string} stroke
 * @param {string} fill of bands
 */
export function drawLevels(plot, unit, levels, stroke, fill) {
  const { ctx, bbox } = plot;
  const ratio = devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  for (const level of levels) {
    const y = plot.valToPos(unit.from(level.value), 'y', true);
    if (level.band) {
      const top = plot.valToPos(unit.from(level.value + level.band), 'y', true);
      const bottom = plot.valToPos(unit.from(level.value - level.band), 'y', true);
      ctx.fillStyle = fill;
      ctx.fillRect(bbox.left, top, bbox.width, bottom - top);
    }
    ctx.strokeStyle = stroke;
    ctx.lineWidth = 1.25 * ratio;
    ctx.setLineDash(level.dash.map((length) => length * ratio));
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    ctx.fillStyle = stroke;
    ctx.font = `italic ${13 * ratio}px ui-serif, Georgia, serif`;
    ctx.textAlign = 'left';
    ctx.textBaseline = 'bottom';
    ctx.fillText(level.label, bbox.left + 6 * ratio, y - 2 * ratio);
  }
  ctx.restore();
}

/**
 * What was expected: a band, and a broken line in it.
 *
 * @param {any} plot
 * @param {Unit} unit
 * @param {Behind} behind
 * @param {string} stroke
 * @param {string} fill
 */
export function drawBehind(plot, unit, behind, stroke, fill) {
  const { ctx, bbox } = plot;
  const ratio = devicePixelRatio;
  const x = behind.t.map((t) => plot.valToPos(t, 'x', true));
  /** @param {number[]} values */
  const heights = (values) => values.map((value) => plot.valToPos(unit.from(value), 'y', true));
  const [low, high, middle] = [behind.low, behind.high, behind.value].map(heights);
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.fillStyle = fill;
  ctx.beginPath();
  x.forEach((at, i) => ctx.lineTo(at, high[i]));
  for (let i = x.length - 1; i >= 0; i--) {
    ctx.lineTo(x[i], low[i]);
  }
  ctx.fill();
  ctx.strokeStyle = stroke;
  ctx.lineWidth = 1.5 * ratio;
  ctx.setLineDash([5 * ratio, 4 * ratio]);
  ctx.beginPath();
  x.forEach((at, i) => ctx.lineTo(at, middle[i]));
  ctx.stroke();
  ctx.restore();
}
