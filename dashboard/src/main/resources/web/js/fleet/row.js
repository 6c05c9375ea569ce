/** One forge among many: a line of the page that is changed where it differs, and leads to the forge. */
import { sign } from '../alarms/shapes.js';
import { glowColour } from '../now/glow.js';
import { make, say } from '../page/dom.js';
import { fixed, pressure, temperature } from '../units/units.js';
import { matter, phaseWords, trendShape } from './words.js';

/** @typedef {import('../server/types.js').FleetRow} FleetRow */

const SVG = 'http://www.w3.org/2000/svg';

/** Keeps one line. */
export class Row {
  /**
   * @param {FleetRow} data
   * @param {(forge: string) => void} lookAt
   */
  constructor(data, lookAt) {
    this.data = data;
    this.signed = '';
    this.sign = make('span', { class: 'fleet-sign', 'aria-hidden': 'true' });
    this.name = make('b', { class: 'fleet-name' });
    this.matter = make('span', { class: 'fleet-matter' });
    this.glow = document.createElementNS(SVG, 'path');
    this.glow.setAttribute('d', 'M1 1H44Q53 3 59 7Q53 11 44 13H1Z');
    this.number = make('b', { class: 'fleet-number' });
    this.unit = make('small');
    this.shape = make('span', { class: 'fleet-shape', 'aria-hidden': 'true' });
    this.phase = make('span', { class: 'fleet-phase' });
    this.gas = make('b');
    this.used = make('b');
    this.usedLabel = make('i');
    const heat = make('span', { class: 'fleet-heat' }, this.number, this.unit, ' ', this.shape);
    this.link = make(
      'a',
      { class: 'fleet-row', href: `?forge=${encodeURIComponent(data.forge)}#now` },
      this.sign,
      make('span', { class: 'fleet-who' }, this.name, ' ', this.matter),
      ' ',
      this.swatch(),
      heat,
      ' ',
      make(
        'span',
        { class: 'fleet-rest' },
        this.phase,
        make('span', { class: 'fleet-gas' }, make('i', {}, ' gas '), this.gas),
        make('span', { class: 'fleet-used' }, ' ', this.usedLabel, ' ', this.used),
      ),
    );
    this.link.addEventListener('click', (event) => {
      if (!event.ctrlKey && !event.metaKey && !event.shiftKey) {
        event.preventDefault();
        lookAt(data.forge);
      }
    });
    this.element = make('li', { 'data-forge': data.forge }, this.link);
  }

  swatch() {
    const svg = document.createElementNS(SVG, 'svg');
    svg.setAttribute('viewBox', '0 0 60 14');
    svg.setAttribute('class', 'fleet-swatch');
    svg.setAttribute('aria-hidden', 'true');
    svg.append(this.glow);
    return svg;
  }

  /**
   * @param {FleetRow} data
   * @param {number} nowT
   */
  show(data, nowT) {
    this.data = data;
    say(this.name, data.name);
    this.showSign();
    this.showHeat();
    say(this.phase, phaseWords(data));
    this.showGas();
    this.tick(nowT);
    this.link.dataset.attention = data.attention;
    this.link.classList.toggle('not-now', data.silentSinceT !== undefined);
  }

  showSign() {
    const { alarm, attention } = this.data;
    const key = alarm ? `${alarm.priority} ${alarm.state}` : attention;
    if (key === this.signed) {
      return;
    }
    this.signed = key;
    // A ring of dashes: nobody calls from there, and that is the trouble.
    const asks = { flame: '?', silent: '…', never: '…' }[/** @type {string} */ (attention)];
    this.sign.replaceChildren(...(alarm ? [sign(alarm.priority, alarm.state)] : asks ? [make('span', { class: 'fleet-asks' }, asks)] : []));
  }

  showHeat() {
    const { chamberC, chamberLevel, silentSinceT } = this.data;
    const unit = temperature();
    if (chamberC === undefined) {
      say(this.number, chamberLevel === 'bad' ? 'sensor bad' : 'no reading');
      say(this.unit, '');
      say(this.shape, '');
    } else {
      say(this.number, fixed(unit.from(chamberC), 0));
      say(this.unit, ` ${unit.label}${silentSinceT === undefined ? '' : ' then'}`);
      say(this.shape, trendShape(this.data));
    }
    this.number.classList.toggle('no-number', chamberC === undefined);
    this.glow.style.fill = chamberC === undefined ? '' : glowColour(chamberC);
  }

  showGas() {
    const { gasPa, gasUsedKg, burning } = this.data;
    const unit = pressure();
    say(this.gas, gasPa === undefined ? 'not known' : `${fixed(unit.from(gasPa), unit.decimals)} ${unit.label}`);
    say(this.usedLabel, burning || gasUsedKg === undefined ? 'used' : 'used, last burn');
    say(this.used, gasUsedKg === undefined ? 'nothing' : `${fixed(gasUsedKg, 2)} kg`);
  }

  /**
   * What grows by itself.
   *
   * @param {number} nowT
   */
  tick(nowT) {
    say(this.matter, matter(this.data, nowT));
  }
}
