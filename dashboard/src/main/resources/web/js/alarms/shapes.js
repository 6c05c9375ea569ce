/** A sign a priority: its shape says how grave it is without colour. */

/** @typedef {import('../server/types.js').Priority} Priority */

const SVG = 'http://www.w3.org/2000/svg';

/** @type {Record<Priority, string>} */
const OUTLINES = {
  critical: 'M11 2H25L34 11V25L25 34H11L2 25V11Z',
  high: 'M18 3L34 32H2Z',
  medium: 'M18 2L34 18L18 34L2 18Z',
  low: 'M18 3A15 15 0 1 1 17.99 3Z',
};

/** @param {Priority} priority */
export function sign(priority) {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 36 36');
  svg.setAttribute('aria-hidden', 'true');
  svg.append(path(OUTLINES[priority], 'none', '2.5'), path('M18 12V21', 'none', '3.5'), path('M18 26V26.5', 'none', '4'));
  return svg;
}

/**
 * @param {string} d
 * @param {string} fill
 * @param {string} width
 */
function path(d, fill, width) {
  const element = document.createElementNS(SVG, 'path');
  element.setAttribute('d', d);
  element.setAttribute('fill', fill);
  element.setAttribute('stroke', 'currentColor');
  element.setAttribute('stroke-width', width);
  element.setAttribute('stroke-linecap', 'round');
  element.setAttribute('stroke-linejoin', 'round');
  return element;
}
