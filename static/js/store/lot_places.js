/** Numbers and labels of sets in a lot: counted on from the first, and looked at before anything is written. */
import { _ } from '../language.js';
import { typedLabel } from './label_text.js';
import { LONGEST_NUMBER } from './lot_rules.js';
import { numberIn } from './lots.js';

/** Most sets that are added at once. */
export const MOST = 200;
/** Labels of one sheet. */
const LAST_LABEL = 999;

/** @typedef {{number: string, label: string | null}} Place */

/**
 * The places that begin with a number or a label.
 * @param {string} first as it was typed
 * @param {number} count
 * @returns {{places: Place[], wrong: string}} `wrong` says why there are none
 */
export function placesFrom(first, count) {
  const typed = first.trim();
  if (!Number.isInteger(count) || count < 1 || count > MOST) return refused(_('Write how many there are, from 1 to {most}.', { most: MOST }));
  const label = typedLabel(typed);
  if (label) return labelPlaces(label, count);
  if (typed === '' || typed.length > LONGEST_NUMBER) return refused(_('Write a number of at most {longest} letters, such as 1 or A01, or a label such as K7Q2-001.', { longest: LONGEST_NUMBER }));
  const counting = /^(.*?)(\d{1,9})$/.exec(typed);
  if (!counting && count > 1) return refused(_('Write a number that counts on, such as 1 or A01, or a label such as K7Q2-001.'));
  const [, before, digits] = counting ?? ['', typed, ''];
  const at = (index) => (digits ? before + String(Number(digits) + index).padStart(digits.length, '0') : typed);
  return { places: Array.from({ length: count }, (none, index) => ({ number: at(index), label: null })), wrong: '' };
}

function labelPlaces(label, count) {
  const [sheet, digits] = label.split('-');
  const first = Number(digits);
  const room = LAST_LABEL - first + 1;
  if (count > room) return refused(_('A sheet of labels ends with {last}: from {label} on there are {count}.', { last: LAST_LABEL, label, count: room }));
  return { places: Array.from({ length: count }, (none, index) => ({ number: String(first + index), label: `${sheet}-${String(first + index).padStart(3, '0')}` })), wrong: '' };
}

const refused = (wrong) => ({ places: [], wrong });

/**
 * What keeps places from being taken: a number that the lot has already, a label that another set carries.
 * @param {Place[]} places
 * @param {import('./found_set.js').FoundSet[]} members of the lot
 * @param {import('./found_set.js').FoundSet[]} all sets of the notebook
 * @returns {string} empty when all are free
 */
export function taken(places, members, all) {
  const numbers = new Set(members.map(numberIn));
  const carried = new Map(all.filter((foundSet) => foundSet.get('label')).map((foundSet) => [foundSet.get('label'), foundSet]));
  const twice = places.find(({ number }) => numbers.has(number));
  if (twice) return _('No. {number} is in this lot already. The next free number is {next}.', { number: twice.number, next: nextNumber(members) });
  const other = places.map(({ label }) => label && carried.get(label)).find(Boolean);
  return other ? _('Another set has the label {label} already: {set}.', { label: other.get('label'), set: other.get('title') || other.base.family }) : '';
}

/** The number after the last one of a lot. @param {import('./found_set.js').FoundSet[]} members */
export function nextNumber(members) {
  const last = members.length > 0 ? numberIn(members.at(-1)) : '';
  const next = placesFrom(last || '0', 2).places[1]?.number ?? String(members.length + 1);
  return members.some((foundSet) => numberIn(foundSet) === next) ? `${members.length + 1}` : next;
}
