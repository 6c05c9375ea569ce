/** Corrects one entry: what it says, when it applied, or that it is withdrawn. What it said before stays in its history. */
import { userName } from '../alarms/hands.js';
import { clock, day, make, say } from '../page/dom.js';
import { of, post } from '../server/api.js';
import { valueOf, words } from './words.js';

/**
 * @typedef {import('../server/types.js').Entry} Entry
 * @typedef {import('../server/types.js').Said} Said
 */

let made = 0;

/**
 * @param {string} forge
 * @param {Entry} entry
 * @param {(told: string) => Promise<void>} done
 */
export function editorOf(forge, entry, done) {
  const id = `correct-${++made}`;
  const value = entry.name === 'plug' ? inOrOut(id, entry) : make('input', { id, type: 'text', maxlength: '3700', autocomplete: 'off', value: valueOf(entry, entry.name) });
  const before = local(entry.t);
  const time = make('input', { id: `${id}-time`, type: 'datetime-local', step: '1', value: before });
  const trouble = make('p', { role: 'status', class: 'log-status' });
  const withdraw = make('button', { type: 'button' }, 'Withdraw');
  const leave = make('button', { type: 'button' }, 'Leave as it is');
  const form = make(
    'form',
    { class: 'editor', 'aria-label': `Correct: ${words(entry)}` },
    make('label', { for: id }, 'What it should say'),
    value,
    make('label', { for: `${id}-time` }, 'When it applied'),
    time,
    make('div', { class: 'editor-acts' }, make('button', { type: 'submit' }, 'Correct'), ...(entry.withdrawn ? [] : [withdraw]), leave),
    trouble,
    ...historyOf(entry),
  );
  const send = async (/** @type {object} */ change) => {
    try {
      const { entry: now } = await post(of(forge, 'entries/correct'), { writtenFor: entry.writtenFor, name: entry.name, by: userName(), ...change });
      await done(now.withdrawn ? `Withdrawn: ${words(entry)}.` : `Corrected: ${words(now)}, ${clock(now.t)}.`);
    } catch (failure) {
      trouble.classList.add('failed');
      say(trouble, `Not corrected: ${failure instanceof Error ? failure.message : failure}.`);
    }
  };
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    const said = /** @type {HTMLInputElement} */ (value).value.trim();
    const at = /** @type {HTMLInputElement} */ (time).value;
    const change = {
      ...(said !== valueOf(entry, entry.name) || entry.withdrawn ? { value: said } : {}),
      ...(at !== before && at !== '' ? { time: new Date(at).toISOString() } : {}),
    };
    if (said === '' || Object.keys(change).length === 0) {
      say(trouble, said === '' ? 'Say what it should be, or withdraw it.' : 'Nothing is changed yet.');
      return;
    }
    send(change);
  });
  withdraw.addEventListener('click', () => send({ withdraw: true }));
  leave.addEventListener('click', () => done(''));
  form.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') {
      done('');
    }
  });
  return form;
}

/**
 * @param {string} id
 * @param {Entry} entry
 */
function inOrOut(id, entry) {
  const select = /** @type {HTMLSelectElement} */ (make('select', { id }));
  for (const word of ['in', 'out']) {
    select.add(new Option(word, word, false, word === entry.value));
  }
  return select;
}

/** @param {Entry} entry */
function historyOf(entry) {
  if (entry.history.length === 0) {
    return [];
  }
  const steps = entry.history.map((step) => make('li', {}, `${day(step.atT)} ${clock(step.atT)}${step.by === '' ? '' : `, ${step.by}`}: ${changeInWords(step.before, step.after, entry.name)}`));
  return [make('p', { class: 'small' }, 'What was changed:'), make('ol', { class: 'history' }, ...steps)];
}

/**
 * @param {Said} before
 * @param {Said} after
 * @param {string} name
 */
function changeInWords(before, after, name) {
  if (after.withdrawn) {
    return `withdrawn; it said ${valueOf(before, name)}`;
  }
  const parts = [];
  if (before.withdrawn) {
    parts.push('stands again');
  }
  if (valueOf(before, name) !== valueOf(after, name)) {
    parts.push(`${valueOf(before, name)} became ${valueOf(after, name)}`);
  }
  if (before.t !== after.t) {
    parts.push(`moved from ${clock(before.t)} to ${day(after.t)} ${clock(after.t)}`);
  }
  return parts.join('; ');
}

/**
 * As a field for local time takes it.
 *
 * @param {number} t seconds since 1970
 */
function local(t) {
  const date = new Date(t * 1000);
  return new Date(date.getTime() - date.getTimezoneOffset() * 60_000).toISOString().slice(0, 19);
}
