/** What a photo in a file may hold. */
import { _ } from '../language.js';

const isName = (value) => typeof value === 'string' && value !== '' && value.length <= 200;
const isSide = (value) => Number.isInteger(value) && value > 0 && value <= 20_000;
const isMoment = (value) => isName(value) && !Number.isNaN(Date.parse(value));
const isWaiting = (waiting) => waiting === undefined || (isName(waiting?.why) && [waiting.label, waiting.said].every((text) => text === undefined || (typeof text === 'string' && text.length <= 2000)));

/**
 * What is wrong with a photo's row.
 * @param {any} photo
 * @returns {string} empty when it is whole
 */
export function damage(photo) {
  const whole = isName(photo?.id) && (photo.set === null || isName(photo.set)) && (photo.about === '' || isName(photo.about))
    && isMoment(photo.taken) && isMoment(photo.changed) && isSide(photo.width) && isSide(photo.height) && isWaiting(photo.waiting);
  return whole ? '' : _('It does not have the form of a photo.');
}
