/** Takes a burn away: on paper, or as it was recorded. */
import { byId } from '../page/dom.js';
import { onChange, temperatureKey, pressureKey } from '../units/units.js';

/** Where paper is Letter and not A4: most of the Americas and the Philippines (CLDR, paper sizes by region). */
const LETTER = ['US', 'CA', 'MX', 'CL', 'CO', 'CR', 'GT', 'NI', 'PA', 'PH', 'PR', 'SV', 'VE', 'DO'];

/** The links at the head of one burn. */
export class Paper {
  constructor() {
    this.id = '';
    onChange(() => this.show(this.id));
  }

  /** @param {string} id the burn's; empty while none is shown */
  show(id) {
    this.id = id;
    byId('burn-paper').hidden = id === '';
    if (id === '') {
      return;
    }
    const burn = `api/v1/burns/${encodeURIComponent(id)}`;
    const reader = readerQuery();
    link('paper-page', `${burn}/report?${reader}`);
    link('paper-pdf', `${burn}/report.pdf?${reader}&paper=${paper()}`);
    link('paper-csv', `${burn}/export?format=csv`);
    link('paper-senml', `${burn}/export?format=senml`);
  }
}

/**
 * @param {string} id
 * @param {string} address
 */
function link(id, address) {
  /** @type {HTMLAnchorElement} */ (byId(id)).href = address;
}

/** The reader's units and zone, as reports ask for them. */
export const readerQuery = () =>
  `temperature=${temperatureKey()}&pressure=${pressureKey()}&zone=${encodeURIComponent(zone())}`;

const zone = () => Intl.DateTimeFormat().resolvedOptions().timeZone || 'UTC';

/** Size of the reader's paper. */
export const paper = () => (LETTER.includes(new Intl.Locale(navigator.language).region ?? '') ? 'letter' : 'a4');
