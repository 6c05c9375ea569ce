/** What is set now, and the form by which it is said: jet, air, lining, weighings, and where the burner burns unsteadily. */
import { clock, day, make, recall, remember, say } from '../page/dom.js';
import { get, of, post } from '../server/api.js';
import { pressure } from '../units/units.js';
import { forReaders, nameInWords, valueOf } from './words.js';

/**
 * @typedef {import('../server/types.js').Said} Said
 *
 * @typedef {object} Field
 * @property {string} name
 * @property {string} label
 * @property {string} hint
 */

/** @type {Field[]} */
const FIELDS = [
  { name: 'setting-jet', label: 'Jet, mm', hint: '0.8' },
  { name: 'setting-jet-position', label: 'Jet position, mm', hint: '12' },
  { name: 'setting-choke', label: 'Choke', hint: '50 %' },
  { name: 'setting-obstruction', label: 'Obstruction', hint: '20 %' },
  { name: 'setting-lining', label: 'Lining', hint: 'new' },
  { name: 'setting-possible-jet', label: 'Jets at hand, mm', hint: '0.7, 0.8' },
];
/** Symbols under which the daemon takes the units that viewers read in. */
const PASCALS = { kPa: 1e3, bar: 1e5, psi: 6894.757 };

/** The form, made once, of whichever forge is looked at. */
export class Settings {
  /**
   * @param {HTMLElement} body
   * @param {() => number|null} gaugePa the gas pressure now, Pa; null when it is not known
   * @param {() => Promise<void>} written
   */
  constructor(body, gaugePa, written) {
    this.gaugePa = gaugePa;
    this.written = written;
    this.forge = '';
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    this.inForce = make('dl', { class: 'lines' });
    this.status = make('p', { role: 'status', class: 'log-status' });
    this.inputs = new Map(FIELDS.map((field) => [field, input(field.name, field.hint)]));
    this.mass = input('cylinder', '11.2');
    this.unit = /** @type {HTMLSelectElement} */ (make('select', { 'aria-label': 'Unit of the weighing' }));
    for (const unit of ['kg', 'lb']) {
      this.unit.add(new Option(unit, unit, false, unit === recall('unit.mass')));
    }
    this.unit.addEventListener('change', () => remember('unit.mass', this.unit.value));
    this.below = this.limit('setting-lowest-stable', 'Burns unsteadily below this pressure');
    this.above = this.limit('setting-highest-stable', 'Burns unsteadily above this pressure');
    const rows = [...this.inputs].map(([field, each]) => make('div', {}, make('label', { for: each.id }, field.label), each));
    const form = make(
      'form',
      { class: 'settings-form' },
      ...rows,
      make('div', { class: 'weighing' }, make('label', { for: this.mass.id }, 'Cylinder weighs'), this.mass, this.unit),
      make('button', { type: 'submit' }, 'Write down'),
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.submit();
    });
    body.replaceChildren(this.inForce, form, make('div', { class: 'taps' }, this.below, this.above), this.status);
  }

  /** @param {string} forge */
  async open(forge) {
    this.forge = forge;
    const asked = ++this.asked;
    try {
      const { settings } = await get(of(forge, 'settings/in-force'));
      if (asked === this.asked) {
        this.show(forReaders(settings));
      }
    } catch (failure) {
      if (asked === this.asked) {
        this.tell(`What is set cannot be read: ${message(failure)}.`, true);
      }
    }
  }

  /** @param {({name: string} & Said)[]} settings */
  show(settings) {
    const today = day(Date.now() / 1000);
    const lines = settings.map((setting) => make(
      'div',
      {},
      make('dt', {}, nameInWords(setting.name)),
      make('dd', {}, valueOf(setting, setting.name), make('small', {}, ` since ${day(setting.t) === today ? clock(setting.t) : day(setting.t)}`)),
    ));
    this.inForce.replaceChildren(...(lines.length > 0 ? lines : [make('div', {}, make('dt', {}, 'Nothing said yet'), make('dd', {}, 'as described'))]));
  }

  /**
   * @param {string} name
   * @param {string} label
   */
  limit(name, label) {
    const button = make('button', { type: 'button' }, label);
    button.addEventListener('click', async () => {
      const gaugePa = this.gaugePa();
      if (gaugePa === null || !(gaugePa > 0)) {
        this.tell('Not written down: the gas pressure is not known now. Wait for its reading, then press again.', true);
        return;
      }
      await this.write([{ route: 'settings', body: { name, ...inUnit(gaugePa) } }]);
    });
    return button;
  }

  async submit() {
    const asked = [];
    for (const [field, each] of this.inputs) {
      if (each.value.trim() !== '') {
        asked.push({ route: 'settings', body: { name: field.name, value: each.value.trim() }, input: each, label: field.label });
      }
    }
    if (this.mass.value.trim() !== '') {
      asked.push({ route: 'weighings', body: { value: this.mass.value.trim(), unit: this.unit.value }, input: this.mass, label: 'Cylinder' });
    }
    if (asked.length === 0) {
      this.tell('Nothing to write down yet: fill in what has changed.', true);
      return;
    }
    await this.write(asked);
  }

  /** @param {{route: string, body: object, input?: HTMLInputElement, label?: string}[]} asked */
  async write(asked) {
    const done = [];
    for (const each of asked) {
      each.input?.removeAttribute('aria-invalid');
      try {
        const entry = await post(of(this.forge, each.route), each.body);
        done.push(`${nameInWords(entry.name)} ${valueOf(entry, entry.name)}`);
        if (each.input) {
          each.input.value = '';
        }
      } catch (failure) {
        each.input?.setAttribute('aria-invalid', 'true');
        each.input?.focus();
        this.tell(`${done.length > 0 ? `Written down: ${done.join(', ')}. ` : ''}Not written down: ${each.label ? `${each.label}: ` : ''}${message(failure)}.`, true);
        await this.after();
        return;
      }
    }
    this.tell(`Written down: ${done.join(', ')}.`, false);
    await this.after();
  }

  async after() {
    await Promise.all([this.open(this.forge), this.written()]);
  }

  /**
   * @param {string} text
   * @param {boolean} failed
   */
  tell(text, failed) {
    this.status.classList.toggle('failed', failed);
    say(this.status, text);
  }
}

/**
 * @param {string} name
 * @param {string} hint
 */
const input = (name, hint) =>
  /** @type {HTMLInputElement} */ (make('input', { id: `set-${name}`, type: 'text', maxlength: '256', autocomplete: 'off', placeholder: hint }));

/** @param {number} gaugePa */
function inUnit(gaugePa) {
  const label = pressure().label;
  const unit = /** @type {keyof typeof PASCALS} */ (Object.hasOwn(PASCALS, label) ? label : 'kPa');
  return { value: String(Number((gaugePa / PASCALS[unit]).toFixed(unit === 'bar' ? 3 : 2))), unit };
}

/** @param {unknown} failure */
const message = (failure) => (failure instanceof Error ? failure.message : String(failure));
