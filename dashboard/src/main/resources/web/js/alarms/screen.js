/** The Alarms screen: what stands, what happened, what is out of service, and the ways by which alarms leave the daemon. */
import { byId, clock, longDay, make, recall, remember, say } from '../page/dom.js';
import { unpressed } from '../page/press.js';
import { get, of } from '../server/api.js';
import { pressure, fixed, temperature } from '../units/units.js';
import { stepsFor } from './advice.js';
import { act, button, shelves } from './hands.js';
import { STEPS, TITLES } from './names.js';
import { Kept } from './kept.js';
import { Outputs } from './outputs.js';
import { sign } from './shapes.js';
import { grade } from './strip.js';

/**
 * @typedef {import('../server/types.js').Alarm} Alarm
 * @typedef {import('../server/types.js').AlarmStep} AlarmStep
 * @typedef {import('../server/types.js').Forge} Forge
 */

const FIRST_STEPS = 50;
/** The most that the server gives. */
const MOST_STEPS = 1000;
/** Whose deciding value is a temperature, °C, or a pressure, Pa. */
const TEMPERATURES = ['flame-out', 'chamber-over-limit', 'chamber-high', 'shell-high', 'wire-over-temperature'];
const PRESSURES = ['gas-pressure-high'];

/** Shows the alarms of one forge. */
export class AlarmsScreen {
  /** @param {() => number} now the daemon's clock, seconds since 1970 */
  constructor(now) {
    this.now = now;
    this.state = byId('alarms-state');
    this.status = byId('alarms-status');
    this.list = byId('standing');
    this.older = byId('journal-older');
    this.outputs = new Outputs();
    this.kept = new Kept();
    /** @type {Forge|null} */
    this.forge = null;
    /** @type {Alarm[]|null} null before the first word */
    this.alarms = null;
    /** @type {AlarmStep[]} */
    this.steps = [];
    this.limit = FIRST_STEPS;
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    this.shown = false;
    this.drawn = '';
    /** @type {string|null} the alarm whose shelf lengths are offered */
    this.shelving = null;
    this.older.addEventListener('click', () => {
      this.limit = Math.min(MOST_STEPS, 4 * this.limit);
      this.load();
    });
    this.offerName();
    this.offerOutOfService();
  }

  /** @returns {string} id of the heading */
  show() {
    this.shown = true;
    this.drawn = '';
    this.draw();
    this.load();
    this.outputs.watch();
    this.kept.watch();
    return 'alarms-title';
  }

  hide() {
    this.shown = false;
    this.outputs.rest();
    this.kept.rest();
  }

  /** @param {Forge} forge */
  open(forge) {
    this.forge = forge;
    this.alarms = null;
    this.steps = [];
    this.limit = FIRST_STEPS;
    this.shelving = null;
    byId('journal').replaceChildren();
    this.draw();
    this.reload();
  }

  /** @param {Alarm[]} alarms as they stand now */
  take(alarms) {
    // What stands with the first word may have been raised since the journal was asked for.
    const before = key(this.alarms ?? []);
    this.alarms = alarms;
    // A press on a row that is replaced meanwhile would be lost.
    unpressed(this, () => this.draw());
    if (before !== key(alarms)) {
      this.reload();
    }
  }

  /** After a break, or when something happened. */
  reload() {
    if (this.shown) {
      this.load();
    }
  }

  async load() {
    const forge = this.forge?.id;
    const state = byId('journal-state');
    if (!forge) {
      return;
    }
    const asked = ++this.asked;
    try {
      const { journal } = await get(of(forge, `alarms?limit=${this.limit}`));
      if (asked !== this.asked || forge !== this.forge?.id) {
        return;
      }
      this.steps = journal;
      state.hidden = journal.length > 0;
      say(state, 'Nothing has happened yet: no alarm was ever raised here.');
      this.drawJournal();
    } catch (failure) {
      if (asked !== this.asked) {
        return;
      }
      state.hidden = false;
      say(state, `The journal cannot be read: ${failure instanceof Error ? failure.message : failure}. It is asked for again with the next alarm, or when you come back to this screen.`);
    }
  }

  /** Another unit. */
  render() {
    this.drawn = '';
    this.draw();
    this.drawJournal();
  }

  /** Draws only what changed, so that the focus stays. */
  draw() {
    const alarms = this.alarms;
    const drawn = `${this.forge?.id}|${alarms ? key(alarms) : ''}|${this.shelving}|${alarms?.map((alarm) => alarm.why).join('|')}`;
    if (!this.shown || drawn === this.drawn) {
      return;
    }
    this.drawn = drawn;
    this.state.hidden = alarms !== null && alarms.length > 0;
    say(this.state, alarms ? 'No alarm stands, and none is shelved or out of service.' : 'Waiting for word from the daemon …');
    const held = /** @type {HTMLElement|null} */ (document.activeElement?.closest('#standing article'))?.dataset.alarm;
    this.list.replaceChildren(...(alarms ?? []).map((alarm) => this.row(alarm)));
    if (held) {
      /** @type {HTMLElement|null} */ (this.list.querySelector(`[data-alarm="${held}"] button`))?.focus();
    }
  }

  /** @param {Alarm} alarm */
  row(alarm) {
    const forge = this.forge?.id ?? '';
    const value = valueOf(alarm);
    return make(
      'article',
      { class: `standing-row ${alarm.callsForAttention ? 'calling' : ''}`, 'data-alarm': alarm.alarm },
      sign(alarm.priority, alarm.state),
      make(
        'div',
        {},
        make('h4', {}, alarm.title, ...(value ? [make('b', {}, ` ${value}`)] : [])),
        make('p', { class: 'grade' }, grade(alarm)),
        make('p', {}, alarm.why),
        ...(alarm.state === 'out-of-service' ? [] : [make('p', { class: 'small' }, stepsFor(alarm.alarm).join(' '))]),
      ),
      make('div', { class: 'act' }, ...this.acts(forge, alarm)),
    );
  }

  /**
   * @param {string} forge
   * @param {Alarm} alarm
   */
  acts(forge, alarm) {
    const ask = (/** @type {import('./hands.js').Act} */ what, more = {}) => act(forge, alarm.alarm, what, more, this.status);
    const turn = (/** @type {string|null} */ shelving) => {
      this.shelving = shelving;
      this.draw();
    };
    if (alarm.state === 'out-of-service') {
      return [button('Put back into service', alarm.title, () => ask('service', { out: false }))];
    }
    if (alarm.state === 'shelved') {
      return [button('Take back', `${alarm.title}, from the shelf`, () => ask('unshelve'))];
    }
    if (this.shelving === alarm.alarm) {
      return [shelves(forge, alarm, () => turn(null))];
    }
    const shelf = button('Shelve …', alarm.title, () => turn(alarm.alarm));
    return alarm.callsForAttention ? [button('Acknowledge', alarm.title, () => ask('acknowledge')), shelf] : [shelf];
  }

  drawJournal() {
    let date = '';
    const rows = [];
    for (const step of this.steps) {
      const on = longDay(step.t);
      if (on !== date) {
        date = on;
        rows.push(make('li', { class: 'day' }, on));
      }
      rows.push(journalRow(step));
    }
    byId('journal').replaceChildren(...rows);
    this.older.hidden = this.steps.length < this.limit || this.limit >= MOST_STEPS;
  }

  offerName() {
    const input = /** @type {HTMLInputElement} */ (byId('user-name'));
    input.value = recall('name') ?? '';
    input.addEventListener('input', () => remember('name', input.value.trim()));
  }

  offerOutOfService() {
    const select = /** @type {HTMLSelectElement} */ (byId('service-alarm'));
    select.append(...Object.entries(TITLES).map(([code, title]) => new Option(title, code)));
    byId('service-form').addEventListener('submit', async (event) => {
      event.preventDefault();
      const name = /** @type {HTMLInputElement} */ (byId('user-name'));
      if (name.value.trim() === '') {
        this.status.hidden = false;
        say(this.status, 'Write your name first: whoever finds the alarm out of service must know whom to ask.');
        name.focus();
        return;
      }
      if (this.forge && (await act(this.forge.id, select.value, 'service', { out: true }, this.status))) {
        this.status.hidden = false;
        say(this.status, `“${TITLES[select.value]}” is out of service until somebody puts it back.`);
      }
    });
  }
}

/** @param {AlarmStep} step */
function journalRow(step) {
  const value = valueOf(step);
  return make(
    'li',
    {},
    make('time', { datetime: step.time }, clock(step.t)),
    sign(step.priority, step.state),
    make(
      'span',
      {},
      make('b', {}, step.title),
      ` ${STEPS[step.state] ?? step.state}${value ? ` at ${value}` : ''} `,
      make('small', {}, `(${step.priority}) ${step.why}`),
    ),
  );
}

/**
 * The value that decided, in the viewer's unit; the words beside it tell the others.
 *
 * @param {{alarm: string, value: number|null}} alarm
 */
function valueOf({ alarm, value }) {
  if (value === null) {
    return '';
  }
  const unit = TEMPERATURES.includes(alarm) ? temperature() : PRESSURES.includes(alarm) ? pressure() : null;
  return unit ? `${fixed(unit.from(value), unit.decimals)} ${unit.label}` : '';
}

/** @param {Alarm[]} alarms */
const key = (alarms) => alarms.map(({ alarm, state, priority, untilT, t }) => [alarm, state, priority, untilT, t].join(':')).join('|');
