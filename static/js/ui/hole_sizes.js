/** The sizes of holes that are told by eye, one tap each. */
import { _ } from '../language.js';
import { h } from './element.js';
import { length } from './habits.js';

/**
 * @param {any} place of the pack
 * @param {(size: {diameter_mm: number, by_eye: true}) => void} choose
 * @param {import('../store/hole_list.js').Hole | null} [hole] whose size is shown as chosen
 */
export function sizeChips({ sizes }, choose, hole = null) {
  const at = hole?.by_eye ? sizes.findIndex((size) => size.up_to_mm === null || hole.diameter_mm <= size.up_to_mm) : -1;
  return sizes.map((row, index) => h('button', {
    type: 'button', class: 'option', 'aria-pressed': hole && String(index === at),
    onclick: () => choose({ diameter_mm: usualSize(sizes, index), by_eye: true }),
  }, `${row.label}, ${spanWords(sizes, index)}`));
}

function spanWords(sizes, index) {
  const upTo = sizes[index].up_to_mm;
  if (upTo !== null) return _('to {size}', { size: length(upTo) });
  return _('over {size}', { size: length(sizes[index - 1]?.up_to_mm ?? 0) });
}

/** A diameter that stands for a size taken by eye: the middle of its row. */
function usualSize(sizes, index) {
  const from = index > 0 ? sizes[index - 1].up_to_mm : 0;
  const to = sizes[index].up_to_mm ?? from * 1.5;
  return Math.round(5 * (from + to)) / 10;
}
