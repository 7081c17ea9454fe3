/** Double taps: cold fingers bounce, and by then something else has moved under them. */

/** A second tap in the same place this soon after the first is the same tap, in milliseconds. */
const BOUNCE = 250;
let last = -Infinity;

/**
 * Keeps the bounce of a click (at the same place, which the browser counts, and at once) from everything inside.
 * @param {HTMLElement} element
 */
export function ignoreBounces(element) {
  element.addEventListener('click', (event) => {
    const soon = event.timeStamp - last < BOUNCE;
    last = event.timeStamp;
    if (event.detail > 1 && soon) {
      event.stopPropagation();
      event.preventDefault();
    }
  }, { capture: true });
}
