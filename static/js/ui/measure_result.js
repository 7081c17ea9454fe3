/** What was measured, in large figures, with what limits it, and the way into the list of holes. */
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { AS_FOUND, sizeWords } from './hole_words.js';
import { holeReading } from './readings.js';

/** @typedef {import('../kernel/photos/measure.js').Measured} Measured */

/** The measured size as a hole's. @param {Measured} measured */
export const sizeOfHole = ({ diameter_mm: mm, uncertainty_mm: doubt }) => ({ diameter_mm: Math.round(mm * 100) / 100, plus_minus_mm: Math.round(doubt * 100) / 100 });

/** For a screen reader, in one sentence. @param {Measured} measured */
export const resultSentence = (measured) => `Measured: ${sizeWords(sizeOfHole(measured)).replace('±', 'plus or minus')}.`;

/**
 * @param {Measured} measured
 * @param {{component_holes: any}} tables for what probably sat there
 * @param {Record<string, string>} words sentences by id of a note
 */
export function resultPart(measured, tables, words) {
  const hole = sizeOfHole(measured);
  return h('div', { class: 'measured' },
    h('p', { class: 'measured-size' }, h('strong', {}, sizeWords(hole)), h('small', {}, ' across')),
    holeReading(tables, hole),
    measured.notes.length > 0 && h('ul', { class: 'measure-notes' }, ...measured.notes.map((note) => h('li', {}, words[note]))));
}

/**
 * Where the hole is and how it was left, and the button that keeps it.
 * @param {any} pack
 * @param {{place: string | null, as_found: string}} last what the hole before said
 * @param {(found: {place: string, as_found: any}) => void} keep
 */
export function keepPart(pack, last, keep) {
  const place = select('Where', pack.holes.places.map((row) => [row.id, row.label]));
  const found = select('As found', AS_FOUND);
  if (last.place) place.value = last.place;
  found.value = last.as_found;
  return h('div', {}, h('div', { class: 'fields' }, labelled('Where', place), labelled('As found', found)),
    h('button', { class: 'button strong', onclick: () => keep({ place: place.value, as_found: found.value }) }, 'Keep this hole'));
}
