/** All forges at a glance: those that need somebody above, the others below by their names. */
import { byId, clock, recall, remember, say, span } from '../page/dom.js';
import { unpressed } from '../page/press.js';
import { get } from '../server/api.js';
import { Row } from './row.js';
import { burns, calls, countWords, needs, ORDER } from './words.js';

/** @typedef {import('../server/types.js').FleetRow} FleetRow */

/** The daemon looks through the forges once a second, ms. */
const EVERY_MS = 1000;
/** As long as the page waits for the daemon's voice before it says that it is gone, ms. */
const SILENCE_MS = 5000;
/** Between two things said to those who hear the page, ms. */
const SAY_EVERY_MS = 10_000;
/** More names than this nobody keeps in mind. */
const MOST_NAMES = 3;
/** With more lines than a few sheets only those in sight are laid out. */
const MANY = 60;
/** So that "2" stands before "10". */
const NAMES = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });

/** Fetches what changed while it is looked at, and changes that on the page. */
export class FleetScreen {
  /**
   * @param {() => number} serverNow
   * @param {(forge: string) => void} lookAt
   */
  constructor(serverNow, lookAt) {
    this.serverNow = serverNow;
    this.lookAt = lookAt;
    /** @type {Map<string, Row>} */
    this.rows = new Map();
    this.at = '';
    this.shown = false;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.next = undefined;
    this.heardAt = -Infinity;
    this.heardT = 0;
    this.failure = '';
    this.saidAt = -Infinity;
    /** @type {Set<string>} those of which it was already said that they need a look */
    this.told = new Set();
    this.filter = /** @type {HTMLInputElement} */ (byId('fleet-filter'));
    this.only = byId('fleet-only');
    this.only.setAttribute('aria-pressed', String(recall('fleet.only') === '1'));
    this.only.addEventListener('click', () => {
      const pressed = !this.pressed;
      this.only.setAttribute('aria-pressed', String(pressed));
      remember('fleet.only', pressed ? '1' : '0');
      this.arrange();
    });
    this.filter.addEventListener('input', () => this.arrange());
    document.addEventListener('visibilitychange', () => this.ask());
  }

  get pressed() {
    return this.only.getAttribute('aria-pressed') === 'true';
  }

  show() {
    this.shown = true;
    this.ask();
  }

  hide() {
    this.shown = false;
    clearTimeout(this.next);
  }

  /** Asks now, and then each second while anybody can see the answer. */
  async ask() {
    clearTimeout(this.next);
    if (!this.shown || document.visibilityState === 'hidden') {
      return;
    }
    const turn = {};
    this.turn = turn;
    try {
      const answer = await get(`api/v1/fleet${this.at ? `?since=${encodeURIComponent(this.at)}` : ''}`);
      if (this.turn === turn) {
        this.heardAt = performance.now();
        this.heardT = answer.serverT;
        this.failure = '';
        this.take(answer);
      }
    } catch (failure) {
      this.failure = failure instanceof Error ? failure.message : String(failure);
    }
    if (this.turn === turn && this.shown) {
      this.tick();
      this.next = setTimeout(() => this.ask(), EVERY_MS);
    }
  }

  /** @param {import('../server/types.js').FleetAnswer} answer */
  take({ at, all, rows }) {
    this.at = at;
    let moved = all;
    if (all) {
      const there = new Set(rows.map((row) => row.forge));
      for (const id of this.rows.keys()) {
        if (!there.has(id)) {
          this.rows.delete(id);
        }
      }
    }
    const nowT = this.serverNow();
    for (const data of rows) {
      const row = this.rows.get(data.forge);
      if (row) {
        moved ||= placeKey(row.data) !== placeKey(data);
        row.show(data, nowT);
      } else {
        const fresh = new Row(data, this.lookAt);
        fresh.show(data, nowT);
        this.rows.set(data.forge, fresh);
        moved = true;
      }
    }
    if (moved) {
      // A line must not slip away under the finger that is about to press it.
      unpressed(this, () => this.arrange());
    }
  }

  /** Puts every line where it belongs, moving only those that stand elsewhere. */
  arrange() {
    const wanted = this.filter.value.trim().toLocaleLowerCase();
    const only = this.pressed;
    const shown = [...this.rows.values()].filter(({ data }) =>
      data.name.toLocaleLowerCase().includes(wanted) && (!only || needs(data) || burns(data)));
    shown.sort((a, b) => ORDER.indexOf(a.data.attention) - ORDER.indexOf(b.data.attention) || NAMES.compare(a.data.name, b.data.name));
    const above = shown.filter(({ data }) => needs(data));
    const below = shown.filter(({ data }) => !needs(data));
    const focused = document.activeElement;
    this.fill('fleet-needs', above);
    this.fill('fleet-others', below);
    if (focused instanceof HTMLElement && focused !== document.activeElement && focused.isConnected && focused.closest('#screen-fleet')) {
      focused.focus({ preventScroll: true });
    }
    say(byId('fleet-others-title'), above.length > 0 ? 'The others' : 'All of them');
    say(byId('fleet-title'), countWords([...this.rows.values()].map(({ data }) => data)));
    say(byId('fleet-shown'), this.shownWords(shown.length, wanted, only));
  }

  /**
   * @param {string} section whose list it is
   * @param {Row[]} rows
   */
  fill(section, rows) {
    byId(section).hidden = rows.length === 0;
    const list = byId(`${section}-list`);
    list.classList.toggle('many', rows.length > MANY);
    const wanted = new Set(rows.map((row) => row.element));
    for (const element of [...list.children]) {
      if (!wanted.has(/** @type {HTMLElement} */ (element))) {
        element.remove();
      }
    }
    let place = list.firstElementChild;
    for (const { element } of rows) {
      if (element === place) {
        place = place.nextElementSibling;
      } else {
        list.insertBefore(element, place);
      }
    }
  }

  /**
   * @param {number} count
   * @param {string} wanted
   * @param {boolean} only
   */
  shownWords(count, wanted, only) {
    if (this.rows.size === 0 || count === this.rows.size) {
      return '';
    }
    if (count > 0) {
      return `${count} of ${this.rows.size} shown.`;
    }
    const which = only ? 'that burns or needs somebody' : '';
    return `None of ${this.rows.size} forges ${[which, wanted ? `has “${this.filter.value.trim()}” in its name` : ''].filter((part) => part).join(' and ')}. ${
      wanted ? 'Empty the field to see them again.' : 'Press “Burning or calling” again to see all.'}`;
  }

  /** Those who hear the page are told who needs a look, by name and seldom; alarms speak for themselves on the strip. */
  announce() {
    const quiet = [...this.rows.values()].filter(({ data }) => needs(data) && !calls(data));
    const keys = new Map(quiet.map(({ data }) => [`${data.forge} ${data.attention}`, data]));
    // One that recovers and falls silent again is told again.
    this.told.forEach((key) => keys.has(key) || this.told.delete(key));
    const fresh = [...keys].filter(([key]) => !this.told.has(key)).map(([, data]) => data);
    const now = performance.now();
    const first = this.saidAt === -Infinity;
    if (!first && (fresh.length === 0 || now - this.saidAt < SAY_EVERY_MS)) {
      return;
    }
    this.saidAt = now;
    this.told = new Set(keys.keys());
    // What stood there when the screen was opened is read with it.
    if (!first) {
      const names = fresh.slice(0, MOST_NAMES).map((data) => `${data.name}: ${SAID[data.attention] ?? ''}`);
      say(byId('fleet-said'), `${names.join('. ')}${fresh.length > MOST_NAMES ? `, and ${fresh.length - MOST_NAMES} more` : ''}.`);
    }
  }

  /** Ages that grow, and whether anything comes at all. */
  tick() {
    const nowT = this.serverNow();
    for (const row of this.rows.values()) {
      if (row.data.silentSinceT !== undefined) {
        row.tick(nowT);
      }
    }
    const silentMs = performance.now() - this.heardAt;
    const gone = this.failure !== '' && silentMs > SILENCE_MS;
    byId('screen-fleet').dataset.state = this.rows.size === 0 ? 'empty' : gone ? 'gone' : 'live';
    const state = byId('fleet-state');
    const words = this.stateWords(gone, silentMs / 1000);
    state.hidden = words === '';
    say(state, words);
    if (this.rows.size > 0) {
      this.announce();
    }
  }

  /**
   * @param {boolean} gone
   * @param {number} silentS
   */
  stateWords(gone, silentS) {
    if (this.rows.size > 0) {
      return gone ? `Not now: this is how it was at ${clock(this.heardT)}, ${span(silentS)} ago. ${this.failure[0].toUpperCase()}${this.failure.slice(1)}; it is asked again each second.` : '';
    }
    return this.failure
      ? `The forges cannot be fetched: ${this.failure}. It is tried again each second.`
      : 'No forge yet. Describe each in the configuration under [[forge]].';
  }

  /** In other units. */
  render() {
    const nowT = this.serverNow();
    this.rows.forEach((row) => row.show(row.data, nowT));
  }
}

/** @type {Record<string, string>} */
const SAID = {
  standing: 'a critical alarm is still there',
  flame: 'the flame may be out',
  silent: 'fallen silent',
  never: 'not heard of',
};

/**
 * What decides on where a forge stands and whether it is shown.
 *
 * @param {FleetRow} row
 */
const placeKey = (row) => `${row.attention} ${burns(row)} ${row.name}`;
