/** Why a photo waits in the tray, in words. */

const WORDS = {
  reading: () => 'Its label was not read yet.',
  signal: () => 'Reading its label needs a signal.',
  none: () => 'No label was found in it.',
  several: ({ label }) => `Several labels are in it: ${label}.`,
  unknown: ({ label }) => `No set on this phone has its label, ${label}.`,
  'two-sets': ({ label }) => `More than one set has its label, ${label}.`,
  lost: () => 'Its set was not in the file it came from.',
  refused: ({ said }) => `Its label could not be read. ${said}`,
};

/** @param {import('../store/photos.js').Photo['waiting']} waiting */
export function sayWaiting(waiting) {
  return Object.hasOwn(WORDS, waiting?.why) ? WORDS[waiting.why](waiting) : 'It belongs to no set yet.';
}
