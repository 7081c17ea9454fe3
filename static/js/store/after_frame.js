/** Lets the screen change first. */

/** Longest wait, in milliseconds: a page in the background gets no frames at all. */
const LONGEST = 60;

/** Resolves when the next frame is on the screen, or soon anyway. @returns {Promise<void>} */
export function afterFrame() {
  return new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
    setTimeout(resolve, LONGEST);
  });
}
