/** Holes in words: how wide, how measured, how left, where. */
import { figure } from './money.js';

/** How a hole was left, as people choose it. */
export const AS_FOUND = [['open', 'open'], ['plugged', 'plugged or filled'], ['enlarged', 'was there, made larger']];

/** A diameter with what is known of its doubt. @param {import('../store/hole_list.js').Hole} hole */
export function sizeWords({ diameter_mm: mm, by_eye: byEye, plus_minus_mm: doubt }) {
  return doubt ? `${figure(tenth(mm))} mm ± ${figure(tenth(doubt) || 0.1)}` : `${byEye ? 'about ' : ''}${figure(mm)} mm`;
}

/** A hole in one line. @param {any} pack @param {import('../store/hole_list.js').Hole} hole */
export const holeLine = (pack, hole) => `${sizeWords(hole)}, ${placeLabel(pack, hole.place)}${leftWords(hole)}`;

/** How it was left, where it is not simply open. */
export const leftWords = ({ as_found: found }) => (!found || found === 'open' ? '' : `, ${found}`);

/** The words for a place. @param {any} pack @param {string} id */
export function placeLabel(pack, id) {
  return pack.holes.places.find((place) => place.id === id)?.label ?? id;
}

/** How its size came about. @param {import('../store/hole_list.js').Hole} hole */
export function measuredWords({ by_eye: byEye, plus_minus_mm: doubt }) {
  if (byEye) return 'by eye';
  return doubt ? 'measured in a photo' : 'measured';
}

/** Where it sits on its face. @param {any} face @param {{x_mm: number, y_mm: number}} hole */
export function spotWords(face, { x_mm: x, y_mm: y }) {
  const second = face.twice && x > face.width_mm;
  const side = face.twice ? `${face.twice[second ? 1 : 0]}, ` : '';
  return `${side}${figure(tenth(second ? x - face.width_mm : x))} mm from the left, ${figure(tenth(y))} mm from the top`;
}

/** Millimetres to a tenth. @param {number} mm */
export const tenth = (mm) => Math.round(mm * 10) / 10;
