/** What was measured, in large figures, with what limits it, and the way into the list of holes. */
import { _ } from '../language.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { asFound, sizeWords } from './hole_words.js';
import { holeReading } from './readings.js';

/** @typedef {import('../kernel/photos/measure.js').Measured} Measured */

/** The measured size as a hole's. @param {Measured} measured */
export const sizeOfHole = ({ diameter_mm: mm, uncertainty_mm: doubt }) => ({ diameter_mm: Math.round(mm * 100) / 100, plus_minus_mm: Math.round(doubt * 100) / 100 });

/** For a screen reader, in one sentence. @param {Measured} measured */
export function resultSentence(measured) {
  const size = sizeWords(sizeOfHole(measured)).replace('±', _('plus or minus'));
  return _('Measured: {size}.', { size });
}

/**
 * @param {Measured} measured
 * @param {{component_holes: any}} tables for what probably sat there
 * @param {Record<string, string>} words sentences by id of a note
 */
export function resultPart(measured, tables, words) {
  const hole = sizeOfHole(measured);
  return h('div', { class: 'measured' },
    h('p', { class: 'measured-size' }, h('strong', {}, sizeWords(hole)), h('small', {}, ' ', _('across'))),
    holeReading(tables, hole),
    measured.notes.length > 0 && h('ul', { class: 'measure-notes' }, ...measured.notes.map((note) => h('li', {}, words[note]))));
}

/**
 * Where the hole is and how it was left, and the button that keeps it.
 * @param {any} pack
 * @param {{place: string | null, as_found: string}} found what is chosen; changed as it is
 * @param {() => void} keep
 */
export function keepPart(pack, found, keep) {
  const place = select(_('Where'), pack.holes.places.map((row) => [row.id, row.label]));
  const left = select(_('As found'), asFound());
  if (found.place) place.value = found.place;
  left.value = found.as_found;
  const chosen = () => Object.assign(found, { place: place.value, as_found: left.value });
  chosen();
  return h('div', {}, h('div', { class: 'fields', onchange: chosen }, labelled(_('Where'), place), labelled(_('As found'), left)),
    h('button', { class: 'button strong', onclick: keep }, _('Keep this hole')));
}
