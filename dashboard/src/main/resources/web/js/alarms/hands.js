/** What a user does about alarms: asks the daemon, and says so when it did not happen. */
import { byId, make, recall, say } from '../page/dom.js';
import { of, post, Refusal } from '../server/api.js';

/**
 * @typedef {import('../server/types.js').Alarm} Alarm
 * @typedef {'acknowledge'|'shelve'|'unshelve'|'service'} Act
 */

/** As the record has it when the user of this device gave no name. */
const UNNAMED = 'page';

/** Lengths of a shelf, min. The daemon takes at most 15 for a critical alarm and 480 for any other. */
const CRITICAL_SHELVES = [5, 15];
const SHELVES = [15, 60, 240, 480];

export const userName = () => recall('name')?.trim() || UNNAMED;

/**
 * @param {string} forge
 * @param {string} alarm
 * @param {Act} act
 * @param {object} [more] of the request
 * @param {HTMLElement} [status] where a failure is said
 * @returns {Promise<boolean>} whether it was done
 */
export async function act(forge, alarm, act, more = {}, status = byId('strip-status')) {
  status.hidden = true;
  try {
    await post(of(forge, `alarms/${alarm}/${act}`), { ...more, by: userName() });
    return true;
  } catch (failure) {
    // 409: somebody else was quicker, and the stream brings that.
    if (failure instanceof Refusal && failure.status === 409) {
      return true;
    }
    status.hidden = false;
    say(status, `Not done: ${failure instanceof Error ? failure.message : failure}. Try again.`);
    return false;
  }
}

/**
 * A button that cannot be pressed twice while it works.
 *
 * @param {string} label
 * @param {string} about read with the label
 * @param {() => Promise<unknown>|void} press
 */
export function button(label, about, press) {
  const made = /** @type {HTMLButtonElement} */ (make('button', { type: 'button', 'aria-label': `${label}: ${about}` }, label));
  made.addEventListener('click', async () => {
    // Not “disabled”: the keyboard would lose its place.
    if (made.ariaDisabled === 'true') {
      return;
    }
    made.ariaDisabled = 'true';
    try {
      await press();
    } finally {
      made.ariaDisabled = 'false';
    }
  });
  return made;
}

/**
 * The lengths of a shelf as buttons.
 *
 * @param {string} forge
 * @param {Alarm} alarm
 * @param {() => void} done
 */
export function shelves(forge, alarm, done) {
  const lengths = alarm.priority === 'critical' ? CRITICAL_SHELVES : SHELVES;
  return make(
    'div',
    { class: 'shelves', role: 'group', 'aria-label': `Silence ${alarm.title} for` },
    make('span', {}, 'Silence it for'),
    ...lengths.map((minutes) => {
      const words = minutes < 60 ? `${minutes} min` : `${minutes / 60} h`;
      return button(words, `shelve ${alarm.title}`, async () => {
        if (await act(forge, alarm.alarm, 'shelve', { minutes })) {
          done();
        }
      });
    }),
    button('Not now', `do not shelve ${alarm.title}`, done),
  );
}
