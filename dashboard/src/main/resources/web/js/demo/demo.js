/** Buttons of the virtual forge, when one runs. */
import { get, post } from '../server/api.js';
import { byId, make, say } from '../page/dom.js';

/** Shows a button for each thing that can be triggered. */
export async function offerDemo() {
  /** @type {string[]} */
  let actions;
  try {
    actions = (await get('api/v1/demo/actions')).actions;
  } catch {
    // No word from the daemon is told elsewhere.
    actions = [];
  }
  byId('demo').hidden = actions.length === 0;
  byId('demo-actions').replaceChildren(...actions.map(button));
}

/** @param {string} action */
function button(action) {
  const words = action.replaceAll('-', ' ');
  const element = make('button', { type: 'button' }, words.charAt(0).toUpperCase() + words.slice(1));
  element.addEventListener('click', async () => {
    const status = byId('demo-status');
    try {
      await post('api/v1/demo/actions', { action });
      say(status, `Done: ${words}.`);
    } catch (failure) {
      say(status, `Not done: ${failure instanceof Error ? failure.message : failure}.`);
    }
  });
  return element;
}
