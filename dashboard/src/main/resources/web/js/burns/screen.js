/** The Burns screen: the list with the trend of the lining, and one burn. Fetches, and keeps what was fetched. */
import { byId, say } from '../page/dom.js';
import { forReaders } from '../log/words.js';
import { get, of, Refusal } from '../server/api.js';
import { LiningTrend } from './lining.js';
import { showList } from './list.js';
import { OneBurnPage } from './one.js';
import { message, seconds } from './words.js';

/**
 * @typedef {import('../server/types.js').Burn} Burn
 * @typedef {import('../server/types.js').Entry} Entry
 * @typedef {import('../server/types.js').Forge} Forge
 * @typedef {import('../server/types.js').Lining} Lining
 * @typedef {import('../server/types.js').Moment} Moment
 * @typedef {import('./one.js').OneBurn} OneBurn
 */

const FIRST_BURNS = 50;
/** The most that the server gives. */
const MOST_BURNS = 1000;
/** A running burn is fitted every minute or so, ms. */
const REFIT_MS = 60_000;
/** How long before a burn a setting may have been written down and still be looked for, s. */
const SETTINGS_BEFORE_S = 366 * 86_400;
const CURVE_POINTS = 600;

/** Shows the burns of one forge. */
export class BurnsScreen {
  /** @param {() => number} now the daemon's clock, seconds since 1970: the phone's own may be wrong */
  constructor(now) {
    this.now = now;
    this.lining = new LiningTrend();
    this.page = new OneBurnPage();
    this.page.corrected = () => this.load();
    this.state = byId('burns-state');
    this.older = byId('burns-older');
    /** @type {Forge|null} */
    this.forge = null;
    this.shown = false;
    /** @type {string|null} */
    this.item = null;
    this.limit = FIRST_BURNS;
    /** @type {Burn[]} */
    this.burns = [];
    this.currency = '';
    /** @type {Lining|null} */
    this.trend = null;
    this.trendTrouble = '';
    /** @type {OneBurn|null} */
    this.one = null;
    /** Counts what was asked for: an answer to an older question is dropped. */
    this.asked = 0;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.timer = undefined;
    this.older.addEventListener('click', async () => {
      this.limit = Math.min(MOST_BURNS, this.limit * 4);
      await this.load();
    });
  }

  /** @param {Forge} forge */
  open(forge) {
    if (this.forge?.id === forge.id) {
      return;
    }
    if (this.forge !== null && this.shown && this.item !== null) {
      // That burn is the other forge's.
      location.hash = 'burns';
    }
    this.forge = forge;
    this.limit = FIRST_BURNS;
    this.burns = [];
    this.trend = null;
    this.one = null;
    byId('burns-months').replaceChildren();
    this.lining.show(null, '');
    if (this.shown) {
      this.load();
    }
  }

  /**
   * @param {string|null} item the burn to show; null for all
   * @returns {string} id of the heading
   */
  show(item) {
    this.shown = true;
    this.item = item;
    byId('burns-list').hidden = item !== null;
    byId('burn-one').hidden = item === null;
    if (item !== null) {
      this.page.loading(item);
      this.neighbours();
    }
    this.load();
    return item === null ? 'burns-title' : 'burn-title';
  }

  hide() {
    this.shown = false;
    clearTimeout(this.timer);
  }

  /** The title of the window. */
  name() {
    return byId(this.item === null ? 'burns-title' : 'burn-title').textContent ?? '';
  }

  /** Another unit. */
  render() {
    if (this.item === null) {
      showList(this.burns, this.lossOf(), this.currency);
      this.lining.show(this.trend, this.trendTrouble);
    } else if (this.one) {
      this.page.show(this.one);
    }
  }

  async load() {
    clearTimeout(this.timer);
    const forge = this.forge;
    const asked = ++this.asked;
    if (!forge) {
      this.tell('Waiting for word of the forges …');
      return;
    }
    const current = () => asked === this.asked && this.shown;
    try {
      const answer = await get(of(forge.id, `burns?limit=${this.limit}`));
      if (!current()) {
        return;
      }
      this.burns = answer.burns;
      this.currency = answer.currency;
    } catch (failure) {
      if (current()) {
        this.failed(failure);
      }
      return;
    }
    if (this.item === null) {
      await this.loadTrend(forge, current);
    } else {
      this.neighbours();
      await this.loadOne(forge, this.item, current);
    }
  }

  /** @param {unknown} failure */
  failed(failure) {
    const trouble = `The burns cannot be read: ${message(failure)}. The page tries again by itself; the Now screen goes on.`;
    if (this.item === null) {
      this.tell(trouble);
    } else {
      this.page.fail(trouble);
    }
    this.again(5000);
  }

  /** @param {number} ms */
  again(ms) {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.load(), ms);
  }

  /**
   * @param {Forge} forge
   * @param {() => boolean} current
   */
  async loadTrend(forge, current) {
    try {
      const trend = await get(of(forge.id, 'lining'));
      if (!current()) {
        return;
      }
      this.trend = trend;
      this.trendTrouble = '';
    } catch (failure) {
      if (!current()) {
        return;
      }
      this.trend = null;
      this.trendTrouble = `What the lining loses cannot be read: ${message(failure)}. Turn to Now and back to try again.`;
    }
    const none = this.burns.length === 0;
    this.tell(
      none
        ? 'No burn yet. One is written down here by itself as soon as the forge is lit: open the gas, light it, and the chamber warms. Recorded burns can be taken in with the command “import”.'
        : '',
    );
    this.older.hidden = this.burns.length < this.limit || this.limit >= MOST_BURNS;
    showList(this.burns, this.lossOf(), this.currency);
    this.lining.show(none ? null : this.trend, none ? '' : this.trendTrouble);
    if (this.burns.some((burn) => burn.end === null)) {
      this.again(REFIT_MS);
    }
  }

  lossOf() {
    return new Map((this.trend?.losses ?? []).map((loss) => [loss.burn, loss]));
  }

  /** @param {string} text */
  tell(text) {
    this.state.hidden = text === '';
    say(this.state, text);
  }

  /** Links to the burns before and after. */
  neighbours() {
    const at = this.burns.findIndex((burn) => burn.id === this.item);
    for (const [id, burn] of /** @type {const} */ ([['burn-newer', this.burns[at - 1]], ['burn-older', this.burns[at + 1]]])) {
      const link = /** @type {HTMLAnchorElement} */ (byId(id));
      link.hidden = at < 0 || !burn;
      if (burn) {
        link.href = `#burns/${encodeURIComponent(burn.id)}`;
      }
    }
  }

  /**
   * @param {Forge} forge
   * @param {string} id
   * @param {() => boolean} current
   */
  async loadOne(forge, id, current) {
    const burn = this.burns.find((each) => each.id === id) ?? null;
    const { fit, noFit } = await fitOf(id, burn);
    if (!current()) {
      return;
    }
    if (burn === null && fit && fit.forge !== forge.id) {
      this.page.fail(`That is not a burn of ${forge.name}: choose its forge above, or look under “All burns”.`);
      return;
    }
    const start = burn?.start ?? fit?.start;
    if (start === undefined) {
      this.page.fail(`${noFit} It is not among the burns of ${forge.name} either: look for it under “All burns”.`);
      return;
    }
    const startT = seconds(start);
    const end = burn ? burn.end : (fit?.end ?? null);
    const toT = Math.max(end === null ? this.now() : seconds(end), fit ? seconds(fit.end) : 0, startT + 1);
    const [measured, log] = await Promise.all([fit?.curve ? [] : measuredOf(forge.id, startT, toT), logOf(forge.id, startT, toT)]);
    if (!current()) {
      return;
    }
    this.one = { forge, currency: this.currency, burn, fit, noFit, measured, ...log };
    this.page.show(this.one);
    if (burn && burn.end === null) {
      this.again(REFIT_MS);
    }
  }
}

/**
 * @param {string} id
 * @param {Burn|null} burn
 * @returns {Promise<{fit: import('./one.js').Fit|null, noFit: string}>}
 */
async function fitOf(id, burn) {
  try {
    return { fit: await get(`api/v1/burns/${encodeURIComponent(id)}/fit`), noFit: '' };
  } catch (failure) {
    if (!(failure instanceof Refusal && failure.status === 404)) {
      return { fit: null, noFit: `The fit cannot be read: ${message(failure)}. Load the page again to try once more.` };
    }
    if (burn === null) {
      return { fit: null, noFit: `Not fitted: ${failure.message}.` };
    }
    const next = burn.end === null
      ? 'it is fitted every minute while it burns, and this page looks again every minute.'
      : `a burn is fitted by itself when it has ended, which takes a while. To fit it now: the command “fit --burn ${id}”.`;
    return { fit: null, noFit: `Not fitted yet: ${next}` };
  }
}

/**
 * @param {string} forge
 * @param {number} fromT
 * @param {number} toT
 * @returns {Promise<Moment[]>} empty when nothing can be read
 */
async function measuredOf(forge, fromT, toT) {
  try {
    const series = await get(of(forge, `series?channel=chamber&from=${fromT.toFixed(3)}&to=${toT.toFixed(3)}&points=${CURVE_POINTS}`));
    return series.t.map((/** @type {number} */ t, /** @type {number} */ i) => ({
      tS: t - fromT, measuredC: series.mean[i], fittedC: null, predictedC: null, low95C: null, high95C: null,
    }));
  } catch {
    return [];
  }
}

/**
 * @param {string} forge
 * @param {number} fromT
 * @param {number} toT
 * @returns {Promise<{entries: Entry[], logTrouble: string}>}
 */
async function logOf(forge, fromT, toT) {
  try {
    // The end is not included, and the last word may be in the last second.
    const end = (toT + 1).toFixed(3);
    const ask = async (/** @type {number} */ from, /** @type {string} */ kind) =>
      /** @type {Entry[]} */ (forReaders((await get(of(forge, `entries?kind=${kind}&from=${from.toFixed(3)}&to=${end}`))).entries)).sort((a, b) => a.t - b.t);
    const [notes, settings] = await Promise.all([ask(fromT, 'note'), ask(Math.max(0, fromT - SETTINGS_BEFORE_S), 'setting')]);
    const before = settings.filter((entry) => entry.t < fromT && !entry.withdrawn);
    const inForce = new Map(before.map((entry) => [entry.name, entry]));
    const during = [...notes, ...settings.filter((entry) => entry.t >= fromT)].sort((a, b) => a.t - b.t);
    return { entries: [...inForce.values(), ...during], logTrouble: '' };
  } catch (failure) {
    return { entries: [], logTrouble: `What was written down cannot be read: ${message(failure)}.` };
  }
}
