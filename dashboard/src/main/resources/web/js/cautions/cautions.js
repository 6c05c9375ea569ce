/** The cautions: shown at the first start on a device, and again whenever they are asked for. */
import { byId, recall, remember } from '../page/dom.js';

/** Raised when their words change in substance, so that everybody reads them again. */
const EDITION = '1';

/** @param {() => void} begin puts the focus at the start of the screen */
export function offerCautions(begin) {
  const section = byId('cautions');
  section.hidden = recall('cautions.read') === EDITION;
  byId('cautions-read').addEventListener('click', () => {
    remember('cautions.read', EDITION);
    section.hidden = true;
    begin();
  });
  byId('cautions-show').addEventListener('click', () => {
    section.hidden = false;
    section.scrollIntoView({ block: 'start' });
    byId('cautions-title').focus({ preventScroll: true });
  });
}
