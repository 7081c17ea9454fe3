/** The list of added holes: where, how wide, how it was left, how that is known. */
import { _ } from '../language.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { sizeField } from './hole_size_field.js';
import { sizeChips } from './hole_sizes.js';
import { asFound, holeLine, measuredWords } from './hole_words.js';

/**
 * @param {any} pack
 * @param {import('../store/hole_list.js').Hole[]} holes
 * @param {(holes: import('../store/hole_list.js').Hole[]) => void} change
 * @param {(show: (page: any) => HTMLElement) => HTMLElement} later a place for what probably sat in a hole
 * @param {string} set its id
 */
export function holeEditor(pack, holes, change, later, set) {
  const rows = holes.map((hole, index) => h('li', { class: 'hole' },
    h('span', {}, holeLine(pack, hole), h('small', {}, ` ${measuredWords(hole)}`)),
    h('button', {
      class: 'button quiet', 'aria-label': _('Take hole {number} off the list', { number: index + 1 }),
      onclick: () => change(holes.filter((hole_, at) => at !== index)),
    }, _('Remove')),
    later((page) => page.holeReading(pack, hole)),
    h('div', { class: 'links' },
      hole.photo && h('a', { class: 'button quiet', href: `#/photo/${hole.photo}`, 'aria-label': _('The photo of hole {number}', { number: index + 1 }) }, _('Its photo')),
      h('a', { class: 'button quiet', href: `#/holes/${set}/${hole.place}`, 'aria-label': _('Hole {number} on the drawing', { number: index + 1 }) },
        hole.x_mm === undefined ? _('Place it on the drawing') : _('Show on the drawing')))));
  return h('div', { class: 'holes' },
    rows.length > 0 && h('ol', { class: 'rows' }, ...rows),
    newHole(pack, holes.at(-1)?.place ?? null, (hole) => change([...holes, hole]), set),
    h('p', { class: 'links' }, h('a', { class: 'button', href: `#/holes/${set}` }, _('Place holes on a drawing'))));
}

function newHole(pack, lastPlace, add, set) {
  const place = select(_('Where'), pack.holes.places.map((row) => [row.id, row.label]));
  if (lastPlace) place.value = lastPlace;
  const found = select(_('As found'), asFound());
  const chips = h('div', { class: 'options' });
  const put = (size) => {
    // A card is not drawn anew under typing hands, and the list must show the new hole.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    add({ place: place.value, as_found: found.value, ...size });
  };
  const listSizes = () => chips.replaceChildren(...sizeChips(pack.holes.places.find((row) => row.id === place.value), put));
  place.addEventListener('change', listSizes);
  listSizes();
  return h('div', { class: 'new-hole' },
    h('p', { class: 'why' }, _('Add one hole: place, how it was left, then its size by eye or measured.')),
    h('div', { class: 'fields' }, labelled(_('Where'), place), labelled(_('As found'), found)),
    chips,
    sizeField(_('Add this hole'), (mm) => put({ diameter_mm: mm }), h('a', { class: 'button', href: `#/measure/new/${set}` }, _('Measure in a photo'))));
}
