/** Holes in words: how wide, how measured, how left, where. */
import { _ } from '../language.js';
import { length, measuredLength } from './habits.js';

/** How a hole was left, as people choose it. */
export const asFound = () => [['open', _('open')], ['plugged', _('plugged or filled')], ['enlarged', _('was there, made larger')]];

/** A diameter with what is known of its doubt. @param {import('../store/hole_list.js').Hole} hole */
export function sizeWords({ diameter_mm: mm, by_eye: byEye, plus_minus_mm: doubt }) {
  if (doubt) return measuredLength(mm, doubt);
  const size = length(mm);
  return byEye ? _('about {size}', { size }) : size;
}

/** A hole in one line. @param {any} pack @param {import('../store/hole_list.js').Hole} hole */
export const holeLine = (pack, hole) => `${sizeWords(hole)}, ${placeLabel(pack, hole.place)}${leftWords(hole)}`;

/** How it was left, in one word. @param {{as_found?: string}} hole */
export const leftWord = ({ as_found: found }) => ({ plugged: _('plugged'), enlarged: _('enlarged') })[found] ?? _('open');

/** The same behind other words, where it is not simply open. */
export const leftWords = (hole) => (!hole.as_found || hole.as_found === 'open' ? '' : `, ${leftWord(hole)}`);

/** The words for a place. @param {any} pack @param {string} id */
export function placeLabel(pack, id) {
  return pack.holes.places.find((place) => place.id === id)?.label ?? id;
}

/** How its size came about. @param {import('../store/hole_list.js').Hole} hole */
export function measuredWords({ by_eye: byEye, plus_minus_mm: doubt }) {
  if (byEye) return _('by eye');
  return doubt ? _('measured in a photo') : _('measured');
}

/** Where it sits on its face. @param {any} face @param {{x_mm: number, y_mm: number}} hole */
export function spotWords(face, { x_mm: x, y_mm: y }) {
  const second = face.twice && x > face.width_mm;
  const spot = _('{x} from the left, {y} from the top', { x: length(second ? x - face.width_mm : x), y: length(y) });
  return face.twice ? `${face.twice[second ? 1 : 0]}, ${spot}` : spot;
}
