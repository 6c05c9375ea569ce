/** Gas pressure, flow, heat input, gas used and its cost. */
import { byId, make, say, shortClock, span } from '../page/dom.js';
import { fixed, pressure } from '../units/units.js';

/**
 * @typedef {import('../server/types.js').Snapshot} Snapshot
 * @typedef {import('../server/types.js').Forge} Forge
 */

/** Shows the lines under "Gas". */
export class Figures {
  constructor() {
    this.pressure = byId('gas-pressure');
    this.flow = byId('gas-flow');
    this.input = byId('heat-input');
    this.used = byId('gas-used');
    this.usedLabel = byId('gas-used-label');
    this.since = byId('burn-since');
    this.sinceLabel = byId('burn-label');
  }

  /**
   * @param {Snapshot} snapshot
   * @param {Forge} forge
   * @param {number} nowT the daemon's time, seconds since 1970
   */
  show(snapshot, forge, nowT) {
    this.showPressure(snapshot);
    const flow = snapshot.gasFlowKgPerHour;
    const doubt = snapshot.gasFlowRelativeUncertainty;
    figure(
      this.flow,
      flow === null ? 'not known' : `${fixed(flow, 2)} kg/h`,
      flow === null || doubt === null || flow === 0 ? '' : `± ${fixed(2 * doubt * flow, 2)}`,
    );
    const watts = snapshot.ledger.inputW;
    figure(this.input, watts === null ? 'not known' : `${fixed(watts / 1000, 1)} kW`, '');
    this.showBurn(snapshot, forge, nowT);
  }

  /** @param {Snapshot} snapshot */
  showPressure(snapshot) {
    const gas = snapshot.gas;
    const unit = pressure();
    if (!gas) {
      figure(this.pressure, 'no sensor', '');
    } else if (gas.level === 'bad' || gas.value === null) {
      figure(this.pressure, 'sensor bad', gas.qualityInWords);
    } else {
      const doubt = gas.standardUncertainty;
      figure(
        this.pressure,
        `${fixed(unit.from(gas.value), unit.decimals)} ${unit.label}`,
        doubt === null ? '' : `± ${fixed(unit.step(2 * doubt), unit.decimals)}`,
      );
    }
  }

  /**
   * @param {Snapshot} snapshot
   * @param {Forge} forge
   * @param {number} nowT
   */
  showBurn(snapshot, forge, nowT) {
    const burn = snapshot.burn;
    say(this.usedLabel, burn?.end ? 'Used, last burn' : 'Used');
    say(this.sinceLabel, burn?.end ? 'Last burn' : 'Burning since');
    if (!burn) {
      figure(this.used, 'no burn yet', '');
      figure(this.since, '–', '');
      return;
    }
    const cost = burn.gasCost === null ? '' : `${fixed(burn.gasCost, 2)} ${forge.currency}`.trim();
    figure(this.used, burn.gasUsedKg === null ? 'not known' : `${fixed(burn.gasUsedKg, 2)} kg`, cost);
    const start = Date.parse(burn.start) / 1000;
    if (burn.end) {
      const end = Date.parse(burn.end) / 1000;
      figure(this.since, `${shortClock(start)} – ${shortClock(end)}`, span(end - start));
    } else {
      figure(this.since, shortClock(start), span(nowT - start));
    }
  }
}

/**
 * @param {HTMLElement} element
 * @param {string} value
 * @param {string} aside smaller, before the value
 */
function figure(element, value, aside) {
  const key = `${value}|${aside}`;
  if (element.dataset.shown !== key) {
    element.dataset.shown = key;
    element.replaceChildren(...(aside ? [make('small', {}, aside), ' '] : []), value);
  }
}
