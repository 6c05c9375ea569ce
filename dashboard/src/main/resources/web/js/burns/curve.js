/** The measured curve of one burn over the prediction with its band, the fitted curve, and what is left over. */
import { drawLevels, drawMarks, palette, tickLabels, withAlpha } from '../chart/ink.js';
import { byId, clock, make, say } from '../page/dom.js';
import { fixed, temperature } from '../units/units.js';
import { duration, stepLabel } from './words.js';

/**
 * @typedef {import('../server/types.js').Moment} Moment
 * @typedef {import('../chart/ink.js').Level} Level
 */

const FONT = '13px system-ui, sans-serif';
/** Steps of the axis of time, s. */
const STEPS = [10, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400];
/** From this length on the axis counts hours, s. */
const LONG_S = 3 * 3600;
/** Least half height of what is left over, so that noise is not blown up, K. */
const LEAST_RESIDUAL_K = 2;
/** Rows of the table: as many as are read. */
const ROWS = 16;
const SYNC = 'one-burn';

/** Two charts of one axis of time. */
export class BurnCurve {
  constructor() {
    this.place = byId('curve-chart');
    this.caption = byId('curve-caption');
    this.residualPlace = byId('residual-chart');
    this.residualCaption = byId('residual-caption');
    this.residualFigure = byId('residual-figure');
    this.spans = byId('curve-spans');
    this.key = byId('curve-key');
    /** @type {Moment[]} */
    this.moments = [];
    this.startT = 0;
    this.partS = 0;
    this.leftOver = '';
    /** @type {Level[]} */
    this.levels = [];
    /** @type {number[]} seconds since gas on */
    this.marks = [];
    /** @type {any[]} */
    this.plots = [];
    new ResizeObserver(() => this.resize()).observe(this.place);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.draw());
    byId('curve-table').addEventListener('toggle', () => this.fill());
    for (const input of this.parts()) {
      input.addEventListener('change', () => {
        this.partS = Number(input.value);
        this.draw();
        this.fill();
      });
    }
  }

  parts() {
    return /** @type {NodeListOf<HTMLInputElement>} */ (this.spans.querySelectorAll('input'));
  }

  /**
   * @param {Moment[]} moments
   * @param {number} startT gas on, seconds since 1970
   * @param {string} leftOver what the residuals say, in words
   */
  show(moments, startT, leftOver) {
    this.moments = moments;
    this.startT = startT;
    this.leftOver = leftOver;
    const lastS = this.lastS();
    this.spans.hidden = lastS < 1800;
    for (const input of this.parts()) {
      const value = Number(input.value);
      /** @type {HTMLElement} */ (input.parentElement).hidden = value >= lastS;
      if (this.partS >= lastS) {
        this.partS = 0;
      }
      input.checked = value === this.partS;
    }
    this.draw();
    this.fill();
  }

  lastS() {
    return this.moments.length === 0 ? 0 : this.moments[this.moments.length - 1].tS;
  }

  fitted() {
    return this.moments.some((moment) => moment.fittedC !== null);
  }

  /** Builds both anew: other figures, another unit, other colours. */
  draw() {
    this.plots.forEach((plot) => plot.destroy());
    this.plots = [];
    this.residualFigure.hidden = !this.fitted();
    this.showKey();
    this.resize();
    this.point(null);
  }

  resize() {
    if (this.moments.length === 0 || this.place.clientWidth === 0) {
      return;
    }
    if (this.plots.length > 0) {
      for (const plot of this.plots) {
        const place = plot.root.parentElement;
        plot.setSize({ width: place.clientWidth, height: place.clientHeight });
      }
      return;
    }
    // @ts-ignore uPlot is a global of the script in the page
    const uPlot = globalThis.uPlot;
    this.plots.push(new uPlot(this.curveOptions(), this.curveData(), this.place));
    if (this.fitted()) {
      this.plots.push(new uPlot(this.residualOptions(), this.residualData(), this.residualPlace));
    }
  }

  curveData() {
    const { from } = temperature();
    /** @param {keyof Moment} name */
    const column = (name) =>
      this.moments.map((moment) => {
        const value = moment[name];
        return value === null || value === undefined ? null : from(value);
      });
    const fitted = column('fittedC');
    return [this.moments.map((moment) => moment.tS), column('high95C'), column('low95C'), column('predictedC'), fitted, fitted, column('measuredC')];
  }

  residualData() {
    const { step } = temperature();
    return [
      this.moments.map((moment) => moment.tS),
      this.moments.map(({ measuredC, fittedC }) => (measuredC === null || fittedC === null ? null : step(measuredC - fittedC))),
    ];
  }

  /**
   * @param {HTMLElement} place
   * @param {number} space between the lines of its heights, px
   */
  common(place, space) {
    const colour = palette();
    const soft = colour('--soft');
    const rule = colour('--rule');
    return {
      width: place.clientWidth,
      height: place.clientHeight,
      legend: { show: false },
      cursor: { y: false, drag: { setScale: false, x: false, y: false }, sync: { key: SYNC }, points: { show: false } },
      padding: [8, 22, 0, 0],
      axes: [
        {
          stroke: soft, font: FONT, grid: { stroke: rule, width: 1 }, ticks: { show: false }, size: 28, space: 64, incrs: STEPS,
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => ticks.map((t) => this.sinceGasOn(t)),
        },
        {
          stroke: soft, font: FONT, grid: { stroke: rule, width: 1 }, ticks: { show: false }, size: 46, space,
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks),
        },
      ],
    };
  }

  /** @param {number} tS */
  sinceGasOn(tS) {
    const [of, unit] = (this.partS || this.lastS()) > LONG_S ? [3600, 'h'] : [60, 'min'];
    const value = tS / of;
    return `${fixed(value, Number.isInteger(value) ? 0 : 1)} ${unit}`;
  }

  /** @returns {[number, number]} */
  spanX() {
    return [0, this.partS || this.lastS()];
  }

  curveOptions() {
    const colour = palette();
    const unit = temperature();
    const margin = colour('--margin');
    const hidden = { stroke: 'transparent', width: 0, points: { show: false } };
    return {
      ...this.common(this.place, 34),
      scales: {
        x: { time: false, range: () => this.spanX() },
        y: { range: (/** @type {any} */ _, /** @type {number|null} */ low, /** @type {number|null} */ high) => this.heights(low, high) },
      },
      series: [
        {},
        hidden,
        hidden,
        { stroke: margin, width: 2, dash: [3, 4], points: { show: false } },
        // The fit is a hollow line wide enough to hold the measured one: apart or together, both are seen.
        { stroke: colour('--ink'), width: 6, points: { show: false } },
        { stroke: colour('--paper'), width: 4, points: { show: false } },
        { stroke: colour('--ink'), width: 2, points: { show: false } },
      ],
      bands: [{ series: [1, 2], fill: withAlpha(margin, 0.28) }],
      hooks: {
        drawAxes: [(/** @type {any} */ plot) => drawLevels(plot, unit, this.levels, colour('--soft'), 'transparent')],
        draw: [(/** @type {any} */ plot) => drawMarks(plot, this.marks, colour('--pen'))],
        setCursor: [(/** @type {any} */ plot) => this.point(plot.cursor.idx)],
      },
    };
  }

  /**
   * @param {number|null} low
   * @param {number|null} high
   * @returns {[number, number]}
   */
  heights(low, high) {
    const { from, step } = temperature();
    const bottom = Math.min(low ?? from(0), from(0));
    const top = Math.max(high ?? bottom, bottom + step(200), ...this.levels.map((level) => from(level.value)));
    return [bottom, top + 0.06 * (top - bottom)];
  }

  residualOptions() {
    const colour = palette();
    const least = temperature().step(LEAST_RESIDUAL_K);
    return {
      ...this.common(this.residualPlace, 20),
      scales: {
        x: { time: false, range: () => this.spanX() },
        y: {
          range: (/** @type {any} */ _, /** @type {number|null} */ low, /** @type {number|null} */ high) => {
            const half = 1.1 * Math.max(Math.abs(low ?? 0), Math.abs(high ?? 0), least);
            return [-half, half];
          },
        },
      },
      series: [{}, { stroke: colour('--ink'), width: 1.5, points: { show: false } }],
      hooks: { drawAxes: [(/** @type {any} */ plot) => drawZero(plot, colour('--margin'))] },
    };
  }

  /** @param {number|null|undefined} index of the moment under the pointer */
  point(index) {
    const unit = temperature();
    /** @param {number|null} value */
    const text = (value) => (value === null ? 'not known' : fixed(unit.from(value), unit.decimals));
    const moment = typeof index === 'number' ? this.moments[index] : undefined;
    if (!moment) {
      this.summary();
      return;
    }
    const { tS, measuredC, fittedC, predictedC, low95C, high95C } = moment;
    const parts = [`${measuredC === null ? 'not measured' : `measured ${text(measuredC)} ${unit.label}`}`];
    if (fittedC !== null) {
      parts.push(`fitted ${text(fittedC)}`);
    }
    if (predictedC !== null) {
      parts.push(`predicted ${text(predictedC)} (${text(low95C)} to ${text(high95C)})`);
    }
    say(this.caption, `${duration(tS)} after gas on, ${clock(this.startT + tS)}: ${parts.join(', ')}`);
    if (measuredC !== null && fittedC !== null) {
      say(this.residualCaption, `Left over: ${fixed(unit.step(measuredC - fittedC), 1)} ${stepLabel()}`);
    }
  }

  summary() {
    const unit = temperature();
    const measured = this.moments.map((moment) => moment.measuredC).filter((value) => value !== null);
    const most = measured.length === 0 ? null : measured.reduce((a, b) => Math.max(a, b));
    say(
      this.caption,
      most === null ? 'Nothing was measured in this burn.' : `Chamber, ${unit.label}, against time since gas on: up to ${fixed(unit.from(most), unit.decimals)}`,
    );
    say(this.residualCaption, `Left over, measured less fitted, ${stepLabel()}${this.leftOver}`);
  }

  showKey() {
    const rows = [['measured', 'measured']];
    if (this.fitted()) {
      rows.push(['fitted', 'fitted to it, around the measured line where they agree']);
    }
    if (this.moments.some((moment) => moment.predictedC !== null)) {
      rows.push(['predicted', 'predicted from the description, with its 95 % band']);
    }
    if (this.marks.length > 0) {
      rows.push(['noted', 'written down']);
    }
    this.key.replaceChildren(...rows.map(([kind, words]) => make('li', {}, make('span', { class: `line-${kind}`, 'aria-hidden': 'true' }), words)));
  }

  /** Both charts as a table, made when it is opened. */
  fill() {
    const unit = temperature();
    /** @param {number|null} value */
    const text = (value) => (value === null ? '–' : fixed(unit.from(value), unit.decimals));
    const [, toS] = this.spanX();
    const rows = [];
    let next = 0;
    for (const { tS, measuredC, fittedC, predictedC, low95C, high95C } of this.moments) {
      if (tS < next || tS > toS) {
        continue;
      }
      next = tS + toS / ROWS;
      const over = measuredC === null || fittedC === null ? '–' : fixed(unit.step(measuredC - fittedC), 1);
      const band = low95C === null || high95C === null ? '–' : `${text(low95C)} to ${text(high95C)}`;
      const cells = [text(measuredC), text(fittedC), over, text(predictedC), band];
      rows.push(make('tr', {}, make('th', { scope: 'row' }, duration(tS)), ...cells.map((cell) => make('td', {}, cell))));
    }
    const head = ['since gas on', `measured, ${unit.label}`, 'fitted', `left over, ${stepLabel()}`, 'predicted', '95 % band'];
    byId('curve-numbers').replaceChildren(
      make(
        'table',
        {},
        make('caption', { class: 'unseen' }, 'Chamber temperature over the burn'),
        make('thead', {}, make('tr', {}, ...head.map((name) => make('th', { scope: 'col' }, name)))),
        make('tbody', {}, ...rows),
      ),
    );
  }
}

/**
 * @param {any} plot
 * @param {string} stroke
 */
function drawZero(plot, stroke) {
  const { ctx, bbox } = plot;
  const y = plot.valToPos(0, 'y', true);
  ctx.save();
  ctx.strokeStyle = stroke;
  ctx.lineWidth = 2 * devicePixelRatio;
  ctx.beginPath();
  ctx.moveTo(bbox.left, y);
  ctx.lineTo(bbox.left + bbox.width, y);
  ctx.stroke();
  ctx.restore();
}
