/** Two heat-ups over each other, each with its band. */
import { drawLevels, palette, tickLabels, withAlpha } from '../chart/ink.js';
import { byId, make, say } from '../page/dom.js';
import { degrees, duration } from '../burns/words.js';
import { fixed, temperature } from '../units/units.js';

/** @typedef {import('../server/types.js').WhatIfAnswer} WhatIfAnswer */

const FONT = '13px system-ui, sans-serif';
const STEPS = [60, 120, 300, 600, 900, 1800, 3600, 7200];
/** Rows of the table: as many as are read. */
const ROWS = 16;
/** What is shown goes on for so many times the time to the target, and no shorter than this, s. */
const BEYOND = 2.5;
const LEAST_S = 1800;

/** The chart and its table. */
export class TwoCurves {
  constructor() {
    this.place = byId('what-if-chart');
    this.caption = byId('what-if-caption');
    /** @type {WhatIfAnswer|null} */
    this.answer = null;
    /** @type {any} */
    this.plot = null;
    new ResizeObserver(() => this.resize()).observe(this.place);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.answer && this.show(this.answer));
  }

  /** @param {WhatIfAnswer} answer */
  show(answer) {
    this.answer = answer;
    this.plot?.destroy();
    this.plot = null;
    this.resize();
    this.point(null);
    this.fill();
  }

  /** Both on the moments of one: they are the same. */
  moments() {
    const { today, changed } = /** @type {WhatIfAnswer} */ (this.answer);
    const slowest = Math.max(today.timeToTargetS ?? Infinity, changed.timeToTargetS ?? Infinity);
    const untilS = Math.max(LEAST_S, BEYOND * slowest);
    return today.curve
      .map((/** @type {any} */ was, /** @type {number} */ i) => ({ tS: was.tS, was, is: changed.curve[i] }))
      .filter((/** @type {any} */ moment) => moment.is && moment.tS <= untilS);
  }

  resize() {
    if (!this.answer || this.place.clientWidth === 0) {
      return;
    }
    if (this.plot) {
      this.plot.setSize({ width: this.place.clientWidth, height: this.place.clientHeight });
      return;
    }
    const moments = this.moments();
    const unit = temperature();
    const column = (/** @type {'was'|'is'} */ of, /** @type {string} */ name) =>
      moments.map((/** @type {any} */ moment) => (moment[of][name] === null ? null : unit.from(moment[of][name])));
    const data = [
      moments.map((/** @type {any} */ moment) => moment.tS),
      column('was', 'high95C'), column('was', 'low95C'), column('is', 'high95C'), column('is', 'low95C'),
      column('was', 'chamberC'), column('is', 'chamberC'),
    ];
    // @ts-ignore uPlot is a global of the script in the page
    this.plot = new globalThis.uPlot(this.options(), data, this.place);
  }

  options() {
    const colour = palette();
    const unit = temperature();
    const axis = { stroke: colour('--soft'), font: FONT, grid: { stroke: colour('--rule'), width: 1 }, ticks: { show: false } };
    const hidden = { stroke: 'transparent', width: 0, points: { show: false } };
    const { today, changed } = /** @type {WhatIfAnswer} */ (this.answer);
    const targets = [...new Set([today.idle.targetC, changed.idle.targetC])];
    return {
      width: this.place.clientWidth,
      height: this.place.clientHeight,
      legend: { show: false },
      cursor: { y: false, drag: { setScale: false, x: false, y: false }, points: { show: false } },
      padding: [8, 22, 0, 0],
      scales: { x: { time: false }, y: { range: (/** @type {any} */ _, /** @type {number} */ low, /** @type {number} */ high) => [Math.min(low, unit.from(0)), Math.max(high, ...targets.map(unit.from)) + unit.step(60)] } },
      axes: [
        { ...axis, size: 28, space: 64, incrs: STEPS, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => ticks.map((t) => `${fixed(t / 60, 0)} min`) },
        { ...axis, size: 46, space: 34, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks) },
      ],
      series: [
        {}, hidden, hidden, hidden, hidden,
        { stroke: colour('--margin'), width: 2.5, dash: [3, 4], points: { show: false } },
        { stroke: colour('--ink'), width: 2, points: { show: false } },
      ],
      bands: [
        { series: [1, 2], fill: withAlpha(colour('--margin'), 0.22) },
        { series: [3, 4], fill: withAlpha(colour('--pen'), 0.2) },
      ],
      hooks: {
        drawAxes: [(/** @type {any} */ plot) =>
          drawLevels(plot, unit, targets.map((value, i) => ({ label: i === 0 ? 'target' : 'changed target', value, dash: i === 0 ? [] : [6, 4] })), colour('--soft'), 'transparent')],
        setCursor: [(/** @type {any} */ plot) => this.point(plot.cursor.idx)],
      },
    };
  }

  /** @param {number|null|undefined} index of the moment under the pointer */
  point(index) {
    if (!this.answer) {
      return;
    }
    const moments = this.moments();
    const moment = typeof index === 'number' ? moments[index] : undefined;
    if (moment) {
      say(this.caption, `${duration(moment.tS)} after gas on: today ${words(moment.was)}, changed ${words(moment.is)}`);
      return;
    }
    const end = moments[moments.length - 1];
    say(this.caption, `Chamber, ${temperature().label}, against time since gas on: after ${duration(end.tS)} today ${words(end.was)}, changed ${words(end.is)}`);
  }

  fill() {
    const rows = [];
    let next = 0;
    const moments = this.moments();
    const lastS = moments[moments.length - 1].tS;
    for (const { tS, was, is } of moments) {
      if (tS >= next) {
        next = tS + lastS / ROWS;
        const cells = [plain(was.chamberC), band(was), plain(is.chamberC), band(is)];
        rows.push(make('tr', {}, make('th', { scope: 'row' }, duration(tS)), ...cells.map((cell) => make('td', {}, cell))));
      }
    }
    const head = ['since gas on', `today, ${temperature().label}`, '95 % band', 'changed', '95 % band'];
    byId('what-if-rows').replaceChildren(make('table', {},
      make('caption', { class: 'unseen' }, 'Chamber temperature, today and changed'),
      make('thead', {}, make('tr', {}, ...head.map((name) => make('th', { scope: 'col' }, name)))),
      make('tbody', {}, ...rows)));
  }
}

/** @param {number|null} celsius */
const plain = (celsius) => (celsius === null ? '–' : fixed(temperature().from(celsius), 0));

/** @param {any} moment */
const band = (moment) => (moment.low95C === null || moment.high95C === null ? '–' : `${plain(moment.low95C)} to ${plain(moment.high95C)}`);

/** @param {any} moment */
const words = (moment) => (moment.chamberC === null ? 'not known' : `${degrees(moment.chamberC)} (${band(moment)})`);
