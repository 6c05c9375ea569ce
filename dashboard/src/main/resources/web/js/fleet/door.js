/** The way to the screen of all forges, which is fetched when it is first looked at: one forge needs none. */
import { byId, say, styled } from '../page/dom.js';

/** Holds what is wished until the screen is there. */
export class Fleet {
  /**
   * @param {() => number} serverNow the daemon's time, seconds since 1970
   * @param {(forge: string) => void} lookAt turns to one forge
   */
  constructor(serverNow, lookAt) {
    this.serverNow = serverNow;
    this.lookAt = lookAt;
    this.wanted = false;
    /** @type {import('./screen.js').FleetScreen|null} */
    this.screen = null;
    this.fetching = false;
  }

  /** @param {number} forges how many there are */
  offer(forges) {
    byId('to-fleet').hidden = forges < 2;
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
      const style = styled(new URL('../../fleet.css', import.meta.url).pathname);
      const [{ FleetScreen }] = await Promise.all([import('./screen.js'), import('./row.js'), import('./words.js'), style]);
      this.screen = new FleetScreen(this.serverNow, this.lookAt);
      if (this.wanted) {
        this.screen.show();
      }
    } catch {
      say(byId('fleet-state'), 'This screen cannot be fetched: the daemon does not answer. Turn to Now and back to try again.');
    } finally {
      this.fetching = false;
    }
  }

  render() {
    this.screen?.render();
  }
}
