/** Which forge the page looks at. */
import { byId, recall, remember } from '../page/dom.js';

/** @typedef {import('../server/types.js').Forge} Forge */

/** A simple list; hidden while there is only one. */
export class Chooser {
  /** @param {(forge: Forge) => void} chosen */
  constructor(chosen) {
    this.chosen = chosen;
    /** @type {Forge[]} */
    this.forges = [];
    this.select = /** @type {HTMLSelectElement} */ (byId('forge-select'));
    this.select.addEventListener('change', () => this.choose(this.select.value));
  }

  /** @param {Forge[]} forges at least one */
  offer(forges) {
    this.forges = forges;
    this.select.replaceChildren(...forges.map((forge) => new Option(forge.name, forge.id)));
    byId('chooser').hidden = forges.length < 2;
    const asked = new URLSearchParams(location.search).get('forge') ?? recall('forge');
    this.choose(forges.some((forge) => forge.id === asked) ? /** @type {string} */ (asked) : forges[0].id);
  }

  /** @param {string} id */
  choose(id) {
    const forge = this.forges.find((candidate) => candidate.id === id);
    if (!forge) {
      return;
    }
    this.select.value = id;
    remember('forge', id);
    if (this.forges.length > 1) {
      history.replaceState(null, '', `?forge=${encodeURIComponent(id)}${location.hash}`);
    }
    this.chosen(forge);
  }

  /** @param {string} id */
  nameOf(id) {
    return this.forges.find((forge) => forge.id === id)?.name ?? id;
  }
}
