/** Which screen is shown: the part of the address after # says it, so that a screen can be kept, sent and gone back to. */
import { byId } from './dom.js';

/**
 * @typedef {'now'|'fleet'|'alarms'|'burns'|'trials'|'what-if'} ScreenName
 *
 * @typedef {object} Place
 * @property {ScreenName} screen
 * @property {string|null} item such as a burn's id
 */

/** The words of the first link of the page, and the heading that a screen begins with. */
const STARTS = {
  now: { words: 'To the chamber temperature', heading: 'heat' },
  fleet: { words: 'To the forges', heading: 'fleet-title' },
  alarms: { words: 'To the alarms', heading: 'alarms-title' },
  burns: { words: 'To the burns', heading: 'burns-title' },
  trials: { words: 'To the trials', heading: 'trials-title' },
  'what-if': { words: 'To what if', heading: 'what-if-title' },
};

/** Turns from one screen to another. */
export class Screens {
  /** @param {(place: Place) => string} arrived shows what is asked for and gives the id of its heading */
  constructor(arrived) {
    this.arrived = arrived;
    this.skip = byId('skip');
    this.heading = STARTS.now.heading;
    this.links = /** @type {NodeListOf<HTMLAnchorElement>} */ (document.querySelectorAll('.screens a'));
    this.skip.addEventListener('click', (event) => {
      // The address keeps saying which screen it is.
      event.preventDefault();
      this.begin();
    });
    addEventListener('hashchange', () => {
      this.turn();
      scrollTo(0, 0);
      this.begin();
    });
  }

  /** Shows what the address says. */
  turn() {
    const { screen, item } = placeOf(location.hash);
    for (const name of /** @type {ScreenName[]} */ (Object.keys(STARTS))) {
      byId(`screen-${name}`).hidden = name !== screen;
    }
    document.body.dataset.screen = screen;
    for (const link of this.links) {
      const here = link.hash === `#${screen}`;
      if (here) {
        link.setAttribute('aria-current', item === null ? 'page' : 'true');
      } else {
        link.removeAttribute('aria-current');
      }
    }
    this.skip.textContent = STARTS[screen].words;
    this.heading = this.arrived({ screen, item });
  }

  /** @param {ScreenName} screen turned to at once */
  go(screen) {
    location.hash = screen;
    this.turn();
  }

  /** Those who hear the page begin with the heading of the screen, and so does the keyboard. */
  begin() {
    byId(this.heading).focus({ preventScroll: true });
  }
}

/**
 * @param {string} hash
 * @returns {Place} an address that says nothing known is Now
 */
function placeOf(hash) {
  const [screen, ...rest] = hash.slice(1).replace(/^\//, '').split('/');
  if (screen === 'fleet' || screen === 'alarms' || screen === 'trials' || screen === 'what-if') {
    return { screen, item: null };
  }
  if (screen !== 'burns') {
    return { screen: 'now', item: null };
  }
  const item = rest.join('/');
  try {
    return { screen, item: item === '' ? null : decodeURIComponent(item) };
  } catch {
    return { screen, item: null };
  }
}
