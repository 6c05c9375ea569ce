/** Which burns take part: all, those of a span of dates, or those that are ticked. */
import { readerQuery, paper } from '../burns/paper.js';
import { onChange } from '../units/units.js';
import { degrees, message, seconds } from '../burns/words.js';
import { day, longDay, make, say, shortClock, span } from '../page/dom.js';
import { get, of } from '../server/api.js';

/**
 * @typedef {import('../server/types.js').Burn} Burn
 *
 * @typedef {'all'|'span'|'ticked'} Mode
 */

/** As many as the server compares at once. */
const MOST_BURNS = 50;

/** The choice, told in words, and the form that changes it. */
export class Choice {
  /**
   * @param {HTMLElement} body
   * @param {() => void} taken hears of another choice
   */
  constructor(body, taken) {
    this.taken = taken;
    this.forge = '';
    /** Taken over when the form is sent. @type {Mode} */
    this.mode = 'all';
    this.from = '';
    this.to = '';
    /** @type {string[]} */
    this.ticked = [];
    /** @type {Burn[]|null} */
    this.burns = null;
    this.words = make('p', {});
    this.csv = /** @type {HTMLAnchorElement} */ (make('a', { id: 'trials-csv', download: '' }, 'All figures as CSV'));
    this.page = /** @type {HTMLAnchorElement} */ (make('a', { id: 'trials-report' }, 'Report to print'));
    this.pdf = /** @type {HTMLAnchorElement} */ (make('a', { id: 'trials-pdf' }, 'Report as PDF'));
    onChange(() => this.forge && this.tell());
    this.inputs = /** @type {Record<Mode, HTMLInputElement>} */ ({});
    this.fromInput = date('trials-from');
    this.toInput = date('trials-to');
    this.ticks = make('ul', { class: 'ticks' });
    this.status = make('p', { role: 'status', class: 'log-status' });
    this.details = /** @type {HTMLDetailsElement} */ (make('details', { id: 'trials-choose' }, make('summary', {}, 'Choose which burns take part'), this.form()));
    this.details.addEventListener('toggle', () => this.lookUp());
    body.append(make('div', { class: 'title-row' }, this.words, this.page, this.pdf, this.csv), this.details);
  }

  form() {
    const modes = /** @type {[Mode, string, ...HTMLElement[]][]} */ ([
      ['all', `every burn, the newest ${MOST_BURNS} at most`],
      ['span', 'those of a span of days', field('from', this.fromInput), field('to the end of', this.toInput)],
      ['ticked', 'those ticked below'],
    ]);
    const rows = modes.map(([mode, words, ...more]) => {
      const input = /** @type {HTMLInputElement} */ (make('input', { type: 'radio', name: 'trials-burns', value: mode }));
      input.checked = mode === this.mode;
      this.inputs[mode] = input;
      return make('div', {}, make('label', { class: 'one-tick' }, input, words), ...more);
    });
    for (const input of [this.fromInput, this.toInput]) {
      input.addEventListener('change', () => (this.inputs.span.checked = true));
    }
    this.ticks.addEventListener('change', () => (this.inputs.ticked.checked = true));
    const form = make('form', { class: 'choose' }, make('fieldset', {}, make('legend', { class: 'unseen' }, 'Burns that take part'), ...rows), this.ticks, make('button', { type: 'submit' }, 'Compare these'), this.status);
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.take();
    });
    return form;
  }

  /** @param {string} forge */
  open(forge) {
    this.forge = forge;
    this.burns = null;
    this.ticked = [];
    this.mode = 'all';
    this.inputs.all.checked = true;
    this.ticks.replaceChildren();
    say(this.status, '');
    this.tell();
    this.lookUp();
  }

  /** The burns to tick, once somebody wants to see them. */
  async lookUp() {
    if (!this.details.open || this.burns !== null || this.forge === '') {
      return;
    }
    const { forge } = this;
    try {
      const { burns } = await get(of(forge, `burns?limit=${MOST_BURNS}`));
      if (forge === this.forge && this.burns === null) {
        this.burns = burns;
        this.ticks.replaceChildren(...burns.map(tick));
      }
    } catch (failure) {
      this.refuse(`The burns cannot be read: ${message(failure)}. Close this and open it again to try once more.`);
    }
  }

  take() {
    const mode = /** @type {Mode} */ (Object.keys(this.inputs).find((each) => this.inputs[/** @type {Mode} */ (each)].checked));
    const ticked = [.../** @type {NodeListOf<HTMLInputElement>} */ (this.ticks.querySelectorAll('input:checked'))].map((input) => input.value);
    if (mode === 'ticked' && ticked.length === 0) {
      this.refuse('No burn is ticked yet: tick two or more.');
      return;
    }
    if (mode === 'span' && this.fromInput.value === '' && this.toInput.value === '') {
      this.refuse('No day is given yet: fill in the first, the last, or both.');
      return;
    }
    if (mode === 'span' && this.fromInput.value !== '' && this.toInput.value !== '' && this.fromInput.value > this.toInput.value) {
      this.refuse('The first day lies after the last: give the earlier one first.');
      return;
    }
    this.mode = mode;
    this.ticked = ticked;
    this.from = this.fromInput.value;
    this.to = this.toInput.value;
    say(this.status, '');
    this.status.classList.remove('failed');
    this.tell();
    this.taken();
  }

  /** @param {string} words */
  refuse(words) {
    this.status.classList.add('failed');
    say(this.status, words);
  }

  tell() {
    this.csv.href = of(this.forge, `trials.csv${this.query()}`);
    const query = this.query();
    const reader = `${query}${query ? '&' : '?'}${readerQuery()}`;
    this.page.href = of(this.forge, `trials/report${reader}`);
    this.pdf.href = of(this.forge, `trials/report.pdf${reader}&paper=${paper()}`);
    const { mode, from, to, ticked } = this;
    if (mode === 'span') {
      const words = [from && `from ${longDay(midnight(from, 0))}`, to && `to ${longDay(midnight(to, 0))}`].filter(Boolean).join(' ');
      say(this.words, `Burns ${words} take part.`);
    } else if (mode === 'ticked') {
      const count = ticked.length === 1 ? 'One burn takes' : `${ticked.length} burns take`;
      say(this.words, `${count} part, as ticked.`);
    } else {
      say(this.words, 'Every burn takes part.');
    }
  }

  /** What is asked of the server. */
  query() {
    if (this.mode === 'ticked') {
      return `?burns=${this.ticked.map(encodeURIComponent).join(',')}`;
    }
    if (this.mode === 'all') {
      return '';
    }
    const parts = [this.from && `from=${midnight(this.from, 0)}`, this.to && `to=${midnight(this.to, 1)}`];
    return `?${parts.filter(Boolean).join('&')}`;
  }
}

/**
 * The beginning of a day where the viewer is, s since 1970.
 *
 * @param {string} date as an input of dates gives it
 * @param {number} later days
 */
function midnight(date, later) {
  const [year, month, dayOfMonth] = date.split('-').map(Number);
  return new Date(year, month - 1, dayOfMonth + later).getTime() / 1000;
}

/** @param {string} id */
const date = (id) => /** @type {HTMLInputElement} */ (make('input', { id, type: 'date' }));

/**
 * @param {string} words
 * @param {HTMLInputElement} input
 */
const field = (words, input) => make('span', { class: 'day' }, make('label', { for: input.id }, words), input);

/** @param {Burn} burn */
function tick(burn) {
  const at = seconds(burn.start);
  const end = burn.end === null ? 'still burning' : `${span(seconds(burn.end) - at)}`;
  const peak = burn.peakC === null ? '' : `, highest ${degrees(burn.peakC)}`;
  const year = new Date(at * 1000).getFullYear();
  return make('li', {}, make('label', { class: 'one-tick' }, make('input', { type: 'checkbox', value: burn.id }), make('span', {}, make('b', {}, `${day(at)} ${year}, ${shortClock(at)}`), ` ${end}${peak}`)));
}
