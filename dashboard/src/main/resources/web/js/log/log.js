/** The log: one tap writes down what the user did, with the time. */
import { get, of, post } from '../server/api.js';
import { byId, clock, make, say } from '../page/dom.js';
import { unpressed } from '../page/press.js';
import { isCorrected, rowOf } from './row.js';
import { forReaders, words } from './words.js';

/** @typedef {import('../server/types.js').Entry} Entry */

/** As many as a glance takes in. */
const SHOWN = 12;

/** Keeps the log of one forge. */
export class Log {
  /**
   * @param {(entries: Entry[]) => void} changed hears the newest entries, newest first
   * @param {() => number|null} gaugePa the gas pressure now, Pa; null when it is not known
   */
  constructor(changed, gaugePa) {
    this.changed = changed;
    this.gaugePa = gaugePa;
    /** @type {import('./settings.js').Settings|null} */
    this.settings = null;
    this.details = /** @type {HTMLDetailsElement} */ (byId('settings'));
    this.details.addEventListener('toggle', () => this.showSettings());
    this.forge = '';
    /** Counts what was asked for: an answer to an older question is dropped, for it may come after a newer one. */
    this.asked = 0;
    this.status = byId('log-status');
    this.list = byId('log-list');
    this.input = /** @type {HTMLInputElement} */ (byId('note-text'));
    byId('taps').addEventListener('click', (event) => {
      const button = /** @type {HTMLElement} */ (event.target).closest('button');
      if (button) {
        this.write(button.dataset.name ?? 'note', button.dataset.value ?? '');
      }
    });
    byId('note-form').addEventListener('submit', async (event) => {
      event.preventDefault();
      const text = this.input.value.trim();
      if (text === '') {
        this.tell('Nothing to write down yet: type a remark first.', true);
      } else if (await this.write('note', text)) {
        this.input.value = '';
      }
    });
  }

  /** @param {string} forge */
  async open(forge) {
    this.forge = forge;
    this.tell('', false);
    await Promise.all([this.refresh(), this.showSettings()]);
  }

  /** Looks up what is set, once somebody wants to see it. */
  async showSettings() {
    if (!this.details.open || this.forge === '') {
      return;
    }
    if (this.settings === null) {
      const { Settings } = await import('./settings.js');
      this.settings ??= new Settings(byId('settings-body'), this.gaugePa, () => this.refresh());
    }
    await this.settings.open(this.forge);
  }

  async refresh() {
    const asked = ++this.asked;
    try {
      const { entries } = await get(of(this.forge, 'entries'));
      if (asked === this.asked) {
        this.show(forReaders(entries));
      }
    } catch (failure) {
      if (asked === this.asked) {
        this.tell(`The log cannot be read: ${message(failure)}.`, true);
      }
    }
  }

  /**
   * @param {string} name
   * @param {string} value
   * @returns {Promise<boolean>} whether it is in the store
   */
  async write(name, value) {
    try {
      const body = name === 'plug' ? { name, value } : { name, text: value };
      const entry = /** @type {Entry} */ (await post(of(this.forge, name === 'plug' ? 'settings' : 'notes'), body));
      this.tell(`Written down at ${clock(entry.t)}: ${words(entry)}.`, false);
      await this.refresh();
      return true;
    } catch (failure) {
      this.tell(`Not written down: ${message(failure)}. Try again.`, true);
      return false;
    }
  }

  /** @param {Entry[]} entries */
  show(entries) {
    this.changed(entries.filter((entry) => !entry.withdrawn));
    // A press on a line that is replaced meanwhile would be lost.
    const { forge } = this;
    unpressed(this, () => this.draw(forge, entries));
  }

  /**
   * @param {string} forge
   * @param {Entry[]} entries
   */
  draw(forge, entries) {
    if (isCorrected(this.list)) {
      return;
    }
    const rows = entries.slice(0, SHOWN).map((entry) => rowOf(forge, entry, '', (told) => this.corrected(told)));
    // Whoever stands on a line with the keyboard goes on standing there.
    const held = /** @type {HTMLElement|null} */ (this.list.querySelector('li:focus-within'))?.dataset.entry;
    this.list.replaceChildren(...(rows.length > 0 ? rows : [make('li', { class: 'plain' }, 'Nothing written down in the last day.')]));
    if (held !== undefined) {
      rows.find((row) => row.dataset.entry === held)?.querySelector('button')?.focus();
    }
  }

  /** @param {string} told what was done, in words; empty when nothing was */
  async corrected(told) {
    if (told !== '') {
      this.tell(told, false);
    }
    await Promise.all([this.refresh(), this.showSettings()]);
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

/** @param {unknown} failure */
const message = (failure) => (failure instanceof Error ? failure.message : String(failure));
