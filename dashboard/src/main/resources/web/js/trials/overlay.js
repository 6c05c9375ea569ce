/** The heat-ups of all trials over each other, from gas on. Lines are told apart by their dashes and numbers; colour only helps. */
import { degrees, duration } from '../burns/words.js';
import { drawLevels, palette, tickLabels } from '../chart/ink.js';
import { make, say } from '../page/dom.js';
import { fixed, temperature } from '../units/units.js';
import { settingsInWords, trialName } from './words.js';

/**
 * @typedef {import('../server/types.js').Trials} Trials
 * @typedef {import('../server/types.js').Trial} Trial
 * @typedef {import('../server/types.js').TrialStretch} TrialStretch
 *
 * @typedef {object} Line
 * @property {Trial} trial
 * @property {TrialStretch} stretch
 */

const SVG = 'http://www.w3.org/2000/svg';
const FONT = '13px system-ui, sans-serif';
/** Steps of the axis of time, s. */
const STEPS = [60, 120, 300, 600, 900, 1800, 3600, 7200, 14400];
/** As many as are still told apart by dashes. */
const DASHES = [[], [10, 5], [2, 4], [14, 4, 2, 4], [6, 3], [18, 6]];
const INKS = ['--ink', '--margin', '--pen'];
/** Lines shown at first: more are not told apart at a glance. */
const FIRST_SHOWN = 4;
/** How far below the target heat-ups are told apart, K. */
const NEAR_K = 250;
/** Rows of the table: as many as are read. */
const ROWS = 12;

/** @param {number} i */
const dashOf = (i) => DASHES[i % DASHES.length];

/** @param {number} i */
const inkOf = (i) => INKS[i % INKS.length];

/** The chart with a switch for each trial. */
export class Overlay {
  /** @param {HTMLElement} body */
  constructor(body) {
    this.switches = make('fieldset', { class: 'switches' });
    this.caption = make('figcaption', { id: 'overlay-caption' });
    this.place = make('div', { class: 'chart', id: 'overlay-chart', role: 'img', 'aria-labelledby': 'overlay-caption' });
    this.numbers = make('div', { class: 'scroll', tabindex: '0', role: 'group', 'aria-label': 'Chamber temperature of the trials' });
    this.details = /** @type {HTMLDetailsElement} */ (make('details', { id: 'overlay-table' }, make('summary', {}, 'The same as numbers'), this.numbers));
    this.near = false;
    body.append(this.switches, this.parts(), make('figure', {}, this.caption, this.place), this.details);
    /** @type {Trials|null} */
    this.trials = null;
    /** Trials switched off, by number. @type {Set<number>} */
    this.off = new Set();
    this.met = new Set();
    /** @type {any} */
    this.plot = null;
    this.details.addEventListener('toggle', () => this.fill());
    new ResizeObserver(() => this.resize()).observe(this.place);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.draw());
  }

  /** All of the curves, or what lies near the target. */
  parts() {
    const rows = [['all of it', false], ['near the target', true]].map(([words, near]) => {
      const input = /** @type {HTMLInputElement} */ (make('input', { type: 'radio', name: 'overlay-part' }));
      input.checked = near === this.near;
      input.addEventListener('change', () => {
        this.near = near === true;
        this.draw();
      });
      return make('label', {}, input, make('span', {}, String(words)));
    });
    return make('fieldset', { class: 'spans overlay-parts' }, make('legend', { class: 'unseen' }, 'Part of the curves'), ...rows);
  }

  /** °C from which on the curves are shown. */
  fromC() {
    return this.near && this.trials ? this.trials.targetC - NEAR_K : null;
  }

  /** @param {Trials|null} trials of another forge, or none */
  forget(trials = null) {
    this.trials = trials;
    this.off.clear();
    this.met.clear();
  }

  /** @param {Trials} trials */
  show(trials) {
    this.trials = trials;
    const newest = trials.trials.slice(-FIRST_SHOWN);
    for (const trial of trials.trials) {
      if (!this.met.has(trial.trial) && !newest.includes(trial)) {
        this.off.add(trial.trial);
      }
      this.met.add(trial.trial);
    }
    this.showSwitches(trials);
    this.draw();
    this.fill();
  }

  /** @param {Trials} trials */
  showSwitches(trials) {
    const rows = trials.trials.map((trial, i) => {
      const input = /** @type {HTMLInputElement} */ (make('input', { type: 'checkbox', name: 'overlay', value: String(trial.trial) }));
      input.checked = !this.off.has(trial.trial);
      input.addEventListener('change', () => {
        input.checked ? this.off.delete(trial.trial) : this.off.add(trial.trial);
        this.draw();
        this.fill();
      });
      return make('label', {}, input, sample(i), make('span', {}, make('b', {}, trialName(trial)), ` ${settingsInWords(trial.settings)}`));
    });
    this.switches.replaceChildren(make('legend', { class: 'unseen' }, 'Trials in the chart'), ...rows);
  }

  /** @returns {Line[]} */
  lines() {
    const trials = this.trials?.trials.filter((trial) => !this.off.has(trial.trial)) ?? [];
    return trials.flatMap((trial) => trial.stretches.filter((stretch) => stretch.curve.length > 1).map((stretch) => ({ trial, stretch })));
  }

  draw() {
    this.plot?.destroy();
    this.plot = null;
    this.resize();
    this.point(null);
  }

  resize() {
    if (this.place.clientWidth === 0 || !this.trials) {
      return;
    }
    if (this.plot) {
      this.plot.setSize({ width: this.place.clientWidth, height: this.place.clientHeight });
      return;
    }
    const lines = this.lines();
    if (lines.length > 0) {
      // @ts-ignore uPlot is a global of the script in the page
      this.plot = new globalThis.uPlot(this.options(lines), this.columns(lines), this.place);
    }
  }

  /** @param {Line[]} lines */
  columns(lines) {
    const { from } = temperature();
    const least = this.fromC() ?? -Infinity;
    const curves = lines.map(({ stretch }) => stretch.curve.filter(([, celsius]) => celsius >= least));
    const at = [...new Set(curves.flatMap((curve) => curve.map(([t]) => t)))].sort((a, b) => a - b);
    return [at, ...curves.map((curve) => {
      const by = new Map(curve.map(([t, celsius]) => [t, from(celsius)]));
      return at.map((t) => by.get(t) ?? null);
    })];
  }

  /** @param {Trial} trial */
  indexOf(trial) {
    return this.trials?.trials.indexOf(trial) ?? 0;
  }

  /** @param {Line[]} lines */
  options(lines) {
    const colour = palette();
    const [soft, rule] = [colour('--soft'), colour('--rule')];
    const target = { label: 'target', value: this.trials?.targetC ?? 0, dash: [] };
    const axis = { stroke: soft, font: FONT, grid: { stroke: rule, width: 1 }, ticks: { show: false } };
    return {
      width: this.place.clientWidth,
      height: this.place.clientHeight,
      legend: { show: false },
      cursor: { y: false, drag: { setScale: false, x: false, y: false }, points: { show: false } },
      padding: [8, 22, 0, 0],
      scales: { x: { time: false } },
      axes: [
        { ...axis, size: 28, space: 64, incrs: STEPS, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => ticks.map((t) => `${fixed(t / 60, 0)} min`) },
        { ...axis, size: 46, space: 34, values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks) },
      ],
      series: [
        {},
        ...lines.map(({ trial }) => {
          const i = this.indexOf(trial);
          return { stroke: colour(inkOf(i)), width: 2, dash: dashOf(i), spanGaps: true, points: { show: false } };
        }),
      ],
      hooks: {
        drawAxes: [(/** @type {any} */ plot) => drawLevels(plot, temperature(), [target], soft, 'transparent')],
        draw: [(/** @type {any} */ plot) => this.drawNumbers(plot, lines)],
        setCursor: [(/** @type {any} */ plot) => this.point(plot.posToVal(plot.cursor.left, 'x'), plot.cursor.left)],
      },
    };
  }

  /**
   * The number of each trial on its line, each further along than the one before.
   *
   * @param {any} plot
   * @param {Line[]} lines
   */
  drawNumbers(plot, lines) {
    const { ctx } = plot;
    const colour = palette();
    const ratio = devicePixelRatio;
    const trials = [...new Set(lines.map(({ trial }) => trial))];
    ctx.save();
    ctx.setLineDash([]);
    ctx.font = `700 ${13 * ratio}px system-ui, sans-serif`;
    ctx.textAlign = 'center';
    ctx.textBaseline = 'middle';
    trials.forEach((trial, place) => {
      const line = /** @type {Line} */ (lines.find((each) => each.trial === trial));
      const least = this.fromC() ?? -Infinity;
      const curve = line.stretch.curve.filter(([, celsius]) => celsius >= least);
      if (curve.length === 0) {
        return;
      }
      const [t, celsius] = curve[Math.floor(((place + 1) / (trials.length + 1)) * (curve.length - 1))];
      const [x, y] = [plot.valToPos(t, 'x', true), plot.valToPos(temperature().from(celsius), 'y', true)];
      ctx.beginPath();
      ctx.arc(x, y, 10 * ratio, 0, 2 * Math.PI);
      ctx.fillStyle = colour('--paper');
      ctx.fill();
      ctx.lineWidth = 1.5 * ratio;
      ctx.strokeStyle = colour(inkOf(this.indexOf(trial)));
      ctx.stroke();
      ctx.fillStyle = colour('--ink');
      ctx.fillText(String(trial.trial), x, y);
    });
    ctx.restore();
  }

  /**
   * @param {number|null} t under the pointer, seconds since gas on
   * @param {number} [left] of the pointer; below 0 outside
   */
  point(t, left = -1) {
    const unit = temperature();
    const lines = this.lines();
    if (t === null || left < 0 || lines.length === 0) {
      const which = [...new Set(lines.map(({ trial }) => trial.trial))].join(', ');
      const least = this.fromC();
      const part = least === null ? '' : `, from ${degrees(least)} up`;
      say(this.caption, lines.length === 0 ? 'No curve is switched on.' : `Chamber, ${unit.label}${part}, against time since gas on; a line a burn, by trial: ${which}`);
      return;
    }
    const parts = perTrial(lines, t).map(({ trial, values }) => `trial ${trial.trial}: ${values.map((value) => fixed(unit.from(value), unit.decimals)).join(' and ') || 'not measured'}`);
    say(this.caption, `${duration(t)} after gas on, ${unit.label}: ${parts.join('; ')}`);
  }

  /** The chart as a table, made when it is opened. */
  fill() {
    if (!this.details.open) {
      return;
    }
    const unit = temperature();
    const lines = this.lines();
    const last = lines.reduce((so, { stretch }) => Math.max(so, stretch.curve[stretch.curve.length - 1][0]), 0);
    const trials = [...new Set(lines.map(({ trial }) => trial))];
    const rows = Array.from({ length: ROWS + 1 }, (_, i) => (i / ROWS) * last).map((t) => {
      const cells = perTrial(lines, t).map(({ values }) => values.map((value) => fixed(unit.from(value), unit.decimals)).join(', ') || '–');
      return make('tr', {}, make('th', { scope: 'row' }, duration(t)), ...cells.map((each) => make('td', {}, each)));
    });
    const head = ['since gas on', ...trials.map((trial) => `trial ${trial.trial}, ${unit.label}`)].map((each) => make('th', { scope: 'col' }, each));
    this.numbers.replaceChildren(
      make('table', {}, make('caption', { class: 'unseen' }, 'Chamber temperature, burn by burn'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows)),
    );
  }
}

/**
 * @param {Line[]} lines
 * @param {number} t
 * @returns {{trial: Trial, values: number[]}[]} °C of each burn that goes on then
 */
function perTrial(lines, t) {
  /** @type {Map<Trial, number[]>} */
  const by = new Map();
  for (const { trial, stretch } of lines) {
    const values = by.get(trial) ?? [];
    by.set(trial, values);
    const after = stretch.curve.findIndex(([at]) => at >= t);
    if (after >= 0 && (after > 0 || stretch.curve[0][0] === t)) {
      const [t1, c1] = stretch.curve[after];
      const [t0, c0] = stretch.curve[Math.max(0, after - 1)];
      values.push(t1 === t0 ? c1 : c0 + ((c1 - c0) * (t - t0)) / (t1 - t0));
    }
  }
  return [...by].map(([trial, values]) => ({ trial, values }));
}

/** @param {number} i */
function sample(i) {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 48 8');
  svg.setAttribute('class', 'dash-sample');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('d', 'M0 4H48');
  path.style.stroke = `var(${inkOf(i)})`;
  path.setAttribute('stroke-dasharray', dashOf(i).join(' ') || 'none');
  svg.append(path);
  return svg;
}
