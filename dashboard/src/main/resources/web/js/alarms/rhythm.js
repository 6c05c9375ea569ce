/** What each priority sounds like. */

/** @typedef {import('../server/types.js').Priority} Priority */

/**
 * Tones as [start s, length s, frequency Hz], and how often they come again; 0 is once. Tones between 700 and 1200 Hz with
 * odd overtones carry over a burner's roar, which is strongest below 500 Hz (common practice, no source).
 *
 * @type {Record<Priority, {tones: [number, number, number][], everyS: number}>}
 */
export const PATTERNS = {
  critical: { tones: [[0, 0.18, 1175], [0.22, 0.18, 784], [0.44, 0.18, 1175], [0.66, 0.18, 784]], everyS: 1.2 },
  high: { tones: [[0, 0.22, 932], [0.32, 0.22, 932]], everyS: 3 },
  medium: { tones: [[0, 0.3, 784]], everyS: 8 },
  low: { tones: [[0, 0.2, 698]], everyS: 0 },
};
const LOUDNESS = 0.45;
/** A tone that begins or ends at once clicks, s. */
const RAMP_S = 0.01;
/** As a square wave has them, but none so high that sampling would fold it back. */
const OVERTONES = [1, 3, 5, 7];

/**
 * One round of a pattern.
 *
 * @param {Priority} priority
 * @param {number} rate samples/s
 * @returns {Float32Array<ArrayBuffer>} between −1 and 1
 */
export function samplesOf(priority, rate) {
  const { tones, everyS } = PATTERNS[priority];
  const lengthS = Math.max(everyS, ...tones.map(([start, length]) => start + length));
  const samples = new Float32Array(Math.ceil(lengthS * rate));
  for (const [start, length, frequency] of tones) {
    const first = Math.round(start * rate);
    const count = Math.floor(length * rate);
    for (let i = 0; i < count; i++) {
      const atS = i / rate;
      const ramp = Math.min(1, atS / RAMP_S, (length - atS) / RAMP_S);
      const wave = OVERTONES.reduce((sum, n) => sum + Math.sin(2 * Math.PI * n * frequency * atS) / n, 0);
      samples[first + i] = LOUDNESS * ramp * wave;
    }
  }
  return samples;
}
