/** The way to the What if screen, which is fetched when it is first looked at: few look every day. */
import { byId, say, styled } from '../page/dom.js';

/** @typedef {import('../server/types.js').Forge} Forge */

/** Holds what is known until the screen is there. */
export class WhatIf {
  constructor() {
    /** @type {Forge|null} */
    this.forge = null;
    this.wanted = false;
    /** @type {import('./screen.js').WhatIfScreen|null} */
    this.screen = null;
    this.fetching = false;
  }

  /** @param {Forge} forge */
  open(forge) {
    this.forge = forge;
    this.screen?.open(forge);
  }

  /** @param {boolean} shown */
  turn(shown) {
    this.wanted = shown;
    if (this.screen) {
      shown ? this.screen.show() : this.screen.hide();
    } else if (shown && !this.fetching) {
      this.fetch();
    }
  }

  async fetch() {
    this.fetching = true;
    try {
      // Without its style it would be laid out twice, and what is pressed meanwhile would slip away.
      const style = styled(new URL('../../what-if.css', import.meta.url).pathname);
      const [{ WhatIfScreen }] = await Promise.all([import('./screen.js'), import('./curves.js'), import('./form.js'), import('./result.js'), style]);
      this.screen = new WhatIfScreen();
      this.screen.open(this.forge);
      if (this.wanted) {
        this.screen.show();
      }
    } catch {
      say(byId('what-if-state'), 'This screen cannot be fetched: the daemon does not answer. Turn to Now and back to try again.');
    } finally {
      this.fetching = false;
    }
  }

  render() {
    this.screen?.render();
  }
}
