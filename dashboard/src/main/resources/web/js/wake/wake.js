/** Keeps a phone's screen on while the user wants it. */
import { byId, say } from '../page/dom.js';

export function offerWakeLock() {
  const button = /** @type {HTMLButtonElement} */ (byId('wake'));
  /** @type {WakeLockSentinel|null} */
  let lock = null;
  let wanted = false;
  if (!('wakeLock' in navigator)) {
    button.hidden = true;
    return;
  }
  const show = () => button.setAttribute('aria-pressed', String(wanted));
  const take = async () => {
    try {
      lock = await navigator.wakeLock.request('screen');
      say(byId('foot-status'), 'The screen stays on while this page is in front.');
    } catch {
      wanted = false;
      say(byId('foot-status'), 'The browser does not let the page keep the screen on: set it in the phone’s settings.');
    }
    show();
  };
  button.addEventListener('click', async () => {
    wanted = !wanted;
    if (wanted) {
      await take();
    } else {
      await lock?.release();
      lock = null;
      say(byId('foot-status'), 'The screen may go dark again.');
      show();
    }
  });
  // The browser takes the lock away from a page in the background.
  document.addEventListener('visibilitychange', () => {
    if (wanted && document.visibilityState === 'visible') {
      take();
    }
  });
}
