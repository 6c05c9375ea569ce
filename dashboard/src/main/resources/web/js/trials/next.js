/** What to try next and why, and the form that says what could be set. */
import { message } from '../burns/words.js';
import { nameInWords } from '../log/words.js';
import { day, make, say } from '../page/dom.js';
import { get, of, post } from '../server/api.js';
import { fixed } from '../units/units.js';
import { apart, ended, nameOf, sentence, settingsInWords } from './words.js';

/**
 * @typedef {import('../server/types.js').Trials} Trials
 * @typedef {import('../server/types.js').TrialProposal} TrialProposal
 * @typedef {import('../server/types.js').Said} Said
 */

const POSSIBLE = 'setting-possible-';
/** Settings that every forge has, with an example each. */
const USUAL = new Map([
  ['jet', 'mm, such as 0.7, 0.8, 0.9'],
  ['jet-position', 'mm, such as 0, 5, 10'],
  ['choke', 'such as open, half, closed'],
  ['obstruction', 'such as none, 20 %'],
  ['plug', 'in, out'],
]);

/** @type {Record<string, string>} */
const KNOWN = {
  present: 'these are the settings of now',
  tried: 'from its own burns',
  model: 'from the model of the forge',
  nothing: 'from nothing yet: nobody has tried it, and the model does not know it',
};

/**
 * @param {Trials} trials
 * @returns {HTMLElement[]}
 */
export function nextTrial(trials) {
  const { proposals, why } = trials.next;
  const first = trials.trials.flatMap((trial) => trial.figures).find((figure) => figure.figure === trials.first);
  const name = first ? nameOf(first).replace(/^./, (c) => c.toLowerCase()) : 'the first figure';
  const words = make('p', { class: 'verdict' }, ended(sentence(why)) || 'Nothing can be proposed yet.');
  if (proposals.length === 0) {
    return [words];
  }
  const [best, ...others] = proposals;
  const parts = [
    words,
    make(
      'dl',
      { class: 'lines' },
      line('Burn under', settingsInWords(best.settings)),
      line('It tells which setting is best by', bits(best.informationBits)),
      line('It tells about its own effect', bits(best.effectBits)),
      line(`Change of the ${name}`, ...expected(best)),
      line('Chance that it is best, as known now', `${fixed(100 * best.chanceBest, 0)}\u00a0%`),
      line('Known', KNOWN[best.known] ?? best.known),
    ),
    make('p', { class: 'small' }, ended(sentence(best.why))),
  ];
  if (others.length > 0) {
    parts.push(
      make('h4', {}, 'What else could be tried, the more telling first'),
      make('ol', { class: 'reasons alternatives' }, ...others.map((each) => {
        const [value, interval] = expected(each);
        return make('li', {}, make('b', {}, sentence(each.change)), make('i', {}, bits(each.informationBits)), make('span', {}, ended(sentence(each.why)), make('small', {}, `${value} (`, interval.textContent?.trim() ?? '', `), best by a chance of ${fixed(100 * each.chanceBest, 0)}\u00a0%; ${KNOWN[each.known] ?? each.known}`)));
      })),
    );
  }
  return parts;
}

/** @param {TrialProposal} proposal @returns {[string, HTMLElement]} */
function expected({ expected: by, low95, high95 }) {
  const { value, interval } = apart('%', by, low95, high95);
  return [value, make('small', {}, ` ${interval}`)];
}

/** @param {number} value */
const bits = (value) => `${fixed(value, 2)}\u00a0bit`;

/**
 * @param {string} name
 * @param {...(string|Node)} value
 */
const line = (name, ...value) => make('div', {}, make('dt', {}, name), make('dd', {}, ...value));

/** The form, made once, of whichever forge is looked at. */
export class Possible {
  /**
   * @param {HTMLElement} body
   * @param {() => void} written
   */
  constructor(body, written) {
    this.written = written;
    this.forge = '';
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    /** @type {Map<string, {input: HTMLInputElement, was: string, since: HTMLElement}>} */
    this.fields = new Map();
    this.rows = make('div', { class: 'possible-rows' });
    this.status = make('p', { role: 'status', class: 'log-status', id: 'possible-status' });
    const form = make(
      'form',
      { class: 'possible', id: 'possible-form' },
      make('p', { class: 'small' }, 'What you can set each to without building anything, with commas between: only this is proposed. Leave nothing but the present value where nothing else is possible.'),
      this.rows,
      make('button', { type: 'submit' }, 'Write down what is possible'),
      this.status,
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.submit();
    });
    body.append(form);
  }

  /**
   * @param {string} forge
   * @param {string[]} names settings that its burns had
   */
  async open(forge, names) {
    if (forge !== this.forge) {
      this.forge = forge;
      this.fields.clear();
      this.rows.replaceChildren();
      this.tell('', false);
    }
    for (const name of [...USUAL.keys(), ...names]) {
      this.field(name);
    }
    const asked = ++this.asked;
    try {
      const { settings } = await get(of(forge, 'settings/in-force'));
      if (asked === this.asked) {
        this.take(settings);
      }
    } catch (failure) {
      if (asked === this.asked) {
        this.tell(`What is marked now cannot be read: ${message(failure)}. Turn to Now and back to try again.`, true);
      }
    }
  }

  /** @param {({name: string} & Said)[]} settings in force */
  take(settings) {
    for (const setting of settings.filter((each) => each.name.startsWith(POSSIBLE))) {
      const field = this.field(setting.name.slice(POSSIBLE.length));
      const value = setting.value ?? '';
      // What is being typed stays.
      if (field.input.value === field.was) {
        field.input.value = value;
      }
      field.was = value;
      say(field.since, `marked ${day(setting.t)}: ${value}`);
    }
  }

  /** @param {string} name without what it begins with */
  field(name) {
    const had = this.fields.get(name);
    if (had) {
      return had;
    }
    const id = `possible-${name}`;
    const input = /** @type {HTMLInputElement} */ (make('input', { id, type: 'text', maxlength: '256', autocomplete: 'off', 'aria-describedby': `${id}-since` }));
    const since = make('small', { id: `${id}-since` }, `not marked yet${USUAL.has(name) ? `; ${USUAL.get(name)}` : ''}`);
    const field = { input, was: '', since };
    this.fields.set(name, field);
    this.rows.append(make('div', {}, make('label', { for: id }, sentence(nameInWords(name))), input, since));
    return field;
  }

  async submit() {
    const changed = [...this.fields].filter(([, { input, was }]) => input.value.trim() !== was);
    const emptied = changed.find(([, { input }]) => input.value.trim() === '');
    if (changed.length === 0) {
      this.tell('Nothing to write down yet: change a line first.', true);
      return;
    }
    if (emptied) {
      this.refuse(emptied[1].input, `Not written down: ${nameInWords(emptied[0])} is empty. Give the present value alone to say that nothing else is possible.`);
      return;
    }
    const done = [];
    for (const [name, field] of changed) {
      field.input.removeAttribute('aria-invalid');
      try {
        const kept = await post(of(this.forge, 'settings'), { name: POSSIBLE + name, value: field.input.value.trim() });
        field.was = field.input.value;
        this.take([kept]);
        done.push(`${nameInWords(name)} ${kept.value}`);
      } catch (failure) {
        this.refuse(field.input, `${done.length > 0 ? `Written down: ${done.join('; ')}. ` : ''}Not written down: ${message(failure)}.`);
        if (done.length > 0) {
          this.written();
        }
        return;
      }
    }
    this.tell(`Written down: ${done.join('; ')}.`, false);
    this.written();
  }

  /**
   * @param {HTMLInputElement} input
   * @param {string} words
   */
  refuse(input, words) {
    input.setAttribute('aria-invalid', 'true');
    input.focus();
    this.tell(words, true);
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
