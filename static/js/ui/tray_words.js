/** Why a photo waits in the tray, in words. */
import { _ } from '../language.js';

const WORDS = {
  reading: () => _('Its label was not read yet.'),
  signal: () => _('Reading its label needs a signal.'),
  none: () => _('No label was found in it.'),
  several: ({ label }) => _('Several labels are in it: {labels}.', { labels: label }),
  unknown: ({ label }) => _('No set on this phone has its label, {label}.', { label }),
  'two-sets': ({ label }) => _('More than one set has its label, {label}.', { label }),
  lost: () => _('Its set was not in the file it came from.'),
  refused: ({ said }) => _('Its label could not be read. {why}', { why: said }),
};

/** @param {import('../store/photos.js').Photo['waiting']} waiting */
export function sayWaiting(waiting) {
  return Object.hasOwn(WORDS, waiting?.why) ? WORDS[waiting.why](waiting) : _('It belongs to no set yet.');
}
