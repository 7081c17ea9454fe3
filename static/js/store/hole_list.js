/**
 * The list of added holes of a set: part of the answer to the check that asks for them, and changed as one with it.
 *
 * @typedef {Object} Hole
 * @property {string} place id of a hole place of the family
 * @property {number} diameter_mm
 * @property {'open' | 'plugged' | 'enlarged'} as_found
 * @property {boolean} [by_eye]
 * @property {number} [x_mm] from the top left corner of its face, seen from outside
 * @property {number} [y_mm]
 * @property {string} [photo] id of the photo in which it was measured
 * @property {[number, number, number]} [in_photo] where it is in that photo: middle and radius, in pixels
 * @property {number} [plus_minus_mm] 95 % half-width of a measured diameter
 * @property {number} [claim] number of the hole, among those that the seller told of, that this one answers
 */
import { _ } from '../language.js';

/** The check that asks for added holes. @param {any} pack */
export const holeCheck = (pack) => pack.checks.find((check) => check.asks_holes);

/** @param {import('./found_set.js').FoundSet} foundSet @param {any} pack @returns {Hole[]} */
export const holesOf = (foundSet, pack) => foundSet.found(holeCheck(pack).id).holes ?? [];

/**
 * Adds a hole at the end of the list, or at `at`; the check then says that there are some.
 * @param {import('./found_set.js').FoundSet} foundSet @param {any} pack @param {Hole} hole @param {number} [at]
 * @returns {Promise<void>} once it is on disk
 */
export function addHole(foundSet, pack, hole, at = Infinity) {
  return putHoles(foundSet, pack, holesOf(foundSet, pack).toSpliced(at, 0, hole));
}

/**
 * Changes one hole; a key that is to go is given as undefined.
 * @param {import('./found_set.js').FoundSet} foundSet @param {any} pack
 * @param {Hole} hole as it stands in the list
 * @param {Partial<Hole>} changes
 * @returns {Promise<void>} rejects when the hole is no longer there
 */
export function updateHole(foundSet, pack, hole, changes) {
  return changed(foundSet, pack, hole, (holes, at) => holes.with(at, whole({ ...hole, ...changes })));
}

/** Takes one hole off the list. @param {import('./found_set.js').FoundSet} foundSet @param {any} pack @param {Hole} hole */
export function removeHole(foundSet, pack, hole) {
  return changed(foundSet, pack, hole, (holes, at) => holes.toSpliced(at, 1));
}

/** Where a hole stands in a list; -1 when it does not. @param {Hole[]} holes @param {Hole} hole */
export function placeIn(holes, hole) {
  const said = plain(hole);
  return holes.findIndex((row) => row === hole || plain(row) === said);
}

async function changed(foundSet, pack, hole, change) {
  const holes = holesOf(foundSet, pack);
  const at = placeIn(holes, hole);
  if (at < 0) throw new Error(_('This hole is no longer on the list: it was changed elsewhere. Nothing was changed.'));
  return putHoles(foundSet, pack, change(holes, at));
}

function putHoles(foundSet, pack, holes) {
  const check = holeCheck(pack).id;
  // Once holes were listed there are some; the last one taken off leaves that said, as in the list itself.
  return foundSet.put(`check/${check}`, { ...foundSet.found(check), option: 'some', unseen: false, looked_over: false, holes });
}

const whole = (hole) => Object.fromEntries(Object.entries(hole).filter(([, value]) => value !== undefined));

const plain = (hole) => JSON.stringify(Object.entries(hole).sort());
