/**
 * The colour that steel shows at a temperature, and its name.
 *
 * Names and limits: Chapman, Workshop Technology part 1 (5th edition, 1972), as publicly tabulated. The colours on the
 * screen are ours, chosen by eye to those names: a screen is not a furnace, so they stand beside the number, never
 * instead of it.
 */

/** @type {[number, string][]} from this temperature (°C) on it is called so */
const NAMES = [
  [426, 'black red'],
  [594, 'very dark red'],
  [705, 'dark red'],
  [815, 'cherry red'],
  [871, 'light cherry red'],
  [982, 'orange'],
  [1093, 'yellow'],
  [1259, 'yellow white'],
  [1315, 'white'],
];

/** @type {[number, [number, number, number]][]} °C and red, green, blue */
const COLOURS = [
  [426, [74, 72, 69]],
  [510, [72, 34, 28]],
  [650, [102, 24, 16]],
  [760, [140, 26, 14]],
  [843, [182, 34, 16]],
  [926, [214, 56, 26]],
  [1037, [243, 110, 32]],
  [1176, [255, 184, 52]],
  [1287, [255, 224, 138]],
  [1400, [255, 247, 224]],
];

/** @param {number} celsius */
export function glowName(celsius) {
  let name = 'no glow yet';
  for (const [from, called] of NAMES) {
    if (celsius >= from) {
      name = called;
    }
  }
  return name;
}

/**
 * @param {number} celsius
 * @returns {string} CSS colour; empty below the first glow
 */
export function glowColour(celsius) {
  if (celsius < COLOURS[0][0]) {
    return '';
  }
  for (let i = 1; i < COLOURS.length; i++) {
    const [hotter, high] = COLOURS[i];
    const [colder, low] = COLOURS[i - 1];
    if (celsius < hotter) {
      const part = (celsius - colder) / (hotter - colder);
      return rgb(low.map((from, j) => from + part * (high[j] - from)));
    }
  }
  return rgb(COLOURS[COLOURS.length - 1][1]);
}

/** @param {number[]} parts */
const rgb = (parts) => `rgb(${parts.map(Math.round).join(' ')})`;
