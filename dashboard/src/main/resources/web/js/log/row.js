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
      if (open.getAttribute('aria-expanded') === 'true') {
        // Pressed again while its editor is being fetched.
        return;
      }
      open.setAttribute('aria-expanded', 'true');
      try {
        const { editorOf } = await import('./editor.js');
        row.append(editorOf(forge, entry, async (told) => {
          row.querySelector('form')?.remove();
          open.setAttribute('aria-expanded', 'false');
          // Others may have written meanwhile, so that the line stands elsewhere in the list.
          const list = row.parentElement;
          await corrected(told);
          const now = [...(list?.children ?? [])].find((each) => /** @type {HTMLElement} */ (each).dataset.entry === row.dataset.entry);
          /** @type {HTMLElement|null|undefined} */ (now?.querySelector('.pen'))?.focus();
        }));
        /** @type {HTMLElement|null} */ (row.querySelector('form input, form select'))?.focus();
      } catch {
        // No word from the daemon is told elsewhere.
        open.setAttribute('aria-expanded', 'false');
      }
    });
    row.append(open);
  }
  return row;
}

/**
 * Whether a line is being corrected, or about to be: it stays where it is.
 *
 * @param {HTMLElement} list
 */
export const isCorrected = (list) => list.querySelector('form, [aria-expanded="true"]') !== null;
