/** What the user sees of the sound: whether it works, a switch, and a test of every pattern. */
import { byId, say } from '../page/dom.js';

/**
 * @typedef {import('../server/types.js').Priority} Priority
 * @typedef {import('./sound.js').Sound} Sound
 */

/** @type {Record<import('./sound.js').SoundState, string>} */
const WORDS = {
  works: 'Sound: works.',
  blocked: 'Sound: silent until you touch the page, for so the browser wants it.',
  off: 'Sound: switched off on this device.',
  none: 'Sound: this browser can make none.',
};

/** Why alarms would be silent, in a line at the end of the screen. @type {Record<string, string>} */
const SILENT = {
  blocked: 'Alarms are silent until you touch the page.',
  off: 'Alarms are silent: sound is off here.',
  none: 'Alarms are silent: no sound in this browser.',
};

/**
 * @param {Sound} sound
 * @returns {() => void} shows the state anew
 */
export function offerSound(sound) {
  const toggle = byId('sound-switch');
  const notice = byId('sound-notice');
  const show = () => {
    const { state } = sound;
    notice.hidden = state === 'works';
    say(byId('sound-words'), SILENT[state] ?? '');
    byId('sound-on').hidden = state === 'none';
    toggle.hidden = state === 'none';
    toggle.setAttribute('aria-pressed', String(sound.on));
    byId('sound-state').dataset.state = state;
    say(byId('sound-state'), WORDS[state]);
  };
  byId('sound-on').addEventListener('click', () => sound.turn(true));
  toggle.addEventListener('click', () => sound.turn(!sound.on));
  const test = async (/** @type {Priority} */ priority, /** @type {HTMLElement} */ status) => {
    const sounds = await sound.test(priority);
    say(status, sounds ? `That is how a ${priority} alarm sounds. Not heard? Turn the volume up.` : 'The browser made no sound.');
  };
  byId('sound-test').addEventListener('click', () => test('critical', byId('foot-status')));
  for (const button of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('#sound-tests button'))) {
    button.addEventListener('click', () => test(/** @type {Priority} */ (button.dataset.priority), byId('sound-tests-status')));
  }
  show();
  return show;
}
