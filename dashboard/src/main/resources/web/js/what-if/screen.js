/** The What if screen: what the forge would do if it were changed, beside today. Fetched when it is first looked at. */
import { byId, make, say } from '../page/dom.js';
import { get, of, post, Refusal } from '../server/api.js';
import { TwoCurves } from './curves.js';
import { Form } from './form.js';
import { showResult } from './result.js';

/**
 * @typedef {import('../server/types.js').Forge} Forge
 * @typedef {import('../server/types.js').WhatIfKeys} WhatIfKeys
 * @typedef {import('../server/types.js').WhatIfAnswer} WhatIfAnswer
 */

/** Two predictions on a small board with others waiting, ms. */
const PATIENCE_MS = 120_000;
/** The daemon asks to be left alone for so long when it is busy, ms. */
const BUSY_MS = 5000;
/** Names this page among those who ask: a newer question takes the place of an older one. */
const PAGE = Math.random().toString(36).slice(2);

/** Asks about one forge. */
export class WhatIfScreen {
  constructor() {
    this.place = byId('what-if-body');
    this.state = byId('what-if-state');
    /** @type {Forge|null} */
    this.forge = null;
    this.shown = false;
    /** @type {WhatIfKeys|null} */
    this.keys = null;
    /** @type {WhatIfAnswer|null} */
    this.answer = null;
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.timer = undefined;
    this.build();
  }

  build() {
    this.place.replaceChildren(
      make('form', { id: 'what-if-form', class: 'what-if-form', novalidate: '' }),
      make(
        'div',
        { id: 'what-if-result', class: 'what-if-result', hidden: '' },
        make('p', { id: 'what-if-stale', class: 'state', hidden: '' }, 'The form has been changed since: press “Work it out” again.'),
        make('p', { id: 'what-if-words', class: 'verdict' }),
        make('div', { id: 'what-if-table' }),
        make('section', { class: 'charts', 'aria-labelledby': 'what-if-curve-title' },
          make('h3', { id: 'what-if-curve-title' }, 'Heating up'),
          make('ul', { class: 'line-key' },
            make('li', {}, make('span', { class: 'line-predicted', 'aria-hidden': 'true' }), 'today, and 95 % of what is likely'),
            make('li', {}, make('span', { class: 'line-changed', 'aria-hidden': 'true' }), 'changed, likewise')),
          make('figure', {}, make('figcaption', { id: 'what-if-caption' }), make('div', { id: 'what-if-chart', class: 'chart', role: 'img', 'aria-labelledby': 'what-if-caption' })),
          make('details', { id: 'what-if-numbers' }, make('summary', {}, 'The same as numbers'),
            make('div', { id: 'what-if-rows', class: 'scroll', tabindex: '0', role: 'group', 'aria-label': 'Heating up, today and changed' }))),
        make('section', { 'aria-labelledby': 'what-if-learnt-title' }, make('h3', { id: 'what-if-learnt-title' }, 'What this rests on'), make('div', { id: 'what-if-learnt' })),
        make('section', { 'aria-labelledby': 'what-if-keep-title' }, make('h3', { id: 'what-if-keep-title' }, 'Keep it'), make('div', { id: 'what-if-keep' })),
      ),
    );
    this.form = new Form(byId('what-if-form'), () => this.work(), () => {
      byId('what-if-stale').hidden = this.answer === null;
    });
    this.curves = new TwoCurves();
  }

  /** @param {Forge|null} forge */
  open(forge) {
    if (this.forge?.id === forge?.id) {
      return;
    }
    this.forge = forge;
    this.keys = null;
    this.clear();
    this.form.clear();
    if (this.shown) {
      this.load();
    }
  }

  clear() {
    this.asked++;
    this.answer = null;
    byId('what-if-result').hidden = true;
  }

  show() {
    this.shown = true;
    // Settings may have been written down meanwhile; what was typed in stays.
    if (this.keys === null) {
      this.load();
    }
    this.render();
  }

  hide() {
    this.shown = false;
    clearTimeout(this.timer);
  }

  /** Another unit. */
  render() {
    if (this.keys) {
      this.form.render();
    }
    if (this.answer && this.keys) {
      showResult(this.answer, this.keys, (path, body) => post(of(this.forge?.id ?? '', path), body));
      this.curves.show(this.answer);
    }
  }

  async load() {
    clearTimeout(this.timer);
    const forge = this.forge;
    if (!forge) {
      this.tell('Waiting for word of the forges …');
      return;
    }
    this.tell('Fetching how the forge is today …');
    const asked = ++this.asked;
    try {
      const keys = await get(of(forge.id, 'what-if'));
      if (asked !== this.asked) {
        return;
      }
      this.keys = keys;
      this.form.open(keys);
      this.tell(keys.basis === 'fitted' ? '' : 'No burn of this forge has been fitted yet, so today’s forge is as described: after a burn the bands become narrower.');
    } catch (failure) {
      if (asked === this.asked) {
        this.tell(`How the forge is today cannot be read: ${failure instanceof Error ? failure.message : failure}. The page tries again by itself.`);
        this.timer = setTimeout(() => this.load(), BUSY_MS);
      }
    }
  }

  async work() {
    const { forge, keys } = this;
    if (!forge || !keys) {
      return;
    }
    const changes = this.form.changes();
    if (changes === null) {
      return;
    }
    clearTimeout(this.timer);
    const asked = ++this.asked;
    this.tell('Working it out: two forges, each with many that are as likely. That takes some seconds …');
    this.form.busy(true);
    try {
      const answer = await post(of(forge.id, 'what-if'), { page: PAGE, changes }, PATIENCE_MS);
      if (asked !== this.asked) {
        return;
      }
      this.answer = answer;
      this.tell('');
      byId('what-if-stale').hidden = true;
      byId('what-if-result').hidden = false;
      this.render();
    } catch (failure) {
      if (asked === this.asked) {
        this.refused(failure);
      }
    } finally {
      if (asked === this.asked) {
        this.form.busy(false);
      }
    }
  }

  /** @param {unknown} failure */
  refused(failure) {
    const words = failure instanceof Error ? failure.message : String(failure);
    if (failure instanceof Refusal && failure.status === 400) {
      this.tell(`That cannot be worked out: ${words}`);
    } else if (failure instanceof Refusal && failure.status === 503) {
      this.tell(`Not yet: ${words}. The page asks again by itself.`);
      this.timer = setTimeout(() => this.work(), BUSY_MS);
    } else {
      this.tell(`It could not be worked out: ${words}. What you set is still here: press “Work it out” to try again.`);
    }
  }

  /** @param {string} text */
  tell(text) {
    this.state.hidden = text === '';
    say(this.state, text);
  }
}
