/** Where readings are kept: the daemon's own file, and how far a database server is behind it. */
import { byId, clock, longDay, make, say } from '../page/dom.js';
import { get } from '../server/api.js';

/** @typedef {import('../server/types.js').StoreState} StoreState */
/** @typedef {import('../server/types.js').DatabaseServer} DatabaseServer */

const AGAIN_MS = 5000;
/** Posts are under way all the time, so that a little always waits. */
const CAUGHT_UP_S = 10;

/** Shows it while the screen is in front. */
export class Kept {
  constructor() {
    this.list = byId('kept');
    this.state = byId('kept-state');
    this.file = this.add('file', 'The daemon’s own disk');
    /** @type {{element: HTMLElement, words: HTMLElement, detail: HTMLElement}|null} */
    this.server = null;
    /** @type {ReturnType<typeof setInterval>|undefined} */
    this.timer = undefined;
  }

  watch() {
    this.rest();
    this.load();
    this.timer = setInterval(() => this.load(), AGAIN_MS);
  }

  rest() {
    clearInterval(this.timer);
  }

  async load() {
    try {
      this.draw(await get('api/v1/store'));
      this.state.hidden = true;
    } catch (failure) {
      this.state.hidden = false;
      say(this.state, `Where readings are kept cannot be told: ${failure instanceof Error ? failure.message : failure}. It is asked for again by itself.`);
    }
  }

  /** @param {StoreState} store */
  draw({ state, backlog, server }) {
    const fails = state !== 'ok';
    this.file.element.classList.toggle('failing', fails);
    say(this.file.words, fails ? '✕ takes nothing' : '✓ takes what comes');
    say(this.file.detail, fails ? `${state}. ${many(backlog)} wait in memory.` : '');
    if (!server) {
      this.server?.element.remove();
      this.server = null;
      return;
    }
    this.server ??= this.add('server', 'The database server');
    this.server.element.classList.toggle('failing', !server.reachable);
    const [words, detail] = told(server);
    say(this.server.words, words);
    say(this.server.detail, detail);
  }

  /**
   * @param {string} name
   * @param {string} title
   */
  add(name, title) {
    const words = make('p', { class: 'words' });
    const detail = make('p', { class: 'small' });
    const element = make('li', { 'data-kept': name }, make('div', {}, make('h4', {}, title), words, detail));
    this.list.append(element);
    return { element, words, detail };
  }
}

/**
 * @param {DatabaseServer} server
 * @returns {[string, string]} its state, and what there is to say of it
 */
export function told({ reachable, waiting, behindS, awaySince, detail, dropped, refused, lastRefusal }) {
  const parts = [];
  let words = '✓ has everything';
  if (!reachable) {
    words = `✕ takes nothing${awaySince ? ` since ${when(awaySince)}` : ''}`;
    parts.push(waiting > 0 ? `${many(waiting)} wait on the daemon’s disk, the oldest for ${time(behindS)}.` : 'Nothing waits for it yet.');
    parts.push(`Why: ${detail}.`);
  } else if (waiting > 0 && behindS >= CAUGHT_UP_S) {
    words = `… catching up, ${time(behindS)} behind`;
    parts.push(`${many(waiting)} wait on the daemon’s disk.`);
  }
  if (dropped > 0) {
    parts.push(`More waited than may: ${many(dropped)} were set aside, to come from the daemon’s file later.`);
  }
  if (refused > 0) {
    parts.push(`It refused ${refused.toLocaleString()} ${refused === 1 ? 'line' : 'lines'}${lastRefusal ? `, the last with: ${lastRefusal}` : ''}.`);
  }
  return [words, parts.join(' ')];
}

/** @param {number} count */
function many(count) {
  return count === 1 ? '1 reading or entry' : `${count.toLocaleString()} readings and entries`;
}

/** @param {number} seconds */
function time(seconds) {
  if (seconds < 90) {
    return `${Math.round(seconds)} s`;
  }
  return seconds < 5400 ? `${Math.round(seconds / 60)} min` : `${(seconds / 3600).toFixed(1)} h`;
}

/** @param {string} at */
function when(at) {
  const t = Date.parse(at) / 1000;
  const date = longDay(t);
  return date === longDay(Date.now() / 1000) ? clock(t) : `${date} ${clock(t)}`;
}
