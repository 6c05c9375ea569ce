/** The Trials screen: settings side by side, what a change did, the curves, what to try next. Fetched when first shown. */
import { degrees, message } from '../burns/words.js';
import { byId, clock, make, say } from '../page/dom.js';
import { get, of, Refusal } from '../server/api.js';
import { fixed, pressure } from '../units/units.js';
import { Choice } from './choose.js';
import { comparisonOf } from './evidence.js';
import { nextTrial, Possible } from './next.js';
import { Overlay } from './overlay.js';
import { sideBySide } from './table.js';
import { ended, sentence, settingsInWords, trialName } from './words.js';

/**
 * @typedef {import('../server/types.js').Forge} Forge
 * @typedef {import('../server/types.js').Trial} Trial
 * @typedef {import('../server/types.js').Trials} Trials
 * @typedef {import('../server/types.js').TrialComparison} TrialComparison
 */

/** The first answer about many burns takes up to a minute, ms. */
const PATIENCE_MS = 120_000;
/** After that the reader wants to know that it goes on, ms. */
const LONG_MS = 6000;
const RETRY_S = 5;
const BEFORE = 'before';

/** Shows the trials of one forge. */
export class TrialsScreen {
  /** @param {() => number} now the daemon's clock, seconds since 1970 */
  constructor(now) {
    this.now = now;
    this.state = byId('trials-state');
    /** @type {Forge|null} */
    this.forge = null;
    this.shown = false;
    /** @type {Trials|null} */
    this.trials = null;
    /** The answer as it came, to see whether another differs. */
    this.text = '';
    this.asOfT = 0;
    this.asked = 0;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.timer = undefined;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.longTimer = undefined;
    /** @type {Set<string>} figures whose evidence is open */
    this.open_ = new Set();
    const which = make('section', { id: 'trials-which', 'aria-label': 'Which burns take part' });
    this.choice = new Choice(which, () => this.chosen());
    this.pair = /** @type {HTMLSelectElement} */ (make('select', { id: 'trials-pair' }));
    this.against = /** @type {HTMLSelectElement} */ (make('select', { id: 'trials-against' }));
    this.heldAgainst = make('p', { class: 'held-against' }, make('label', { for: 'trials-against' }, 'Hold each against'), this.against);
    this.table = make('div', { class: 'scroll', id: 'trials-table', tabindex: '0', role: 'group', 'aria-label': 'Trials side by side' });
    this.conditions = make('p', { class: 'small', id: 'trials-conditions' });
    this.sideSection = section('trials-side', 'Side by side', this.heldAgainst, this.table, this.conditions);
    this.verdict = make('div', { id: 'trials-verdict' });
    const looked = make('p', { class: 'held-against' }, make('label', { for: 'trials-pair' }, 'Look at'), this.pair);
    this.pairSection = section('trials-compare', 'What the change did', looked, this.verdict);
    this.curveSection = section('trials-curves', 'From gas on, over each other');
    this.curveSection.classList.add('charts');
    this.overlay = new Overlay(this.curveSection);
    this.next = make('div', { id: 'trials-next-words' });
    this.possibleDetails = /** @type {HTMLDetailsElement} */ (make('details', { id: 'trials-possible' }, make('summary', {}, 'What could be set')));
    this.possible = new Possible(this.possibleDetails, () => this.load());
    this.nextSection = section('trials-next', 'What to try next', this.next, this.possibleDetails);
    this.remarks = make('ul', { class: 'remarks', id: 'trials-remarks' });
    this.remarkSection = section('trials-mind', 'To bear in mind', this.remarks);
    byId('trials-body').replaceChildren(which, this.sideSection, this.pairSection, this.curveSection, this.nextSection, this.remarkSection);
    this.pair.addEventListener('change', () => this.showPair());
    this.against.addEventListener('change', () => {
      this.offerPairs();
      this.showPair();
      this.showTable();
    });
    this.showSections();
  }

  /** @param {Forge} forge */
  open(forge) {
    if (this.forge?.id === forge.id) {
      return;
    }
    this.forge = forge;
    this.trials = null;
    this.text = '';
    this.open_.clear();
    this.overlay.forget();
    this.choice.open(forge.id);
    this.pair.replaceChildren();
    this.against.replaceChildren();
    this.showSections();
    if (this.shown) {
      this.load();
    }
  }

  show() {
    this.shown = true;
    this.load();
  }

  hide() {
    this.shown = false;
    clearTimeout(this.timer);
  }

  /** Something was written down or a burn ended: what is shown may be old. */
  written() {
    if (this.shown) {
      this.load();
    }
  }

  /** Other burns were chosen: what was said of the earlier ones goes. */
  chosen() {
    this.trials = null;
    this.text = '';
    this.overlay.forget();
    this.showSections();
    this.load();
  }

  /** @param {string} text empty when there is nothing to say */
  tell(text) {
    this.state.hidden = text === '';
    say(this.state, text);
  }

  async load() {
    clearTimeout(this.timer);
    clearTimeout(this.longTimer);
    const { forge } = this;
    const asked = ++this.asked;
    if (!forge) {
      this.tell('Waiting for word of the forges …');
      return;
    }
    const current = () => asked === this.asked;
    if (!this.trials) {
      this.tell('Comparing the burns: this may take some seconds …');
    }
    this.longTimer = setTimeout(() => this.tell(this.trials ? 'Looking whether anything is new …' : 'Still comparing. The first time, with many burns, it takes up to a minute.'), LONG_MS);
    try {
      const trials = await get(of(forge.id, `trials${this.choice.query()}`), PATIENCE_MS);
      if (current()) {
        this.take(forge, trials);
      }
    } catch (failure) {
      if (current()) {
        this.failed(failure);
      }
    } finally {
      if (current()) {
        clearTimeout(this.longTimer);
      }
    }
  }

  /**
   * @param {Forge} forge
   * @param {Trials} trials
   */
  take(forge, trials) {
    const text = JSON.stringify(trials);
    const fresh = text !== this.text;
    this.trials = trials;
    this.text = text;
    this.asOfT = this.now();
    byId('trials-body').dataset.state = 'here';
    this.tell(emptiness(trials, this.choice.mode !== 'all'));
    if (fresh) {
      this.render();
    }
    const names = [...new Set(trials.trials.flatMap((trial) => Object.keys(trial.settings)))];
    this.possible.open(forge.id, names);
  }

  /** @param {unknown} failure */
  failed(failure) {
    const status = failure instanceof Refusal ? failure.status : 0;
    const words = ended(`: ${message(failure)}`);
    if (status === 400 || status === 404) {
      this.tell(`These burns cannot be compared${words} Choose other burns, or all of them.`);
      return;
    }
    const waitS = (failure instanceof Refusal && failure.retryAfterS) || RETRY_S;
    const again = `The page tries again by itself in ${waitS} s.`;
    byId('trials-body').dataset.state = this.trials ? 'stale' : 'gone';
    this.tell(this.trials ? `What stands here is as of ${clock(this.asOfT)}; it cannot be had anew${words} ${again}` : `The trials cannot be had${words} ${again}`);
    if (this.shown) {
      this.timer = setTimeout(() => this.load(), 1000 * waitS);
    }
  }

  showSections() {
    const count = this.trials?.trials.length ?? 0;
    this.sideSection.hidden = count === 0;
    this.curveSection.hidden = count === 0;
    this.pairSection.hidden = (this.trials?.comparisons.length ?? 0) === 0;
    this.nextSection.hidden = this.trials === null;
    this.remarkSection.hidden = (this.trials?.remarks.length ?? 0) === 0;
  }

  /** Other trials, or another unit. */
  render() {
    this.showSections();
    const { trials } = this;
    if (!trials) {
      return;
    }
    this.offerAgainst(trials);
    this.offerPairs();
    this.showTable();
    this.showPair();
    say(this.conditions, conditionsOf(trials));
    if (trials.trials.length > 0) {
      this.overlay.show(trials);
    }
    this.next.replaceChildren(...nextTrial(trials));
    if (trials.next.proposals.length === 0) {
      this.possibleDetails.open = true;
    }
    this.remarks.replaceChildren(...trials.remarks.map((each) => make('li', {}, sentence(each))));
  }

  /** @param {Trials} trials */
  offerAgainst(trials) {
    const had = this.against.value;
    const froms = new Set(trials.comparisons.map((each) => each.from));
    const options = trials.trials.filter((trial) => froms.has(trial.trial)).map((trial) => new Option(`${trialName(trial)}: ${settingsInWords(trial.settings)}`, String(trial.trial)));
    this.against.replaceChildren(new Option('the trial before it', BEFORE), ...options);
    keep(this.against, had);
    this.heldAgainst.hidden = trials.comparisons.length === 0;
  }

  /** Trials that can be held against the chosen one, the newest chosen at first. */
  offerPairs() {
    const had = this.pair.value;
    const options = (this.trials?.trials ?? []).filter((trial) => this.comparison(trial)).map((trial) => {
      const { from } = /** @type {TrialComparison} */ (this.comparison(trial));
      return new Option(`trial ${trial.trial} against trial ${from}`, String(trial.trial));
    });
    this.pair.replaceChildren(...options.reverse());
    keep(this.pair, had);
  }

  /**
   * @param {Trial} trial
   * @returns {TrialComparison|undefined} with the trial that it is held against
   */
  comparison(trial) {
    const all = this.trials?.trials ?? [];
    const from = this.against.value === BEFORE ? all[all.indexOf(trial) - 1]?.trial : Number(this.against.value);
    return this.trials?.comparisons.find((each) => each.from === from && each.to === trial.trial);
  }

  showTable() {
    if (this.trials) {
      this.table.replaceChildren(sideBySide(this.trials, (trial) => this.comparison(trial)));
    }
  }

  showPair() {
    const trial = this.trials?.trials.find((each) => String(each.trial) === this.pair.value);
    const comparison = trial && this.comparison(trial);
    if (this.trials && comparison) {
      this.verdict.replaceChildren(...comparisonOf(this.trials, comparison, this.open_));
    } else {
      this.verdict.replaceChildren(make('p', {}, 'No two trials can be held against each other yet.'));
    }
  }
}

/**
 * @param {string} id
 * @param {string} title
 * @param {...Node} parts
 */
const section = (id, title, ...parts) => make('section', { id, 'aria-labelledby': `${id}-title` }, make('h3', { id: `${id}-title` }, title), ...parts);

/**
 * @param {HTMLSelectElement} select
 * @param {string} value chosen again where it is still offered
 */
function keep(select, value) {
  if ([...select.options].some((option) => option.value === value)) {
    select.value = value;
  }
}

/** @param {Trials} trials */
function conditionsOf({ conditions, correctedWith }) {
  if (conditions === null) {
    return '';
  }
  const unit = pressure();
  const gas = `${fixed(unit.from(conditions.gasPa), unit.decimals)} ${unit.label}`;
  const model = correctedWith === 'fitted' ? 'the forge as its burns have told it' : 'the forge as described, as no burn has told more yet';
  return `Means of the burns with their 95 % intervals, brought to equal conditions: start at ${degrees(conditions.startC)}, ambient ${degrees(conditions.ambientC)}, gas at ${gas}. By the model of ${model}.`;
}

/**
 * What to do when there is little to compare; empty when there is enough.
 *
 * @param {Trials} trials
 * @param {boolean} chosen whether only some burns take part
 */
function emptiness({ trials }, chosen) {
  const burns = new Set(trials.flatMap((trial) => trial.burns)).size;
  const next = 'Then change one thing, write it down on the Now screen under “Settings and weighings”, and burn again from cold.';
  if (burns === 0) {
    return chosen ? 'None of these burns can be compared. Choose others, or all of them.' : `No burn yet. Write down on the Now screen how the forge is set, light it and let it come to the target. ${next}`;
  }
  if (trials.length > 1) {
    return '';
  }
  if (burns === 1) {
    return `One burn so far: nothing to hold it against. Burn once more under the same settings to learn how burns scatter. ${next}`;
  }
  return `${burns} burns, all under one set of settings: they tell how burns scatter, but not yet what a change does. Change one thing, write it down on the Now screen under “Settings and weighings”, and burn again from cold.`;
}
