/** The chamber temperature, large; its trend, its glow and what the forge is doing. */
import { byId, say, span } from '../page/dom.js';
import { fixed, temperature } from '../units/units.js';
import { glowColour, glowName } from './glow.js';

/** @typedef {import('../server/types.js').Snapshot} Snapshot */

/** Two-sided 95 % of a normal distribution. */
const COVERAGE_95 = 1.96;
/** Slower than this nobody calls it rising, K/min. */
const LEVEL_K_PER_MIN = 1;
/** Largest numeral, px: more than this is wasted on a desk. */
const LARGEST_PX = 280;

const PHASES = {
  cold: 'Cold',
  lighting: 'Lighting',
  heating: 'Heating up',
  steady: 'Steady',
  idling: 'Idling',
  cooling: 'Cooling down',
};

const BURNING = ['heating', 'steady', 'idling'];

const FLAMES = {
  off: 'no flame: the gas is off',
  lighting: 'gas flows, not yet known to burn',
  burning: 'the flame burns',
  out: 'the flame is OUT while gas flows',
  unavailable: 'the flame cannot be judged',
};

const UNWATCHED =
  'Nobody watches this forge: judging it hung the daemon twice. What it sends is stored. Watch the flame yourself; a restart of the daemon brings the watch back.';
const CONNECT =
  'No reading yet. Connect the sensor board by USB or let it publish by MQTT, name it in the configuration under [[source]], ' +
  'and see that its lines begin with this forge’s id. The command “ports” lists what is plugged in.';

/** @typedef {'loading'|'empty'|'live'|'bad'|'stale'|'gone'} State */

/** Shows one forge's heat. */
export class Heat {
  constructor() {
    this.section = byId('heat');
    this.number = byId('temperature');
    this.unit = byId('temperature-unit');
    this.band = byId('temperature-band');
    this.glow = byId('glow');
    this.glowName = byId('glow-name');
    this.shape = byId('trend-shape');
    this.trend = byId('trend');
    this.phase = byId('phase');
    this.state = byId('state');
    this.fitted = '';
    new ResizeObserver(() => this.fit(true)).observe(this.section);
  }

  /**
   * @param {Snapshot} snapshot
   * @param {number} ageS age of the chamber reading, s
   * @param {number} staleAfterS
   * @param {boolean} gone whether the daemon has fallen silent
   */
  show(snapshot, ageS, staleAfterS, gone) {
    const chamber = snapshot.chamber;
    if (!chamber && snapshot.alarms.some(({ alarm }) => alarm === 'watch-lost')) {
      this.blank('bad', UNWATCHED);
      say(this.phase, 'What it does is not known.');
      return;
    }
    if (!chamber) {
      this.blank(gone ? 'gone' : 'empty', gone ? '' : CONNECT);
      return;
    }
    const bad = chamber.level === 'bad' || chamber.value === null;
    const stale = ageS > staleAfterS;
    say(this.phase, `${PHASES[snapshot.phase]}; ${FLAMES[snapshot.flame] ?? 'the flame is in doubt'}.${
      bad || stale || gone ? '' : openQuestion(snapshot)}`);
    if (bad) {
      this.blank('bad', `The chamber sensor is bad: ${chamber.qualityInWords}. Last word from it ${span(ageS)} ago.`);
      return;
    }
    this.value(/** @type {number} */ (chamber.value), chamber.standardUncertainty);
    if (gone || stale) {
      say(this.shape, '');
      say(this.trend, `${span(ageS)} old`);
      this.mark(gone ? 'gone' : 'stale', `Not now: this was measured ${span(ageS)} ago. ${
        gone ? '' : 'The sensor has fallen silent: look at its cable and its supply.'}`);
      return;
    }
    if (!this.steady(snapshot)) {
      this.slope(snapshot.chamberRateKPerMin, snapshot.chamberRateStandardErrorKPerMin, snapshot);
    }
    this.mark('live', chamber.level === 'uncertain' ? `Take it with care: ${chamber.qualityInWords}.` : '');
  }

  /**
   * @param {number} celsius
   * @param {number|null} standardUncertainty K
   */
  value(celsius, standardUncertainty) {
    const unit = temperature();
    say(this.number, fixed(unit.from(celsius), 0));
    say(this.unit, unit.label);
    say(
      this.band,
      standardUncertainty === null ? 'uncertainty not known' : `± ${fixed(unit.step(2 * standardUncertainty), 0)} (95 %)`,
    );
    this.glow.style.fill = glowColour(celsius);
    const name = glowName(celsius);
    say(this.glowName, name === 'no glow yet' ? name : `${name} heat`);
    this.fit(false);
  }

  /**
   * Says that it is steady, since when and how closely.
   *
   * @param {Snapshot} snapshot
   * @returns {boolean} whether it is
   */
  steady({ steadiness, phase }) {
    const { state, slopeKPerMin, halfWidthKPerMin, steadyForS } = steadiness;
    // A cold chamber holds its temperature as well, which is nothing to say.
    if (state !== 'steady' || !BURNING.includes(phase) || slopeKPerMin === null || halfWidthKPerMin === null) {
      return false;
    }
    const unit = temperature();
    const within = fixed(unit.step(Math.abs(slopeKPerMin) + halfWidthKPerMin), 1);
    say(this.shape, '▬');
    say(this.trend, `steady for ${span(steadyForS ?? 0)}, within ±${within} ${perMinute(unit)}`);
    return true;
  }

  /**
   * @param {number|null} rate K/min
   * @param {number|null} standardError K/min
   * @param {Snapshot} snapshot
   */
  slope(rate, standardError, { steadiness, phase }) {
    if (rate === null) {
      say(this.shape, '');
      say(this.trend, 'trend not known yet');
      return;
    }
    const unit = temperature();
    const per = perMinute(unit);
    const still = BURNING.includes(phase) && steadiness.state === 'moving' ? 'still ' : '';
    const doubt = standardError === null ? 0 : COVERAGE_95 * standardError;
    const digits = Math.abs(rate) < 10 ? 1 : 0;
    const amount = `${fixed(unit.step(Math.abs(rate)), digits)} ± ${fixed(unit.step(doubt), digits)}`;
    if (Math.abs(rate) < Math.max(doubt, LEVEL_K_PER_MIN)) {
      say(this.shape, '▬');
      say(this.trend, `level, within ${fixed(unit.step(Math.max(doubt, LEVEL_K_PER_MIN)), 1)} ${per}`);
    } else if (rate > 0) {
      say(this.shape, '▲');
      say(this.trend, `${still}rising ${amount} ${per}`);
    } else {
      say(this.shape, '▼');
      say(this.trend, `${still}falling ${amount} ${per}`);
    }
  }

  /**
   * @param {State} state
   * @param {string} words
   */
  blank(state, words) {
    say(this.number, '– – –');
    say(this.unit, temperature().label);
    say(this.band, '');
    say(this.glowName, '');
    say(this.shape, '');
    say(this.trend, state === 'bad' ? 'temperature not known' : 'waiting for the first reading');
    this.glow.style.fill = '';
    this.fit(false);
    this.mark(state, words);
  }

  /**
   * @param {State} state
   * @param {string} words
   */
  mark(state, words) {
    this.section.dataset.state = state;
    this.state.hidden = words === '';
    say(this.state, words);
  }

  /**
   * Makes the numeral as wide as the sheet: a font's digits differ by a quarter from one system to the next.
   *
   * @param {boolean} resized
   */
  fit(resized) {
    const text = this.number.textContent ?? '';
    // Always room for four digits, so that it does not jump at 999.
    const key = String(Math.max(4, text.length));
    if (!resized && key === this.fitted) {
      return;
    }
    this.fitted = key;
    const line = /** @type {HTMLElement} */ (this.number.parentElement);
    line.style.fontSize = '100px';
    const shown = this.number.textContent;
    this.number.textContent = '0'.repeat(Number(key));
    const width = this.number.getBoundingClientRect().width;
    this.number.textContent = shown;
    if (width > 0) {
      line.style.fontSize = `${Math.min(LARGEST_PX, Math.floor((100 * this.section.clientWidth) / width))}px`;
    }
  }
}

/** @param {{label: string}} unit of temperature */
const perMinute = (unit) => (unit.label === '°C' ? 'K/min' : `${unit.label}/min`);

/**
 * What would tell whether a burning forge is steady, where nothing tells yet.
 *
 * @param {Snapshot} snapshot
 */
const openQuestion = ({ steadiness, phase }) =>
  steadiness.state === 'cannot-tell' && BURNING.includes(phase) && steadiness.bandKPerMin !== null
    ? ` Steady or not cannot be told yet: ${steadiness.wouldTell}`
    : '';

/** @param {Snapshot} snapshot */
export const phaseWord = (snapshot) => PHASES[snapshot.phase];
