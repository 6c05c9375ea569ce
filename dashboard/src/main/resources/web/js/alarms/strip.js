/** The alarm strip: what stands, the gravest first, in shape, words, colour and sound. */
import { byId, clock, make, say } from '../page/dom.js';
import { stepsFor } from './advice.js';
import { sign } from './shapes.js';

/**
 * @typedef {import('../server/types.js').Alarm} Alarm
 * @typedef {import('../server/types.js').Priority} Priority
 *
 * @typedef {object} Notice one alarm on the strip
 * @property {string} key what tells it from others
 * @property {string} forge empty for an alarm of the page itself
 * @property {string} forgeName empty when it is the forge that is looked at
 * @property {Alarm} alarm
 */

/** @type {Priority[]} */
const ORDER = ['critical', 'high', 'medium', 'low'];

/** @type {Record<string, string>} */
const STATES = {
  acknowledged: 'acknowledged, still there',
  'returned-unacknowledged': 'gone again, not yet acknowledged',
  'latched-unacknowledged': 'cause gone, held until acknowledged',
  shelved: 'shelved',
  suppressed: 'follows from another alarm',
  'out-of-service': 'out of service',
};

/** Keeps the strip. */
export class Strip {
  /**
   * @param {(notice: Notice) => Promise<void>} acknowledge
   * @param {(forge: string) => void} lookAt
   */
  constructor(acknowledge, lookAt) {
    this.acknowledge = acknowledge;
    this.lookAt = lookAt;
    this.list = byId('notices');
    this.allWell = byId('all-well');
    /** @type {Map<string, {element: HTMLElement, shown: string}>} */
    this.rows = new Map();
  }

  /**
   * @param {Notice[]} notices
   * @param {string} quiet words when there is none
   * @returns {Priority|null} the gravest that calls
   */
  show(notices, quiet) {
    const sorted = [...notices].sort((a, b) => rank(a) - rank(b));
    const keys = new Set(sorted.map((notice) => notice.key));
    for (const [key, row] of this.rows) {
      if (!keys.has(key)) {
        row.element.remove();
        this.rows.delete(key);
      }
    }
    sorted.forEach((notice, place) => this.row(notice, place));
    this.allWell.hidden = notices.length > 0;
    say(this.allWell, quiet);
    return sorted.find((notice) => notice.alarm.callsForAttention)?.alarm.priority ?? null;
  }

  /**
   * Builds a row anew only when its words change, so that focus stays on its button while numbers tick.
   *
   * @param {Notice} notice
   * @param {number} place
   */
  row(notice, place) {
    const { alarm } = notice;
    const shown = [alarm.state, alarm.priority, alarm.why, notice.forgeName].join('|');
    let row = this.rows.get(notice.key);
    if (!row) {
      row = { element: make('article', { 'data-alarm': alarm.alarm }), shown: '' };
      this.rows.set(notice.key, row);
    }
    if (row.shown !== shown) {
      const held = row.element.contains(document.activeElement);
      row.shown = shown;
      row.element.className = classes(alarm);
      row.element.replaceChildren(...this.content(notice));
      if (held) {
        row.element.querySelector('button')?.focus();
      }
    }
    if (this.list.children[place] !== row.element) {
      this.list.insertBefore(row.element, this.list.children[place] ?? null);
    }
  }

  /**
   * @param {Notice} notice
   * @returns {Node[]}
   */
  content(notice) {
    const { alarm } = notice;
    const steps = make('ol', {}, ...stepsFor(alarm.alarm).map((step) => make('li', {}, step)));
    const grade = [`${alarm.priority} alarm`, alarm.t === null ? '' : `since ${clock(alarm.t)}`, STATES[alarm.state] ?? '']
      .filter((part) => part)
      .join(', ');
    const words = make(
      'div',
      {},
      make('h2', {}, notice.forgeName ? `${notice.forgeName}: ${alarm.title}` : alarm.title),
      make('p', { class: 'why' }, alarm.why),
      make('p', { class: 'grade' }, grade),
    );
    const act = make('div', { class: 'act' });
    if (alarm.callsForAttention) {
      act.append(this.button(notice));
    }
    if (notice.forgeName && notice.forge) {
      const look = make('button', { type: 'button' }, 'Look at it');
      look.addEventListener('click', () => this.lookAt(notice.forge));
      act.append(look);
    }
    // For the gravest the first thing to read is what to do.
    return isGrave(alarm) ? [steps, sign(alarm.priority), words, act] : [sign(alarm.priority), words, act, steps];
  }

  /** @param {Notice} notice */
  button(notice) {
    const own = notice.forge === '';
    const button = /** @type {HTMLButtonElement} */ (
      make('button', { type: 'button', class: 'acknowledge' }, own ? 'Silence' : 'Acknowledge')
    );
    button.setAttribute('aria-label', `${own ? 'Silence' : 'Acknowledge'}: ${notice.alarm.title}`);
    button.addEventListener('click', async () => {
      button.disabled = true;
      try {
        await this.acknowledge(notice);
      } finally {
        button.disabled = false;
      }
    });
    return button;
  }
}

/** @param {Alarm} alarm */
const isGrave = (alarm) => alarm.priority === 'critical' && alarm.callsForAttention;

/** @param {Alarm} alarm */
function classes(alarm) {
  if (isGrave(alarm)) {
    return 'notice calls grave';
  }
  if (alarm.callsForAttention) {
    return 'notice calls';
  }
  // What to do stays in sight while the gravest stand, heard or not.
  return alarm.priority === 'critical' && alarm.state === 'acknowledged' ? 'notice settled standing' : 'notice settled';
}

/** @param {Notice} notice */
const rank = ({ alarm }) => (alarm.callsForAttention ? 0 : 10) + ORDER.indexOf(alarm.priority);
