/** Whether something is being pressed: what moves meanwhile would turn the press into one on something else. */

/** Somebody may rest a thumb on the glass, and an alarm must not wait for that, ms. */
const LONGEST_MS = 1500;
/** The press acts a moment after the finger has left, ms. */
const AFTER_MS = 60;

let pressedAt = -Infinity;
/** @type {Map<object, () => void>} */
const waiting = new Map();

const act = () => {
  pressedAt = -Infinity;
  const due = [...waiting.values()];
  waiting.clear();
  due.forEach((todo) => todo());
};

addEventListener('pointerdown', () => {
  pressedAt = performance.now();
}, { capture: true, passive: true });
for (const end of ['pointerup', 'pointercancel']) {
  addEventListener(end, () => setTimeout(act, AFTER_MS), { capture: true, passive: true });
}

/**
 * Does at once what moves the page, or as soon as nothing is pressed any more.
 *
 * @param {object} who of whom only the latest wish counts
 * @param {() => void} todo
 */
export function unpressed(who, todo) {
  const left = LONGEST_MS - (performance.now() - pressedAt);
  if (left <= 0) {
    waiting.delete(who);
    todo();
    return;
  }
  if (waiting.size === 0) {
    setTimeout(act, left);
  }
  waiting.set(who, todo);
}
