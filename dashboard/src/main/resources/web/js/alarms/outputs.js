/** The ways by which alarms leave the daemon beside this page: how they are, and a test of each. */
import { byId, clock, longDay, make, say } from '../page/dom.js';
import { get, post } from '../server/api.js';
import { button } from './hands.js';

/** @typedef {import('../server/types.js').Output} Output */

const AGAIN_MS = 5000;
/** A test answers when the peer has: some ten seconds at most, and a slow network. */
const TEST_PATIENCE_MS = 20_000;

/** @type {Record<string, string>} */
const KINDS = { mqtt: 'MQTT broker', webhook: 'web address', mail: 'e-mail', command: 'your own program' };

/** State in words, and a shape before it. @type {Record<Output['state'], [string, string]>} */
const STATES = {
  idle: ['○', 'nothing sent yet'],
  ok: ['✓', 'the latest message arrived'],
  waiting: ['…', 'a message is on its way'],
  failing: ['✕', 'failing'],
};

/** Shows them while the screen is in front. */
export class Outputs {
  constructor() {
    this.list = byId('outputs');
    this.state = byId('outputs-state');
    /** @type {Map<string, {element: HTMLElement, words: HTMLElement, detail: HTMLElement, counts: HTMLElement}>} */
    this.rows = new Map();
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
      const { outputs } = await get('api/v1/outputs');
      this.state.hidden = outputs.length > 0;
      say(this.state, 'None is configured, so alarms reach nobody who does not look at a page. Add one under [[output]] in the configuration.');
      this.draw(outputs);
    } catch (failure) {
      this.state.hidden = false;
      say(this.state, `How they are cannot be told: ${failure instanceof Error ? failure.message : failure}. It is asked for again by itself.`);
    }
  }

  /** @param {Output[]} outputs */
  draw(outputs) {
    for (const [name, row] of this.rows) {
      if (!outputs.some((output) => output.name === name)) {
        row.element.remove();
        this.rows.delete(name);
      }
    }
    for (const output of outputs) {
      const row = this.rows.get(output.name) ?? this.add(output);
      const [shape, words] = STATES[output.state];
      row.element.classList.toggle('failing', output.state === 'failing');
      say(row.words, `${shape} ${words}${output.lastSentAt ? `; last at ${when(output.lastSentAt)}` : ''}`);
      say(row.detail, output.detail);
      say(row.counts, counts(output));
    }
  }

  /** @param {Output} output */
  add(output) {
    const words = make('p', { class: 'words' });
    const detail = make('p', { class: 'small' });
    const counted = make('p', { class: 'small' });
    const answer = make('p', { class: 'answer', role: 'status' });
    const test = button('Send a test', output.name, async () => {
      say(answer, 'Sending …');
      answer.classList.remove('failed');
      try {
        const { done, words: told } = await post(`api/v1/outputs/${encodeURIComponent(output.name)}/test`, {}, TEST_PATIENCE_MS);
        answer.classList.toggle('failed', !done);
        say(answer, `${done ? '✓ The test went out' : '✕ The test failed'} at ${clock(Date.now() / 1000)}: ${told}`);
      } catch (failure) {
        answer.classList.add('failed');
        say(answer, `✕ The test could not be sent: ${failure instanceof Error ? failure.message : failure}.`);
      }
      this.load();
    });
    const element = make(
      'li',
      { 'data-output': output.name },
      make('div', {}, make('h4', {}, output.name, make('small', {}, ` ${KINDS[output.kind] ?? output.kind}`)), words, detail, counted),
      test,
      answer,
    );
    this.list.append(element);
    const row = { element, words, detail, counts: counted };
    this.rows.set(output.name, row);
    return row;
  }
}

/** @param {Output} output */
function counts({ sent, failed, waiting, dropped }) {
  const parts = [`${sent} arrived`];
  for (const [count, words] of /** @type {const} */ ([[waiting, 'on the way'], [failed, 'given up'], [dropped, 'lost from a full queue']])) {
    if (count > 0) {
      parts.push(`${count} ${words}`);
    }
  }
  return `Since the daemon started: ${parts.join(', ')}.`;
}

/** @param {string} time */
function when(time) {
  const t = Date.parse(time) / 1000;
  const date = longDay(t);
  return date === longDay(Date.now() / 1000) ? clock(t) : `${date} ${clock(t)}`;
}
