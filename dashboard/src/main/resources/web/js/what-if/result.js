/** What comes of a change: figures today and changed, by how much they differ and whether that can be told. */
import { degrees, difference, digits, duration, termOf } from '../burns/words.js';
import { byId, make, say } from '../page/dom.js';
import { fixed, pressure } from '../units/units.js';

/**
 * @typedef {import('../server/types.js').WhatIfAnswer} WhatIfAnswer
 * @typedef {import('../server/types.js').WhatIfDifference} WhatIfDifference
 * @typedef {import('../server/types.js').WhatIfKeys} WhatIfKeys
 * @typedef {import('../server/types.js').Predicted} Predicted
 *
 * @typedef {object} Line
 * @property {string} name
 * @property {string} [figure] of the differences; none where nothing is known of how sure it is
 * @property {(of: Predicted) => (number|null)[]} band value, low and high
 * @property {(value: number) => string} show
 * @property {(by: number) => string} step with its sign
 * @property {string} more the word for a rise
 * @property {string} less
 * @property {string} question in words
 */

const sign = (/** @type {number} */ value, /** @type {string} */ text) => `${value > 0 ? '+' : value < 0 ? '−' : ''}${text}`;
const grams = (/** @type {number} */ kg) => `${fixed(kg, kg < 1 ? 3 : 2)}\u00a0kg/h`;
const gauge = (/** @type {number} */ pa) => `${fixed(pressure().from(pa), pressure().decimals)}\u00a0${pressure().label}`;

/** @type {Line[]} */
const LINES = [
  { name: 'Time to target', figure: 'timeToTarget', band: (of) => [of.timeToTargetS, of.timeToTargetLow95S, of.timeToTargetHigh95S], show: duration, step: (by) => sign(by, duration(Math.abs(by))), more: 'later', less: 'sooner', question: 'Sooner at the target?' },
  { name: 'Steady temperature', figure: 'steady', band: (of) => [of.steadyC, of.steadyLow95C, of.steadyHigh95C], show: degrees, step: difference, more: 'hotter', less: 'cooler', question: 'Hotter?' },
  { name: 'Idle pressure, soaked', figure: 'idlePressure', band: (of) => [of.idle.pressurePa, of.idle.pressureLow95Pa, of.idle.pressureHigh95Pa], show: gauge, step: (by) => sign(by, gauge(Math.abs(by))), more: 'more', less: 'less', question: 'Held at less pressure?' },
  { name: 'Gas at idle', figure: 'idleGas', band: (of) => [of.idle.kgPerHour, of.idle.kgPerHourLow95, of.idle.kgPerHourHigh95], show: grams, step: (by) => sign(by, grams(Math.abs(by))), more: 'more', less: 'less', question: 'Less gas to hold the target?' },
  { name: 'Gas while heating up', band: (of) => [of.flame.kgPerHour, null, null], show: grams, step: (by) => sign(by, grams(Math.abs(by))), more: 'more', less: 'less', question: '' },
  { name: 'Shell, soaked', figure: 'shell', band: (of) => [of.steadyShellC, of.steadyShellLow95C, of.steadyShellHigh95C], show: degrees, step: difference, more: 'hotter', less: 'cooler', question: 'A cooler shell?' },
  { name: 'Loss at the target', figure: 'loss', band: (of) => [of.lossWPerK, of.lossLow95WPerK, of.lossHigh95WPerK], show: (w) => `${fixed(w, 2)}\u00a0W/K`, step: (by) => sign(by, `${fixed(Math.abs(by), Math.max(2, digits(Math.abs(by))))}\u00a0W/K`), more: 'more', less: 'less', question: 'Less heat lost?' },
  { name: 'Mixture', band: (of) => [of.flame.mixture, null, null], show: (m) => `λ\u00a0${fixed(m, 2)}${m < 1 ? ', rich' : m > 1 ? ', lean' : ''}`, step: (by) => sign(by, fixed(Math.abs(by), 2)), more: 'leaner', less: 'richer', question: '' },
  { name: 'Carbon monoxide, leaving', band: (of) => [of.flame.carbonMonoxidePpm, null, null], show: share, step: (by) => sign(by, share(Math.abs(by))), more: 'more', less: 'less', question: '' },
];

/** @param {number} ppm */
function share(ppm) {
  return ppm >= 1000 ? `${fixed(ppm / 1e4, 1)}\u00a0%` : `${fixed(ppm, 0)}\u00a0ppm`;
}

/** Above this the flue holds more than a place to breathe in forgives: words beside it say so. Common practice, no source. */
const MUCH_CO_PPM = 10_000;

/**
 * @param {WhatIfAnswer} answer
 * @param {WhatIfKeys} keys
 * @param {(path: string, body: object) => Promise<any>} send
 */
export function showResult(answer, keys, send) {
  const lines = keys.gasPricePerKg === null || keys.currency === '' ? LINES : withCost(keys.gasPricePerKg, keys.currency);
  showTable(answer, lines);
  showWords(answer, lines);
  showLearnt(answer);
  showKeep(answer, send);
}

/**
 * @param {number} price
 * @param {string} currency
 */
function withCost(price, currency) {
  const money = (/** @type {number} */ amount) => `${fixed(amount, 2)}\u00a0${currency}/h`;
  const idle = /** @type {Line} */ (LINES.find((line) => line.figure === 'idleGas'));
  const at = LINES.indexOf(idle) + 1;
  const cost = { ...idle, name: 'Cost at idle', question: '', show: (/** @type {number} */ kg) => money(price * kg), step: (/** @type {number} */ by) => sign(by, money(price * Math.abs(by))) };
  return [...LINES.slice(0, at), cost, ...LINES.slice(at)];
}

/** @param {(number|null)[]} band */
const bandWords = ([, low, high], /** @type {Line} */ line) =>
  low === null && high === null ? '' : low === null ? `up to ${line.show(/** @type {number} */ (high))}` : high === null ? `from ${line.show(low)}, or never` : `${line.show(low)} to ${line.show(high)}`;

/**
 * @param {WhatIfAnswer} answer
 * @param {Line[]} lines
 */
function showTable(answer, lines) {
  const heads = ['', 'today', 'changed', 'difference'];
  const rows = lines.map((line) => {
    const [was, is] = [line.band(answer.today), line.band(answer.changed)];
    const cell = (/** @type {(number|null)[]} */ band, /** @type {string} */ head) =>
      make('td', { role: 'cell', 'data-head': head }, make('b', {}, band[0] === null ? 'never' : line.show(band[0])), make('small', {}, bandWords(band, line)));
    return make('tr', { role: 'row', 'data-figure': line.name }, make('th', { role: 'rowheader', scope: 'row' }, line.name), cell(was, 'today'), cell(is, 'changed'), differenceCell(answer, line, was[0], is[0]));
  });
  byId('what-if-table').replaceChildren(make('table', { class: 'what-if-rows', role: 'table' },
    make('caption', { class: 'unseen' }, 'Today, changed, and the difference, each with its 95 % interval'),
    make('thead', { role: 'rowgroup' }, make('tr', { role: 'row' }, ...heads.map((name) => make('th', { role: 'columnheader', scope: 'col' }, name)))),
    make('tbody', { role: 'rowgroup' }, ...rows)));
}

/**
 * @param {WhatIfAnswer} answer
 * @param {Line} line
 * @param {number|null} was
 * @param {number|null} is
 */
function differenceCell(answer, line, was, is) {
  const told = answer.differences.find((each) => each.figure === line.figure);
  const by = told ? told.by : was === null || is === null ? null : is - was;
  if (by === null) {
    return make('td', { role: 'cell', 'data-head': 'difference' }, make('b', {}, was === null && is === null ? '–' : was === null ? 'reached only when changed' : 'reached only today'));
  }
  const verdict = told ? verdictOf(told, line) : by === 0 ? 'none' : 'how sure is not known';
  const interval = told && told.low95 !== null && told.high95 !== null && by !== 0 ? `${line.step(told.low95)} to ${line.step(told.high95)}` : '';
  return make('td', { role: 'cell', 'data-head': 'difference' }, make('b', {}, by === 0 ? 'none' : line.step(by)), make('small', {}, interval), make('small', {}, verdict === 'none' ? '' : verdict));
}

/**
 * @param {WhatIfDifference} told
 * @param {Line} line
 */
function verdictOf(told, line) {
  if (told.by === 0) {
    return 'none';
  }
  if (told.low95 === null || told.high95 === null) {
    return 'cannot be told: some forges as likely as this one never get there';
  }
  return told.told ? `${(told.by ?? 0) > 0 ? line.more : line.less}, more than what is unknown` : 'within what is unknown';
}

/**
 * A question each in words, and its answer.
 *
 * @param {WhatIfAnswer} answer
 * @param {Line[]} lines
 */
function showWords(answer, lines) {
  const parts = [];
  for (const line of lines) {
    const told = answer.differences.find((each) => each.figure === line.figure);
    if (line.question === '' || !told || told.by === null || told.by === 0) {
      continue;
    }
    const helps = line.figure === 'steady' ? told.by > 0 : told.by < 0;
    parts.push(`${line.question} ${told.told ? `${helps ? 'Yes' : 'No'}, ${line.step(told.by)}.` : 'Cannot be told.'}`);
  }
  say(byId('what-if-words'), parts.length === 0 ? 'Nothing differs from today.' : parts.join(' '));
}

/** @type {Record<string, string>} */
const FATES = { kept: 'kept', 'less-sure': 'kept as the best guess, less sure', 'partly-new': 'kept in part', reset: 'as described' };

/** @param {WhatIfAnswer} answer */
function showLearnt(answer) {
  const ppm = answer.changed.flame.carbonMonoxidePpm;
  const items = [
    ...answer.doubts,
    ...(ppm > MUCH_CO_PPM ? ['So rich a flame leaves much carbon monoxide: ventilate, and hang up a CO alarm.'] : []),
  ].map((text) => make('li', {}, text));
  const doubts = make('ul', { class: 'remarks' }, ...items);
  if (answer.learnt.length === 0) {
    byId('what-if-learnt').replaceChildren(make('p', { class: 'small' }, 'No burn has told anything of this forge yet: both columns are from the description and what forges of its kind differ by.'), doubts);
    return;
  }
  const changed = answer.learnt.filter((each) => each.fate !== 'kept');
  const kept = answer.learnt.filter((each) => each.fate === 'kept').map((each) => termOf(each.name).name.toLowerCase());
  byId('what-if-learnt').replaceChildren(
    make('p', { class: 'small' }, `Today’s forge is as its newest burn has told.${kept.length > 0 ? ` Carried over as it is: ${kept.join(', ')}.` : ''}`),
    make('ul', { class: 'remarks' }, ...changed.map((each) =>
      make('li', { 'data-learnt': each.name }, `${termOf(each.name).name}: ${FATES[each.fate]} (${each.why})${each.today !== null && each.changed !== null && Math.abs(each.today - each.changed) > 0.005 ? `; ${fixed(each.today, 2)} × described today, ${fixed(each.changed, 2)} × changed` : ''}`))),
    doubts,
  );
}

/**
 * @param {WhatIfAnswer} answer
 * @param {(path: string, body: object) => Promise<any>} send
 */
function showKeep(answer, send) {
  const place = byId('what-if-keep');
  if (answer.set.length === 0) {
    place.replaceChildren(make('p', { class: 'small' }, 'There is nothing to keep: the forge is as it is.'));
    return;
  }
  const line = answer.set.map((each) => `--set '${each.replaceAll("'", "'\\''")}'`).join(' ');
  const text = make('pre', { class: 'what-if-set', id: 'what-if-set', tabindex: '0', role: 'group', 'aria-label': 'Options of predict' }, line);
  const status = make('p', { id: 'what-if-kept', class: 'log-status', role: 'status' });
  const copy = make('button', { type: 'button' }, 'Copy the line');
  copy.addEventListener('click', async () => {
    try {
      await navigator.clipboard.writeText(line);
      say(status, 'Copied.');
    } catch {
      getSelection()?.selectAllChildren(text);
      say(status, 'The browser does not let the page copy: the line is marked, copy it by hand.');
    }
  });
  const file = URL.createObjectURL(new Blob([`${answer.set.join('\n')}\n`], { type: 'text/plain' }));
  const download = make('a', { href: file, download: 'what-if.txt', class: 'what-if-download' }, 'Download as a file');
  const note = make('button', { type: 'button', id: 'what-if-note' }, 'Note it in the log');
  note.addEventListener('click', async () => {
    try {
      await send('notes', { text: `What if: ${answer.set.join('; ')}. ${byId('what-if-words').textContent ?? ''}`.slice(0, 4000) });
      say(status, 'Written down in the log.');
    } catch (failure) {
      say(status, `Not written down: ${failure instanceof Error ? failure.message : failure}.`);
    }
  });
  place.replaceChildren(make('p', { class: 'small' }, 'For the command “predict”, with “--fitted” once a burn has been fitted and stored. The configuration is never rewritten by this page: put in there yourself what you have built.'), text, make('p', { class: 'what-if-acts' }, copy, note, download), status);
}
