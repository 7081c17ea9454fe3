/** The list of added holes: where, how wide, how it was left. */
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { figure, typedNumber } from './money.js';

const AS_FOUND = [['open', 'open'], ['plugged', 'plugged or filled'], ['enlarged', 'was there, made larger']];

/**
 * @param {any} pack
 * @param {import('../kernel/findings.js').Hole[]} holes
 * @param {(holes: import('../kernel/findings.js').Hole[]) => void} change
 * @param {(show: (page: any) => HTMLElement) => HTMLElement} later a place for what probably sat in a hole
 */
export function holeEditor(pack, holes, change, later) {
  const rows = holes.map((hole, index) => h('li', { class: 'hole' },
    h('span', {}, `${hole.by_eye ? 'about ' : ''}${figure(hole.diameter_mm)} mm, ${placeLabel(pack, hole.place)}${hole.as_found === 'open' ? '' : `, ${hole.as_found}`}`),
    h('button', {
      class: 'button quiet', 'aria-label': `Take hole ${index + 1} off the list`,
      onclick: () => change(holes.filter((_, at) => at !== index)),
    }, 'Remove'),
    later((page) => page.holeReading(pack, hole))));
  return h('div', { class: 'holes' },
    rows.length > 0 && h('ol', { class: 'rows' }, ...rows),
    newHole(pack, holes.at(-1)?.place ?? null, (hole) => change([...holes, hole])));
}

/** The words for a place. */
export function placeLabel(pack, id) {
  return pack.holes.places.find((place) => place.id === id)?.label ?? id;
}

function newHole(pack, lastPlace, add) {
  const place = select('Where', pack.holes.places.map((row) => [row.id, row.label]));
  if (lastPlace) place.value = lastPlace;
  const found = select('As found', AS_FOUND);
  const size = /** @type {HTMLInputElement} */ (h('input', {
    inputmode: 'decimal', autocomplete: 'off', 'aria-label': 'Diameter in millimetres', placeholder: 'mm',
  }));
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const chips = h('div', { class: 'options' });
  const listSizes = () => {
    const { sizes } = pack.holes.places.find((row) => row.id === place.value);
    chips.replaceChildren(...sizes.map((row, index) => h('button', {
      type: 'button', class: 'option', onclick: () => put({ diameter_mm: usualSize(sizes, index), by_eye: true }),
    }, `${row.label}, ${row.up_to_mm === null ? `over ${figure(sizes[index - 1]?.up_to_mm ?? 0)}` : `to ${figure(row.up_to_mm)}`} mm`)));
  };
  const put = (size) => {
    // A card is not drawn anew under typing hands, and the list must show the new hole.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    add({ place: place.value, as_found: found.value, ...size });
  };
  const typed = () => {
    const diameter = typedNumber(size.value);
    if (!diameter || diameter < 0.1 || diameter > 500) {
      wrong.textContent = 'Give the diameter in millimetres, between 0.1 and 500.';
      size.focus();
    } else put({ diameter_mm: diameter });
  };
  size.addEventListener('keydown', (event) => event.key === 'Enter' && typed());
  place.addEventListener('change', listSizes);
  listSizes();
  return h('div', { class: 'new-hole' },
    h('p', { class: 'why' }, 'Add one hole: place, how it was left, then its size by eye or measured.'),
    h('div', { class: 'fields' }, labelled('Where', place), labelled('As found', found)),
    chips,
    h('div', { class: 'fields' }, labelled('Measured, mm', size),
      h('button', { type: 'button', class: 'button', onclick: typed }, 'Add this hole')),
    wrong);
}

/** A diameter that stands for a size taken by eye: the middle of its row. */
function usualSize(sizes, index) {
  const from = index > 0 ? sizes[index - 1].up_to_mm : 0;
  const to = sizes[index].up_to_mm ?? from * 1.5;
  return Math.round(5 * (from + to)) / 10;
}
