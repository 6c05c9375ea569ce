/** What the page itself has to call out, for nobody else can: that it, or the daemon, has gone blind. */
import { clock, span } from '../page/dom.js';

/**
 * @typedef {import('../server/types.js').Alarm} Alarm
 * @typedef {import('../server/types.js').Snapshot} Snapshot
 * @typedef {import('./strip.js').Notice} Notice
 *
 * @typedef {object} Sight
 * @property {boolean} gone whether nothing was heard for too long
 * @property {number} silentS since the last word, s
 * @property {number} heardT of the last word by the daemon's time, seconds since 1970
 * @property {number} unjudgedS since the daemon last judged the readings, s
 * @property {number} nowT the daemon's time, seconds since 1970
 * @property {Snapshot|null} snapshot
 * @property {number} noDataAfterS of the forge that is looked at; 0 when not known
 */

/** Judging takes milliseconds; a daemon that has not for this long hangs, s. */
const LONGEST_UNJUDGED_S = 5;
/** Silence of the sensors after which the page calls, if the daemon has not, s. */
const LONGEST_SILENCE_S = 8;
const BURNING = ['lighting', 'heating', 'steady', 'idling'];
const LOOK = 'look at the forge yourself';

/** Remembers which of them the user has silenced. */
export class Blind {
  constructor() {
    /** @type {Set<string>} */
    this.silenced = new Set();
  }

  /** @param {string} alarm */
  silence(alarm) {
    this.silenced.add(alarm);
  }

  /**
   * @param {Sight} sight
   * @returns {Notice[]} at most one: the others would follow from it
   */
  notices(sight) {
    const found = this.find(sight);
    for (const alarm of this.silenced) {
      if (alarm !== found?.alarm.alarm) {
        // The next time it calls again.
        this.silenced.delete(alarm);
      }
    }
    return found ? [found] : [];
  }

  /**
   * @param {Sight} sight
   * @returns {Notice|null}
   */
  find({ gone, silentS, heardT, unjudgedS, nowT, snapshot, noDataAfterS }) {
    if (gone) {
      const heard = `This page has heard nothing for ${span(silentS)}: ${LOOK}.`;
      const last = `Last word at ${clock(heardT)}; the forge is not being watched here. The page tries again by itself.`;
      return navigator.onLine
        ? this.notice('page-daemon-gone', 'No word from the daemon', heard, `The daemon has stopped or cannot be reached. ${last}`)
        : this.notice('page-offline', 'This device is offline', heard, `It has lost its own network; the daemon may well be working. ${last}`);
    }
    if (unjudgedS > LONGEST_UNJUDGED_S) {
      return this.notice('page-daemon-hangs', 'The daemon hangs', `It has judged nothing for ${span(unjudgedS)}: ${LOOK}.`,
        'It still answers, but no reading is being judged and no alarm would come. It should restart that part by itself.');
    }
    const chamber = snapshot?.chamber;
    const ageS = chamber ? nowT - chamber.t : 0;
    const told = snapshot?.alarms.some(({ alarm }) => alarm === 'no-data' || alarm === 'chamber-sensor-bad');
    const burning = snapshot !== null && BURNING.includes(snapshot.phase);
    if (burning && !told && ageS > Math.max(LONGEST_SILENCE_S, 2 * noDataAfterS)) {
      return this.notice('page-readings-stopped', 'The readings have stopped', `No new temperature for ${span(ageS)}: ${LOOK}.`,
        'The daemon is there but sends no new temperature while the forge was burning.');
    }
    return null;
  }

  /**
   * @param {string} id
   * @param {string} title
   * @param {string} ticking
   * @param {string} why
   * @returns {Notice}
   */
  notice(id, title, ticking, why) {
    const calls = !this.silenced.has(id);
    const state = calls ? 'unacknowledged' : 'acknowledged';
    return {
      key: id,
      forge: '',
      forgeName: '',
      ticking,
      alarm: { alarm: id, title, state, callsForAttention: calls, priority: 'critical', time: null, t: null, value: null, why },
    };
  }
}
