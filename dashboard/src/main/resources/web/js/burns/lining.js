/** The loss coefficient of each burn with its interval: a lining that cracks or sags loses more. */
import { palette, tickLabels, withAlpha } from '../chart/ink.js';
import { byId, day, longDay, make, say } from '../page/dom.js';
import { digits, degrees, retold, seconds, withInterval } from './words.js';

/**
 * @typedef {import('../server/types.js').Lining} Lining
 * @typedef {import('../server/types.js').BurnLoss} BurnLoss
 */

/** Intervals drawn upright, one for each burn, beside the mean of the burns before. */
export class LiningTrend {
  constructor() {
    this.section = byId('lining');
    this.place = byId('lining-chart');
    this.caption = byId('lining-caption');
    this.state = byId('lining-state');
    this.figure = /** @type {HTMLElement} */ (this.caption.parentElement);
    this.table = byId('lining-table');
    /** @type {Lining|null} */
    this.lining = null;
    /** @type {any} */
    this.plot = null;
    new ResizeObserver(() => this.resize()).observe(this.place);
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.show(this.lining, ''));
  }

  /**
   * @param {Lining|null} lining null when it could not be fetched
   * @param {string} trouble what stood in the way
   */
  show(lining, trouble) {
    this.lining = lining;
    this.plot?.destroy();
    this.plot = null;
    this.section.hidden = lining === null && trouble === '';
    const losses = lining?.losses ?? [];
    this.figure.hidden = losses.length === 0;
    this.table.hidden = losses.length === 0;
    if (!lining) {
      say(this.state, trouble);
      return;
    }
    say(
      this.state,
      losses.length === 0
        ? 'No burn has told a loss coefficient yet. It takes a known gas flow and, best, the cooling after the burn: leave the readings running until the forge is cold.'
        : retold(lining.trend.why),
    );
    this.state.classList.toggle('grave-words', lining.trend.lossUp);
    this.resize();
    this.point(null);
    this.fill();
  }

  resize() {
    const losses = this.lining?.losses ?? [];
    if (losses.length === 0 || this.place.clientWidth === 0) {
      return;
    }
    if (this.plot) {
      this.plot.setSize({ width: this.place.clientWidth, height: this.place.clientHeight });
      return;
    }
    const data = [losses.map((_, i) => i), losses.map((loss) => loss.lossWPerK)];
    // @ts-ignore uPlot is a global of the script in the page
    this.plot = new globalThis.uPlot(this.options(losses), data, this.place);
  }

  /** @param {BurnLoss[]} losses */
  options(losses) {
    const colour = palette();
    const soft = colour('--soft');
    const rule = colour('--rule');
    const font = '13px system-ui, sans-serif';
    const most = Math.max(...losses.map((loss) => loss.high95));
    const least = Math.min(...losses.map((loss) => loss.low95));
    const room = Math.max(0.15 * (most - least), 0.02 * most);
    return {
      width: this.place.clientWidth,
      height: this.place.clientHeight,
      legend: { show: false },
      cursor: { y: false, drag: { setScale: false, x: false, y: false }, points: { show: false } },
      padding: [8, 6, 0, 0],
      scales: {
        x: { time: false, range: () => [-0.5, losses.length - 0.5] },
        y: { range: () => [Math.max(0, least - room), most + room] },
      },
      axes: [
        {
          stroke: soft, font, grid: { show: false }, ticks: { show: false }, size: 28, space: 64,
          incrs: [1, 2, 5, 10, 20, 50, 100, 200, 500],
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) =>
            ticks.map((i) => (Number.isInteger(i) && losses[i] ? day(seconds(losses[i].start)) : '')),
        },
        {
          stroke: soft, font, grid: { stroke: rule, width: 1 }, ticks: { show: false }, size: 46, space: 34,
          values: (/** @type {any} */ _, /** @type {number[]} */ ticks) => tickLabels(ticks),
        },
      ],
      series: [{}, { stroke: 'transparent', width: 0, points: { show: false } }],
      hooks: {
        drawAxes: [(/** @type {any} */ plot) => this.drawBefore(plot, withAlpha(colour('--pen'), 0.14))],
        draw: [(/** @type {any} */ plot) => this.drawIntervals(plot, losses, colour('--ink'), colour('--paper'))],
        setCursor: [(/** @type {any} */ plot) => this.point(plot.cursor.idx)],
      },
    };
  }

  /**
   * @param {any} plot
   * @param {string} fill
   */
  drawBefore(plot, fill) {
    const { low95, high95 } = this.lining?.trend.earlier ?? { low95: null, high95: null };
    if (low95 === null || high95 === null) {
      return;
    }
    const { ctx, bbox } = plot;
    const top = plot.valToPos(high95, 'y', true);
    ctx.save();
    ctx.fillStyle = fill;
    ctx.fillRect(bbox.left, top, bbox.width, plot.valToPos(low95, 'y', true) - top);
    ctx.restore();
  }

  /**
   * @param {any} plot
   * @param {BurnLoss[]} losses
   * @param {string} ink
   * @param {string} paper
   */
  drawIntervals(plot, losses, ink, paper) {
    const { ctx } = plot;
    const ratio = devicePixelRatio;
    const latestC = losses[losses.length - 1].atC;
    ctx.save();
    ctx.strokeStyle = ink;
    losses.forEach((loss, i) => {
      const x = plot.valToPos(i, 'x', true);
      ctx.lineWidth = 2 * ratio;
      ctx.beginPath();
      ctx.moveTo(x, plot.valToPos(loss.low95, 'y', true));
      ctx.lineTo(x, plot.valToPos(loss.high95, 'y', true));
      ctx.stroke();
      ctx.beginPath();
      ctx.arc(x, plot.valToPos(loss.lossWPerK, 'y', true), 4.5 * ratio, 0, 2 * Math.PI);
      // Stated at another temperature it does not compare with the rest: hollow.
      ctx.fillStyle = loss.atC === latestC ? ink : paper;
      ctx.fill();
      ctx.stroke();
    });
    ctx.restore();
  }

  /** @param {number|null|undefined} index of the burn under the pointer */
  point(index) {
    const losses = this.lining?.losses ?? [];
    if (losses.length === 0) {
      return;
    }
    const loss = typeof index === 'number' ? losses[index] : undefined;
    if (loss) {
      const { value, interval } = withInterval(loss.lossWPerK, loss.low95, loss.high95);
      say(this.caption, `${longDay(seconds(loss.start))}: ${value} W/K (${interval}) at ${degrees(loss.atC)}`);
      return;
    }
    const values = losses.map((each) => each.lossWPerK);
    const after = digits(Math.min(...losses.map((each) => (each.high95 - each.low95) / 2)));
    const from = Math.min(...values).toFixed(after);
    const to = Math.max(...values).toFixed(after);
    const shade = this.lining?.trend.earlier.low95 ? '; shaded: mean of the burns before' : '';
    const count = `${losses.length} ${losses.length === 1 ? 'burn' : 'burns'}`;
    say(this.caption, `Loss coefficient, W/K, ${count}: ${from === to ? from : `from ${from} to ${to}`}; upright line: 95 % interval${shade}`);
  }

  fill() {
    const rows = [...(this.lining?.losses ?? [])].reverse().map((loss) => {
      const { value, interval } = withInterval(loss.lossWPerK, loss.low95, loss.high95);
      const link = make('a', { href: `#burns/${encodeURIComponent(loss.burn)}` }, longDay(seconds(loss.start)));
      return make('tr', {}, make('th', { scope: 'row' }, link), ...[value, interval, degrees(loss.atC)].map((text) => make('td', {}, text)));
    });
    const head = ['burn', 'W/K', '95 % interval', 'stated at'].map((name) => make('th', { scope: 'col' }, name));
    byId('lining-numbers').replaceChildren(
      make('table', {}, make('caption', { class: 'unseen' }, 'Loss coefficient of each burn'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows)),
    );
  }
}
