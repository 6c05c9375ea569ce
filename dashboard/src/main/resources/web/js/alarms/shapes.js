/** A sign a priority: its outline says how grave it is, and the mark in it how the alarm stands, without colour. */

/** @typedef {import('../server/types.js').Priority} Priority */

const SVG = 'http://www.w3.org/2000/svg';

/** @type {Record<Priority, string>} */
const OUTLINES = {
  critical: 'M11 2H25L34 11V25L25 34H11L2 25V11Z',
  high: 'M18 3L34 32H2Z',
  medium: 'M18 2L34 18L18 34L2 18Z',
  low: 'M18 3A15 15 0 1 1 17.99 3Z',
};

/** A call; a tick; a thing on a board; an arrow from somewhere else; a bar across. @type {Record<string, string>} */
const MARKS = {
  acknowledged: 'M12 20L16.5 24.5L24 15',
  shelved: 'M10 26H26M15 22.5V19H21V22.5',
  suppressed: 'M11 21H24M20 17L24 21L20 25',
  'out-of-service': 'M11 21H25',
};
const CALL = 'M18 12.5V21M18 26V26.5';

/**
 * @param {Priority} priority
 * @param {string} state of the alarm
 */
export function sign(priority, state) {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 36 36');
  svg.setAttribute('aria-hidden', 'true');
  svg.append(path(OUTLINES[priority], '2.5'), path(MARKS[state] ?? CALL, MARKS[state] ? '3' : '3.75'));
  return svg;
}

/**
 * @param {string} d
 * @param {string} width
 */
function path(d, width) {
  const element = document.createElementNS(SVG, 'path');
  element.setAttribute('d', d);
  element.setAttribute('fill', 'none');
  element.setAttribute('stroke', 'currentColor');
  element.setAttribute('stroke-width', width);
  element.setAttribute('stroke-linecap', 'round');
  element.setAttribute('stroke-linejoin', 'round');
  return element;
}
