/**
 * Asks the browser to keep what was entered, and says what it answered. Some browsers ask the person, others decide
 * by themselves, and some empty the storage of a page that has not been opened for a week: so the answer is shown.
 */

/**
 * @typedef {object} Persistence
 * @property {boolean | null} granted whether the browser promised to keep the data; null when it cannot be asked
 * @property {number | null} usage bytes in use, as far as the browser tells
 * @property {number | null} quota bytes available in all, as far as the browser tells
 */

/**
 * Asks for the promise, unless it was given before, and reports the room there is.
 * @returns {Promise<Persistence>} never rejects
 */
export async function askPersistence() {
  const storage = navigator.storage;
  const { usage = null, quota = null } = (await orNull(storage?.estimate?.())) ?? {};
  const before = await orNull(storage?.persisted?.());
  const granted = before === true ? true : await orNull(storage?.persist?.());
  return { granted, usage, quota };
}

/**
 * @template T
 * @param {Promise<T> | undefined} answer
 * @returns {Promise<T | null>}
 */
async function orNull(answer) {
  try {
    return (await answer) ?? null;
  } catch {
    return null;
  }
}
