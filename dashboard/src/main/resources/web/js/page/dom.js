/** Small helpers for the document. */

/**
 * @param {string} id
 * @returns {HTMLElement}
 */
export function byId(id) {
  const element = document.getElementById(id);
  if (!element) {
    throw new Error(`the page has no element ${id}`);
  }
  return element;
}

/**
 * Sets text only when it differs, so that nothing is laid out for nothing ten times a second.
 *
 * @param {HTMLElement} element
 * @param {string} text
 */
export function say(element, text) {
  if (element.textContent !== text) {
    element.textContent = text;
  }
}

/**
 * @param {string} tag
 * @param {Record<string, string>} [attributes]
 * @param {...(Node|string)} children
 * @returns {HTMLElement}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

/** Those fetched so far, by address: one a screen at most. @type {Map<string, Promise<void>>} */
const styles = new Map();

/**
 * Fetches the style of a screen that is fetched when it is first looked at.
 *
 * @param {string} href
 * @returns {Promise<void>} ends when the screen can be shown; fails when the style cannot be had, and is tried anew when asked again
 */
export function styled(href) {
  const had = styles.get(href);
  if (had) {
    return had;
  }
  const link = make('link', { rel: 'stylesheet', href });
  /** @type {Promise<void>} */
  const there = new Promise((resolve, reject) => {
    link.addEventListener('load', () => resolve());
    link.addEventListener('error', () => {
      link.remove();
      styles.delete(href);
      reject(new Error(`no ${href}`));
    });
  });
  styles.set(href, there);
  document.head.append(link);
  return there;
}

/**
 * A store that forgets where the browser allows none.
 *
 * @param {string} key
 * @returns {string|null}
 */
export function recall(key) {
  try {
    return localStorage.getItem(`bankfire.${key}`);
  } catch {
    return null;
  }
}

/**
 * @param {string} key
 * @param {string} value
 */
export function remember(key, value) {
  try {
    localStorage.setItem(`bankfire.${key}`, value);
  } catch {
    // Private windows may refuse; the choice then lasts as long as the page.
  }
}

const CLOCK = new Intl.DateTimeFormat(undefined, { hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23' });
const SHORT_CLOCK = new Intl.DateTimeFormat(undefined, { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
const DAY = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short' });

const LONG_DAY = new Intl.DateTimeFormat(undefined, { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' });
const MONTH = new Intl.DateTimeFormat(undefined, { month: 'long', year: 'numeric' });
const ZONE = new Intl.DateTimeFormat(undefined, { timeZoneName: 'short' });

/** @param {number} t seconds since 1970 */
export const clock = (t) => CLOCK.format(t * 1000);

/** @param {number} t seconds since 1970 */
export const shortClock = (t) => SHORT_CLOCK.format(t * 1000);

/** @param {number} t seconds since 1970 */
export const day = (t) => DAY.format(t * 1000);

/** @param {number} t seconds since 1970 */
export const longDay = (t) => LONG_DAY.format(t * 1000);

/** @param {number} t seconds since 1970 */
export const month = (t) => MONTH.format(t * 1000);

/**
 * The zone in force at that time, such as CET: it differs between summer and winter.
 *
 * @param {number} t seconds since 1970
 */
export const zone = (t) => ZONE.formatToParts(t * 1000).find((part) => part.type === 'timeZoneName')?.value ?? '';

/**
 * A length of time in words that a glance takes in.
 *
 * @param {number} seconds
 */
export function span(seconds) {
  const whole = Math.max(0, Math.round(seconds));
  if (whole < 120) {
    return `${whole} s`;
  }
  const minutes = Math.floor(whole / 60);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
}
