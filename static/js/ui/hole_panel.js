/** What is known of the chosen hole, and everything that can be changed of it. */
import { _ } from '../language.js';
import { h } from './element.js';
import { sizeField } from './hole_size_field.js';
import { sizeChips } from './hole_sizes.js';
import { asFound, leftWords, measuredWords, placeLabel, sizeWords, spotWords } from './hole_words.js';
import { holeReading } from './readings.js';

/**
 * @typedef {Object} PanelActions
 * @property {(changes: any) => void} change
 * @property {() => void} remove
 * @property {() => void} close
 */

/**
 * @param {any} pack @param {any} face @param {any} hole one of the list, or a spot that waits for its size
 * @param {number | string} number @param {string} set its id
 * @param {PanelActions} actions
 */
export function holePanel(pack, face, hole, number, set, { change, remove, close }) {
  const waits = hole.diameter_mm === undefined;
  const place = pack.holes.places.find((row) => row.id === hole.place);
  const found = asFound().map(([id, words]) => h('button', {
    class: 'option', 'aria-pressed': String((hole.as_found ?? 'open') === id), onclick: () => change({ as_found: id }),
  }, words));
  return h('section', { class: 'card hole-panel', 'aria-label': waits ? _('New hole') : _('Hole {number}', { number }) },
    h('h2', {}, waits ? _('How wide is it?') : _('Hole {number}: {size}', { number, size: sizeWords(hole) + leftWords(hole) })),
    h('p', { class: 'fine' }, [
      placeLabel(pack, hole.place), !waits && measuredWords(hole), hole.x_mm === undefined ? _('not placed yet: tap the drawing where it sits') : spotWords(face, hole),
    ].filter(Boolean).join(', '), '.'),
    !waits && holeReading(pack, hole),
    h('div', { class: 'options', role: 'group', 'aria-label': _('Size by eye') }, ...sizeChips(place, (size) => change({ ...size, plus_minus_mm: undefined }), hole)),
    sizeField(waits ? _('Keep it') : _('Change'), (mm) => change({ diameter_mm: mm, by_eye: undefined, plus_minus_mm: undefined }),
      waits && h('a', { class: 'button', href: `#/measure/new/${set}` }, _('Measure in a photo'))),
    h('div', { class: 'options three', role: 'group', 'aria-label': _('As found') }, ...found),
    h('div', { class: 'links' },
      hole.photo && h('a', { class: 'button', href: `#/photo/${hole.photo}` }, _('Its photo')),
      h('button', { class: 'button', onclick: remove }, waits ? _('No hole here') : _('Remove')),
      !waits && h('button', { class: 'button', onclick: close }, _('Done'))));
}
