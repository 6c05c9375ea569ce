/** Settings side by side: a column for each trial, a line for each setting and each figure. */
import { nameInWords } from '../log/words.js';
import { make } from '../page/dom.js';
import { apart, ended, keyOf, mark, nameOf, sentence, shown, trialName, unitOf, worth } from './words.js';

/**
 * @typedef {import('../server/types.js').Trials} Trials
 * @typedef {import('../server/types.js').Trial} Trial
 * @typedef {import('../server/types.js').TrialFigureOfAll} TrialFigureOfAll
 * @typedef {import('../server/types.js').TrialComparison} TrialComparison
 */

/**
 * On a narrow screen the cells stand below each other: the roles are said so that it stays a table to those who hear it.
 *
 * @param {Trials} trials
 * @param {(trial: Trial) => TrialComparison|undefined} comparisonOf with the trial that it is held against
 */
export function sideBySide(trials, comparisonOf) {
  const head = trials.trials.map((trial) => {
    const burns = `${trial.burns.length} ${trial.burns.length === 1 ? 'burn' : 'burns'}`;
    return make('th', { scope: 'col', role: 'columnheader' }, make('b', {}, trialName(trial)), make('small', {}, trial.present ? `${burns}, set now` : burns));
  });
  return make(
    'table',
    { class: 'side', role: 'table' },
    make('caption', { class: 'unseen' }, 'Trials side by side: settings, then figures with their 95 % intervals'),
    make('thead', { role: 'rowgroup' }, make('tr', { role: 'row' }, make('th', { scope: 'col', role: 'columnheader' }, make('span', { class: 'unseen' }, 'what')), ...head)),
    make('tbody', { role: 'rowgroup' }, ...settingRows(trials.trials)),
    make('tbody', { role: 'rowgroup' }, ...figureRows(trials, comparisonOf)),
  );
}

/** @param {Trial[]} trials */
function settingRows(trials) {
  const names = [...new Set(trials.flatMap((trial) => Object.keys(trial.settings)))].sort();
  return names.map((name) => {
    const cells = trials.map((trial, i) => {
      const value = trial.settings[name];
      const changed = i > 0 && value !== trials[i - 1].settings[name];
      const text = value ?? 'not said';
      return cell(trial, changed ? 'changed' : '', changed ? make('b', {}, text) : text, ...(changed ? [make('small', {}, 'changed')] : []));
    });
    return row(nameInWords(name), '', '', cells);
  });
}

/**
 * @param {Trials} trials
 * @param {(trial: Trial) => TrialComparison|undefined} comparisonOf
 */
function figureRows(trials, comparisonOf) {
  /** @type {Map<string, TrialFigureOfAll>} */
  const keys = new Map();
  trials.trials.forEach((trial) => trial.figures.forEach((figure) => keys.has(keyOf(figure)) || keys.set(keyOf(figure), figure)));
  return [...keys].map(([key, named]) => {
    const cells = trials.trials.map((trial) => {
      const figure = trial.figures.find((each) => keyOf(each) === key);
      return figure ? figureCell(trial, figure, comparisonOf(trial)) : cell(trial, '', 'not told');
    });
    const first = named.figure === trials.first;
    const row_ = row(nameOf(named), unitOf(named), first ? 'verdicts rest on this' : '', cells);
    row_.classList.toggle('first-figure', first);
    row_.dataset.figure = key;
    return row_;
  });
}

/**
 * @param {Trial} trial
 * @param {TrialFigureOfAll} figure
 * @param {TrialComparison|undefined} comparison
 */
function figureCell(trial, figure, comparison) {
  if (figure.value === null) {
    const why = [figure.because && ended(`because ${sentence(figure.because).replace(/^./, (c) => c.toLowerCase())}`), figure.would && ended(`To tell: ${figure.would}`)];
    return cell(trial, 'untold', 'cannot tell', make('small', {}, sentence(why.filter(Boolean).join(' '))));
  }
  const { value, interval } = shown(figure, figure.value, figure.low95, figure.high95);
  /** @type {(Node|string)[]} */
  const parts = [make('b', {}, value), make('small', {}, interval)];
  const held = comparison?.figures.find((each) => keyOf(each) === keyOf(figure));
  if (held && held.difference !== null) {
    const by = apart(held.differenceUnit, held.difference, null, null).value;
    parts.push(make('small', { class: 'held' }, `${by} `, mark(held.verdict, held.verdict === 'real' ? worth(figure.better, held.difference) : '')));
  }
  if (figure.because) {
    parts.push(make('small', {}, sentence(figure.because)));
  }
  return cell(trial, '', ...parts);
}

/**
 * @param {Trial} trial
 * @param {string} kind
 * @param {...(Node|string)} parts
 */
const cell = (trial, kind, ...parts) => make('td', { role: 'cell', class: kind, 'data-trial': trialName(trial) }, make('div', {}, ...parts));

/**
 * @param {string} name
 * @param {string} unit
 * @param {string} remark
 * @param {HTMLElement[]} cells
 */
function row(name, unit, remark, cells) {
  const more = [unit ? make('small', {}, unit) : '', remark ? make('small', {}, `☞ ${remark}`) : ''];
  return make('tr', { role: 'row' }, make('th', { scope: 'row', role: 'rowheader' }, name, ...more), ...cells);
}
