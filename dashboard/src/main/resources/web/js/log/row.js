/** One line of a log: when, what, whether it was corrected, and the way to correct it. */
import { clock, day, make } from '../page/dom.js';
import { words } from './words.js';

/** @typedef {import('../server/types.js').Entry} Entry */

/**
 * @param {string} forge
 * @param {Entry} entry
 * @param {string} remark behind the words; empty for none
 * @param {(told: string) => Promise<void>} corrected hears what was done, empty when nothing was
 */
export function rowOf(forge, entry, remark, corrected) {
  const date = day(entry.t);
  const time = make('time', { datetime: entry.time }, date === day(Date.now() / 1000) ? clock(entry.t) : `${date} ${clock(entry.t)}`);
  const said = make('span', {}, entry.withdrawn ? make('s', {}, words(entry)) : words(entry));
  const mark = entry.withdrawn ? ' (withdrawn)' : entry.corrected ? ' (corrected)' : '';
  said.append(...[mark, remark].filter((text) => text !== '').map((text) => make('small', {}, text)));
  const row = make('li', { 'data-entry': `${entry.writtenFor} ${entry.name}` }, time, said);
  if (entry.correctable) {
    const open = make('button', { type: 'button', class: 'pen', 'aria-expanded': 'false', 'aria-label': `Correct: ${words(entry)}, ${clock(entry.t)}` }, 'Correct');
    open.addEventListener('click', async () => {
      const form = row.querySelector('form');
      if (form) {
        form.remove();
        open.setAttribute('aria-expanded', 'false');
        await corrected('');
        return;
      }
      open.setAttribute('aria-expanded', 'true');
      const { editorOf } = await import('./editor.js');
      row.append(editorOf(forge, entry, async (told) => {
        row.querySelector('form')?.remove();
        const { list, at } = placeOf(row);
        await corrected(told);
        /** @type {HTMLElement|null|undefined} */ (list?.children[at]?.querySelector('.pen'))?.focus();
      }));
      /** @type {HTMLElement|null} */ (row.querySelector('form input, form select'))?.focus();
    });
    row.append(open);
  }
  return row;
}

/** @param {HTMLElement} row */
function placeOf(row) {
  const list = row.parentElement;
  return { list, at: list ? [...list.children].indexOf(row) : 0 };
}
