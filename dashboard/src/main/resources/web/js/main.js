/** Puts the page together: one forge looked at, its stream, its chart, its log, and the alarms of all. */
import { Blind } from './alarms/blind.js';
import { AlarmsScreen } from './alarms/screen.js';
import { Sound } from './alarms/sound.js';
import { offerSound } from './alarms/sound-controls.js';
import { Strip } from './alarms/strip.js';
import { BurnsScreen } from './burns/screen.js';
import { offerCautions } from './cautions/cautions.js';
import { BurnChart } from './chart/burn-chart.js';
import { offerDemo } from './demo/demo.js';
import { Fleet } from './fleet/door.js';
import { Chooser } from './forges/chooser.js';
import { Stream } from './live/stream.js';
import { Watch } from './live/watch.js';
import { Log } from './log/log.js';
import { Expected } from './now/expected.js';
import { Figures } from './now/figures.js';
import { Heat, phaseWord } from './now/heat.js';
import { Ledger } from './now/ledger.js';
import { OutlookSection } from './now/outlook.js';
import { showQuiet } from './now/quiet.js';
import { WhatIf } from './what-if/door.js';
import { byId, clock, make, recall, remember, say, shortClock, styled } from './page/dom.js';
import { unpressed } from './page/press.js';
import { Screens } from './page/screens.js';
import { get, of } from './server/api.js';
import { fixed, offer as offerUnits, offerLengths, onChange, pressure, temperature } from './units/units.js';
import { offerWakeLock } from './wake/wake.js';

/**
 * @typedef {import('./server/types.js').Snapshot} Snapshot
 * @typedef {import('./server/types.js').Alarm} Alarm
 * @typedef {import('./server/types.js').Forge} Forge
 * @typedef {import('./alarms/strip.js').Notice} Notice
 */

/** Half of the band around the target in which a bar works without re-heating, K (common practice, no source). */
const TARGET_BAND_K = 25;
const CHART_POINTS = 800;
const RETRY_MS = 2000;
/** Alarms of other forges shown on the strip: with more of them it would cover the page that it stands on. */
const MOST_ELSEWHERE = 4;

/** @type {Forge|null} */
let forge = null;
/** @type {Snapshot|null} */
let snapshot = null;
/** Daemon's time less the page's monotonic time, s: the phone's own clock may be wrong. */
let clockOffsetS = Date.now() / 1000 - performance.now() / 1000;
/** @type {Map<string, Alarm[]>} alarms of the forges that are not looked at */
const elsewhere = new Map();
const blind = new Blind();
/** Since the daemon last judged the readings, as it said, s. */
let unjudgedS = 0;
/** @type {import('./alarms/strip.js').Notice|undefined} what the page itself calls out now */
let blindness;
/** @type {string|undefined} the forge whose stream was open before: after a break its log and journal have gaps */
let caughtUp;
/** @type {import('./page/screens.js').ScreenName} */
let screenShown = 'now';
/** @type {import('./trials/screen.js').TrialsScreen|null} fetched when first shown */
let trials = null;
let spanHours = Number(recall('span') ?? '4');
/** Counts the series asked for: an answer to an older question is dropped. */
let seriesAsked = 0;

const serverNow = () => clockOffsetS + performance.now() / 1000;

const heat = new Heat();
const figures = new Figures();
const ledger = new Ledger();
const chamberChart = new BurnChart(byId('chart-chamber'), byId('chart-chamber-caption'), 'Chamber', temperature, 200);
const gasChart = new BurnChart(byId('chart-gas'), byId('chart-gas-caption'), 'Gas pressure', pressure, 2e4);
const expected = new Expected((behind) => {
  chamberChart.behind = behind;
  drawCharts(true);
});
const outlook = new OutlookSection((ahead) => expected.take(ahead));
const burns = new BurnsScreen(serverNow);
const alarmsScreen = new AlarmsScreen(serverNow);
const whatIf = new WhatIf();
const lookFromAfar = (/** @type {string} */ id) => {
  screens.go('now');
  chooser.choose(id);
};
const fleet = new Fleet(serverNow, lookFromAfar);
const screens = new Screens(({ screen, item }) => {
  screenShown = screen;
  showName();
  if (screen !== 'burns') {
    burns.hide();
  }
  if (screen !== 'alarms') {
    alarmsScreen.hide();
  }
  trials?.hide();
  whatIf.turn(screen === 'what-if');
  fleet.turn(screen === 'fleet');
  if (screen === 'burns') {
    return burns.show(item);
  }
  if (screen === 'trials') {
    showTrials();
    return 'trials-title';
  }
  if (screen === 'what-if') {
    return 'what-if-title';
  }
  if (screen === 'fleet') {
    return 'fleet-title';
  }
  return screen === 'alarms' ? alarmsScreen.show() : 'heat';
});
const sound = new Sound(() => showSound());
const showSound = offerSound(sound);
const strip = new Strip(
  (alarm) => {
    blind.silence(alarm);
    showAlarms();
  },
  lookFromAfar,
);
const log = new Log((entries) => {
  chamberChart.marks = entries;
  gasChart.marks = entries;
  drawCharts(true);
}, () => (snapshot?.gas && snapshot.gas.level !== 'bad' ? snapshot.gas.value : null));
const chooser = new Chooser(lookAt);
const stream = new Stream({
  opened: () => {
    // The stream begins with every alarm that stands elsewhere.
    elsewhere.clear();
    refreshSeries();
    if (caughtUp === forge?.id) {
      log.refresh();
      alarmsScreen.reload();
    }
    caughtUp = forge?.id;
  },
  anything: () => watch.word(),
  heartbeat: (serverT, judgedAgoS) => {
    clockOffsetS = serverT - performance.now() / 1000;
    unjudgedS = judgedAgoS;
    render();
  },
  snapshot: take,
  alarms: (id, alarms) => {
    elsewhere.set(id, alarms);
    showAlarms();
  },
  written: (id) => {
    if (id === forge?.id) {
      log.refresh();
      trials?.written();
    }
  },
});
const watch = new Watch({
  back: render,
  awake: () => {
    if (forge) {
      stream.open(forge.id);
    }
  },
  tick: render,
});

/** Fetches the screen with the first wish to see it: most evenings need it not. */
async function showTrials() {
  try {
    const [{ TrialsScreen }] = await Promise.all([import('./trials/screen.js'), styled(new URL('../trials.css', import.meta.url).pathname)]);
    trials ??= new TrialsScreen(serverNow);
  } catch {
    say(byId('trials-state'), 'This screen cannot be fetched: the daemon does not answer. Turn to Now and back to try again.');
    return;
  }
  if (forge) {
    trials.open(forge);
  }
  if (screenShown === 'trials') {
    trials.show();
  }
}

/** @param {Snapshot} fresh */
function take(fresh) {
  if (fresh.forge !== forge?.id) {
    return;
  }
  snapshot = fresh;
  clockOffsetS = fresh.serverT - performance.now() / 1000;
  for (const [reading, chart] of /** @type {const} */ ([[fresh.chamber, chamberChart], [fresh.gas, gasChart]])) {
    if (reading && reading.level !== 'bad' && reading.value !== null) {
      chart.columns.append(reading.t, reading.value);
    }
  }
  drawCharts(false);
  alarmsScreen.take(fresh.alarms);
  render();
}

/** Shows what is known now; also run twice a second so that ages grow while nothing comes. */
function render() {
  if (snapshot) {
    outlook.take(snapshot);
  }
  showAlarms();
  showTitle();
  // Words that need another line move what stands below them.
  unpressed(heat, showForge);
}

function showForge() {
  const nowT = serverNow();
  say(byId('clock'), clock(nowT));
  if (snapshot && forge) {
    heat.show(snapshot, ageOf(snapshot), forge.noDataAfterS, watch.gone);
    figures.show(snapshot, forge, nowT);
    ledger.show(snapshot);
    showQuiet(snapshot);
  }
}

/** @param {Snapshot} shown */
const ageOf = (shown) => (shown.chamber ? Math.max(0, serverNow() - shown.chamber.t) : 0);

function showTitle() {
  const shown = snapshot;
  const of = forge;
  if (!shown || !of) {
    return;
  }
  const value = shown.chamber?.value;
  const calls = shown.alarms.find((alarm) => alarm.callsForAttention);
  const known = typeof value === 'number' && ageOf(shown) <= of.noDataAfterS && !watch.gone;
  if (screenShown === 'fleet') {
    document.title = blindness ? `${blindness.alarm.title}! – All forges` : 'All forges';
    return;
  }
  const number = known ? `${fixed(temperature().from(value), 0)} ${temperature().label}` : 'no reading';
  const what = screenShown === 'burns' ? burns.name() : screenShown === 'now' ? number : `${screenShown === 'trials' ? 'Trials' : screenShown === 'what-if' ? 'What if' : 'Alarms'}, ${number}`;
  document.title = blindness ? `${blindness.alarm.title}! – ${of.name}` : `${calls ? `${calls.title}! ` : ''}${what} – ${of.name}`;
}

/** Whose the screen is. */
function showName() {
  say(byId('forge-name'), screenShown === 'fleet' ? 'All forges' : (forge?.name ?? 'Bankfire'));
}

function showAlarms() {
  /** @type {Notice[]} */
  const own = blind.notices({
    gone: watch.gone,
    silentS: watch.silentS,
    // Not now less the silence: two looks at the clock, between which the second may turn, would word the alarm anew.
    heardT: clockOffsetS + watch.lastWord / 1000,
    unjudgedS,
    nowT: serverNow(),
    snapshot,
    noDataAfterS: forge?.noDataAfterS ?? 0,
  });
  blindness = own[0];
  const notices = [...own];
  if (snapshot) {
    notices.push(...noticesOf(snapshot.forge, '', snapshot.alarms));
  }
  for (const [id, alarms] of elsewhere) {
    if (id !== forge?.id) {
      notices.push(...noticesOf(id, chooser.nameOf(id), alarms));
    }
  }
  sound.set(strip.show(notices, quietWords(), screenShown === 'fleet' ? 0 : MOST_ELSEWHERE, forge?.name ?? ''));
}

function quietWords() {
  if (!snapshot) {
    return forge ? 'Waiting for word from the daemon …' : 'No forge yet.';
  }
  return snapshot.chamber ? `No alarm stands. ${phaseWord(snapshot)}.` : 'No alarm stands, but nothing is measured yet.';
}

/**
 * @param {string} id
 * @param {string} name
 * @param {Alarm[]} alarms
 * @returns {Notice[]}
 */
const noticesOf = (id, name, alarms) =>
  alarms.map((alarm) => ({ key: `${id}:${alarm.alarm}`, forge: id, forgeName: name, alarm }));

/** @param {Forge} chosen */
function lookAt(chosen) {
  forge = chosen;
  showName();
  snapshot = null;
  elsewhere.delete(chosen.id);
  for (const chart of [chamberChart, gasChart]) {
    chart.columns.load({ channel: '', unit: '', stepS: 1, t: [], min: [], mean: [], max: [] });
  }
  chamberChart.levels = [
    { label: 'target', value: chosen.targetC, band: TARGET_BAND_K, dash: [] },
    { label: 'limit of the lining', value: chosen.chamberLimitC, dash: [6, 4] },
  ];
  stream.open(chosen.id);
  expected.open(chosen.id);
  outlook.open(chosen.id);
  log.open(chosen.id);
  burns.open(chosen);
  trials?.open(chosen);
  whatIf.open(chosen);
  alarmsScreen.open(chosen);
  showAlarms();
}

/** Fetches the series of the span, and so closes every gap that a break left. */
async function refreshSeries() {
  const id = forge?.id;
  if (!id) {
    return;
  }
  const asked = ++seriesAsked;
  const to = serverNow();
  const from = to - 3600 * spanHours;
  try {
    const query = (/** @type {string} */ channel) =>
      get(of(id, `series?channel=${channel}&from=${from.toFixed(3)}&to=${to.toFixed(3)}&points=${CHART_POINTS}`));
    const [chamber, gas] = await Promise.all([query('chamber'), query('gas')]);
    if (asked !== seriesAsked || id !== forge?.id) {
      return;
    }
    chamberChart.columns.load(chamber);
    gasChart.columns.load(gas);
    byId('chart-state').hidden = true;
  } catch (failure) {
    if (asked !== seriesAsked || id !== forge?.id) {
      return;
    }
    byId('chart-state').hidden = false;
    say(byId('chart-state'), `The stored readings cannot be fetched: ${failure instanceof Error ? failure.message : failure}. The line goes on from now.`);
  }
  drawCharts(true);
}

/** @param {boolean} now */
function drawCharts(now) {
  for (const chart of [chamberChart, gasChart]) {
    chart.spanS = 3600 * spanHours;
    chart.toT = serverNow();
    chart.draw(now);
  }
}

/** The chart as a table of a dozen rows, made when it is opened. */
function fillTable() {
  const { t, min, mean, max } = chamberChart.columns;
  const unit = temperature();
  const every = Math.max(1, Math.ceil(t.length / 12));
  const rows = [];
  for (let i = t.length - 1; i >= 0; i -= every) {
    const cells = [min[i], mean[i], max[i]].map((value) =>
      make('td', {}, value === null ? '–' : fixed(unit.from(value), unit.decimals)));
    rows.push(make('tr', {}, make('th', { scope: 'row' }, shortClock(t[i])), ...cells));
  }
  const head = ['time', `least, ${unit.label}`, 'mean', 'greatest'].map((name) => make('th', { scope: 'col' }, name));
  byId('chart-table-body').replaceChildren(
    make('table', {}, make('caption', { class: 'unseen' }, 'Chamber temperature'), make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows)),
  );
}

function offerSpans() {
  for (const input of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll('input[name="span"]'))) {
    input.checked = Number(input.value) === spanHours;
    input.addEventListener('change', () => {
      spanHours = Number(input.value);
      remember('span', input.value);
      refreshSeries();
    });
  }
}

/** Asks for the forges until there is an answer with at least one. */
async function begin() {
  try {
    const { forges, demo } = await get('api/v1/forges');
    if (forges.length > 0) {
      chooser.offer(forges);
      fleet.offer(forges.length);
      if (demo) {
        offerDemo();
      }
      return;
    }
    watch.word();
    heat.blank('empty', 'No forge yet. Describe one in the configuration under [[forge]], or let a sensor board send under its id.');
  } catch (failure) {
    heat.mark('gone', `The page cannot begin: ${failure instanceof Error ? failure.message : failure}. It tries again by itself.`);
  }
  setTimeout(begin, RETRY_MS);
}

offerCautions(() => screens.begin());
offerUnits(/** @type {HTMLSelectElement} */ (byId('unit-temperature')), /** @type {HTMLSelectElement} */ (byId('unit-pressure')));
offerLengths(/** @type {HTMLSelectElement} */ (byId('unit-length')));
onChange(() => {
  chamberChart.rebuild();
  gasChart.rebuild();
  fillTable();
  burns.render();
  trials?.render();
  whatIf.render();
  fleet.render();
  alarmsScreen.render();
  outlook.render();
  render();
});
offerSpans();
offerWakeLock();
byId('chart-table').addEventListener('toggle', fillTable);
screens.turn();
say(byId('zone'), Intl.DateTimeFormat().resolvedOptions().timeZone);
begin();
