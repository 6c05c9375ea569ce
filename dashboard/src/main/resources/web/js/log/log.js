/** The log: one tap writes down what the user did, with the time. */
import { actInWords } from '../alarms/names.js';
import { get, of, post } from '../server/api.js';
import { byId, clock, day, make, say } from '../page/dom.js';

/** @typedef {import('../server/types.js').Entry} Entry */

/** Settings that the monitor keeps for itself to outlast a restart; they say nothing to a reader. */
const KEPT = ['setting-wire-hours', 'setting-first-fire'];

/** As many as a glance takes in. */
const SHOWN = 12;

/** Keeps the log of one forge. */
export class Log {
  /** @param {(entries: Entry[]) => void} changed hears the newest entries, newest first */
  constructor(changed) {
    this.changed = changed;
    this.forge = '';
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
    await this.refresh();
  }

  async refresh() {
    const forge = this.forge;
    try {
      const [notes, settings] = await Promise.all([get(of(forge, 'notes')), get(of(forge, 'settings'))]);
      if (forge === this.forge) {
        this.show(forReaders([...notes.notes, ...settings.settings]));
      }
    } catch (failure) {
      this.tell(`The log cannot be read: ${message(failure)}.`, true);
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
    entries.sort((a, b) => b.t - a.t);
    const today = day(Date.now() / 1000);
    const rows = entries.slice(0, SHOWN).map((entry) => {
      const date = day(entry.t);
      const time = make('time', { datetime: entry.time }, date === today ? clock(entry.t) : `${date} ${clock(entry.t)}`);
      return make('li', {}, time, make('span', {}, words(entry)));
    });
    this.list.replaceChildren(...(rows.length > 0 ? rows : [make('li', { class: 'plain' }, 'Nothing written down in the last day.')]));
    this.changed(entries);
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
 * Without what the monitor wrote down for itself.
 *
 * @param {Entry[]} entries
 */
export const forReaders = (entries) => entries.filter((entry) => !KEPT.includes(entry.name));

/**
 * What was written down, in words.
 *
 * @param {Entry} entry
 */
export function words(entry) {
  if (entry.name === 'stock') {
    return `stock ${entry.text}`;
  }
  const act = actInWords(entry.name, entry.text ?? '');
  if (act) {
    return act;
  }
  if (entry.name === 'clock-step') {
    const seconds = Number(entry.text);
    return `The daemon’s clock was set ${seconds < 0 ? 'back' : 'forward'} by ${Math.abs(seconds)} s.`;
  }
  if (entry.value !== undefined) {
    return `${entry.name.replace(/^setting-/, '')} ${entry.value} ${entry.unit ?? ''}`.trim();
  }
  return entry.name === 'note' ? (entry.text ?? '') : `${entry.name}: ${entry.text}`;
}

/** @param {unknown} failure */
const message = (failure) => (failure instanceof Error ? failure.message : String(failure));
