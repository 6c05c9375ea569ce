/** The alarm strip: what stands, the gravest first, in shape, words, colour and sound. */
import { byId, clock, make, say, shortClock } from '../page/dom.js';
import { unpressed } from '../page/press.js';
import { stepsFor } from './advice.js';
import { act, button, shelves } from './hands.js';
import { STATES } from './names.js';
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
 * @property {string} [ticking] words that change with every second, not read aloud each time
 *
 * @typedef {object} Row
 * @property {HTMLElement} element
 * @property {Notice} notice as it is now
 * @property {string} shown
 * @property {boolean} shelving whether the lengths of a shelf are offered
 */

/** @type {Priority[]} */
const ORDER = ['critical', 'high', 'medium', 'low'];
/** A press that comes sooner than anybody can have read was meant for what stood there before, ms. */
const UNREAD_MS = 350;

/** Keeps the strip. */
export class Strip {
  /**
   * @param {(alarm: string) => void} silence an alarm of the page itself
   * @param {(forge: string) => void} lookAt
   */
  constructor(silence, lookAt) {
    this.silence = silence;
    this.lookAt = lookAt;
    this.list = byId('notices');
    this.allWell = byId('all-well');
    this.outOfService = byId('out-of-service');
    this.more = byId('strip-more');
    this.moreShown = '';
    /** @type {Map<string, Row>} */
    this.rows = new Map();
    // What the keyboard comes to must not lie under the strip, which stays in sight.
    new ResizeObserver(([{ target }]) => {
      const height = Math.min(/** @type {HTMLElement} */ (target).offsetHeight, innerHeight / 2);
      document.documentElement.style.scrollPaddingTop = `${Math.ceil(height)}px`;
    }).observe(byId('strip'));
  }

  /**
   * @param {Notice[]} notices
   * @param {string} quiet words when there is none
   * @param {number} most of other forges that are shown one by one; with 0 none of any forge is, for the page lists them
   * @param {string} here name of the forge that is looked at
   * @returns {Priority|null} the gravest that calls
   */
  show(notices, quiet, most, here) {
    const sorted = notices.filter(({ alarm }) => alarm.state !== 'out-of-service').sort((a, b) => rank(a) - rank(b));
    const out = notices.filter(({ alarm }) => alarm.state === 'out-of-service');
    let left = most;
    const few = sorted.filter(({ forge, forgeName }) => forge === '' || (forgeName === '' ? most > 0 : left-- > 0));
    const more = sorted.filter((notice) => !few.includes(notice));
    unpressed(this, () => {
      this.draw(few, out, quiet);
      this.drawMore(more, most > 0, here);
    });
    return sorted.find((notice) => notice.alarm.callsForAttention)?.alarm.priority ?? null;
  }

  /**
   * @param {Notice[]} sorted
   * @param {Notice[]} out
   * @param {string} quiet
   */
  draw(sorted, out, quiet) {
    const keys = new Set(sorted.map((notice) => notice.key));
    for (const [key, row] of this.rows) {
      if (!keys.has(key)) {
        row.element.remove();
        this.rows.delete(key);
      }
    }
    sorted.forEach((notice, place) => this.row(notice, place));
    this.allWell.hidden = sorted.length > 0;
    say(this.allWell, quiet);
    this.outOfService.hidden = out.length === 0;
    say(byId('out-of-service-names'), out.map(nameOf).join(', '));
  }

  /**
   * The rest in a line: the gravest by name, the others by number.
   *
   * @param {Notice[]} more
   * @param {boolean} lead whether the way to the list of forges is offered
   * @param {string} here name of the forge that is looked at
   */
  drawMore(more, lead, here) {
    this.more.hidden = more.length === 0;
    if (more.length === 0) {
      this.moreShown = '';
      return;
    }
    this.allWell.hidden = true;
    const calling = more.filter(({ alarm }) => alarm.callsForAttention);
    const forges = new Set(more.map(({ forge }) => forge)).size;
    const words = `${calling[0] ? `${calling[0].forgeName || here}: ${calling[0].alarm.title}. ` : ''}${
      count(more.length, 'alarm stands', 'alarms stand')} at ${count(forges, lead ? 'other forge' : 'forge', lead ? 'other forges' : 'forges')}, ${
      calling.length === 0 ? 'none of them calling' : `${calling.length} calling`}.`;
    // Only words that differ are written: they are read aloud.
    if (words !== this.moreShown) {
      this.moreShown = words;
      this.more.replaceChildren(words, ...(lead ? [' ', make('a', { href: '#fleet' }, 'All forges')] : []));
    }
  }

  /**
   * Builds a row anew only when its words change, so that focus stays on its button while numbers tick.
   *
   * @param {Notice} notice
   * @param {number} place
   */
  row(notice, place) {
    const { alarm } = notice;
    let row = this.rows.get(notice.key);
    const fresh = row === undefined;
    if (!row) {
      row = { element: make('article', { 'data-alarm': alarm.alarm }), notice, shown: '', shelving: false };
      this.rows.set(notice.key, row);
    }
    row.notice = notice;
    const shown = [alarm.state, alarm.priority, alarm.why, alarm.untilT ?? '', notice.forgeName, row.shelving].join('|');
    if (row.shown !== shown) {
      const held = row.element.contains(document.activeElement);
      row.shown = shown;
      row.element.className = `${classes(alarm)}${notice.forgeName ? '' : ' here'}`;
      row.element.replaceChildren(...this.content(notice, row));
      if (held) {
        row.element.querySelector('button')?.focus();
      }
    }
    const ticking = /** @type {HTMLElement|null} */ (row.element.querySelector('.ticking'));
    if (ticking) {
      say(ticking, notice.ticking ?? '');
    }
    if (this.list.children[place] !== row.element) {
      const focused = document.activeElement;
      this.list.insertBefore(row.element, this.list.children[place] ?? null);
      if (focused instanceof HTMLElement && row.element.contains(focused)) {
        // The browser takes the focus from what is moved.
        focused.focus({ preventScroll: true });
      }
    }
    if (fresh) {
      const { dataset } = row.element;
      dataset.unread = '';
      setTimeout(() => delete dataset.unread, UNREAD_MS);
    }
  }

  /**
   * @param {Notice} notice
   * @param {Row} row
   * @returns {Node[]}
   */
  content(notice, row) {
    const { alarm } = notice;
    const steps = make('ol', {}, ...stepsFor(alarm.alarm).map((step) => make('li', {}, step)));
    const title = make('h2', {}, nameOf(notice));
    const ticking = notice.ticking ? [make('p', { class: 'ticking', 'aria-hidden': 'true' })] : [];
    const words = [make('p', { class: 'why' }, alarm.why), make('p', { class: 'grade' }, grade(alarm))];
    const mark = sign(alarm.priority, alarm.state);
    // For the gravest the first thing to read is what is wrong and what to do.
    return isGrave(alarm)
      ? [mark, title, ...ticking, steps, this.acts(notice, row), make('div', { class: 'words' }, ...words)]
      : [mark, make('div', {}, title, ...ticking, ...words), this.acts(notice, row), steps];
  }

  /**
   * @param {Notice} notice
   * @param {Row} row
   */
  acts(notice, row) {
    const { alarm, forge } = notice;
    const acts = make('div', { class: 'act' });
    const turn = (/** @type {boolean} */ shelving) => {
      // When the daemon has answered, the alarm may be another by now, or over.
      if (this.rows.get(notice.key) === row) {
        row.shelving = shelving;
        row.shown = '';
        this.row(row.notice, [...this.list.children].indexOf(row.element));
      }
    };
    if (row.shelving && alarm.state !== 'shelved') {
      acts.append(shelves(forge, alarm, () => turn(false)));
      return acts;
    }
    if (alarm.callsForAttention) {
      const own = forge === '';
      const heard = button(own ? 'Silence' : 'Acknowledge', alarm.title, () =>
        own ? this.silence(alarm.alarm) : act(forge, alarm.alarm, 'acknowledge'));
      heard.className = 'acknowledge';
      acts.append(heard);
    }
    if (forge && alarm.state === 'shelved') {
      acts.append(button('Take back', `${alarm.title}, from the shelf`, () => act(forge, alarm.alarm, 'unshelve')));
    } else if (forge && alarm.state !== 'suppressed' && !isGrave(alarm)) {
      // A glove that aims at “acknowledge” must find nothing beside it, so the gravest is acknowledged first.
      acts.append(button('Shelve …', alarm.title, () => turn(true)));
    }
    if (notice.forgeName && forge) {
      acts.append(button('Look at it', notice.forgeName, () => this.lookAt(forge)));
    }
    return acts;
  }
}

/**
 * @param {number} number
 * @param {string} one
 * @param {string} many
 */
const count = (number, one, many) => `${number} ${number === 1 ? one : many}`;

/** @param {Notice} notice */
const nameOf = ({ alarm, forgeName }) => (forgeName ? `${forgeName}: ${alarm.title}` : alarm.title);

/** @param {Alarm} alarm */
const isGrave = (alarm) => alarm.priority === 'critical' && alarm.callsForAttention;

/**
 * How grave an alarm is, since when, and how it stands.
 *
 * @param {Alarm} alarm
 */
export function grade(alarm) {
  const until = alarm.untilT ? `on the shelf until ${shortClock(alarm.untilT)}` : '';
  const state = alarm.state === 'shelved' && until ? until : [STATES[alarm.state] ?? '', until].filter((part) => part).join(', ');
  return [`${alarm.priority} alarm`, alarm.t === null ? '' : `since ${clock(alarm.t)}`, state].filter((part) => part).join(', ');
}

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
