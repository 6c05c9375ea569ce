/** Keeps a phone's screen on while the user wants it, and says whether it does. */
import { byId, recall, remember, say } from '../page/dom.js';

const CANNOT = isSecureContext
  ? 'This browser cannot keep the screen on: make the device’s own screen time-out longer.'
  : 'Browsers keep the screen on only for a page of https or of this machine itself: make the device’s own screen time-out longer.';

export function offerWakeLock() {
  const button = /** @type {HTMLButtonElement} */ (byId('wake'));
  const state = byId('wake-state');
  if (!('wakeLock' in navigator)) {
    button.hidden = true;
    say(state, `Screen: ${CANNOT}`);
    return;
  }
  /** @type {WakeLockSentinel|null} */
  let lock = null;
  let wanted = recall('wake') === 'on';
  let refused = false;

  const show = () => {
    button.setAttribute('aria-pressed', String(wanted));
    if (lock) {
      say(state, 'Screen: stays on while this page is in front.');
    } else if (!wanted) {
      say(state, 'Screen: may go dark by itself.');
    } else {
      say(state, refused
        ? 'Screen: the device does not let it stay on now (battery saver?). The page asks again when it comes to the front.'
        : 'Screen: asking for it to stay on …');
    }
  };
  const take = async () => {
    if (lock || document.visibilityState !== 'visible') {
      return;
    }
    try {
      const taken = await navigator.wakeLock.request('screen');
      lock = taken;
      refused = false;
      // The browser takes it away from a page in the background, and from any page when the battery is low.
      taken.addEventListener('release', () => {
        lock = lock === taken ? null : lock;
        show();
      });
      if (!wanted) {
        await taken.release();
      }
    } catch {
      refused = true;
    }
    show();
  };
  button.addEventListener('click', async () => {
    wanted = !wanted;
    remember('wake', wanted ? 'on' : 'off');
    show();
    if (wanted) {
      await take();
    } else {
      await lock?.release();
    }
  });
  document.addEventListener('visibilitychange', () => {
    if (wanted) {
      take();
    }
  });
  show();
  if (wanted) {
    take();
  }
}
