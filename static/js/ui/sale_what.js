/** The choice of what a sale is of. */
import { _ } from '../language.js';
import { h } from './element.js';

/**
 * A select of all types by family, in the order in which the families are given.
 * @param {import('../store/sale_kinds.js').Kinds} kinds
 * @param {string} value `family/type`
 * @param {HTMLElement[]} [before] choices before all others
 */
export function whatSelect({ families, types }, value, before = []) {
  const option = (id, text) => h('option', { value: id }, text);
  const element = /** @type {HTMLSelectElement} */ (h('select', { name: 'what' }, ...before, ...families.map(({ id, name }) => h('optgroup', { label: name },
    ...types.filter((type) => type.family === id).map((type) => option(`${id}/${type.id}`, type.name)),
    option(`${id}/`, _('{kind}, type not known', { kind: name }))))));
  element.value = value;
  return element;
}
