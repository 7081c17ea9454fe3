/** A button that asks once more before it does what cannot be taken back. */
import { h } from './element.js';

/**
 * @param {string} label
 * @param {string} question what will happen
 * @param {string} yes
 * @param {() => Promise<any>} act
 */
export function confirmed(label, question, yes, act) {
  const place = h('div', {});
  const rest = () => place.replaceChildren(h('button', { class: 'button', onclick: ask }, label));
  const ask = () => {
    const keep = h('button', { class: 'button quiet', onclick: rest }, 'Leave it as it is');
    place.replaceChildren(h('p', {}, question), h('div', { class: 'links' }, h('button', { class: 'button', onclick: () => act().finally(rest) }, yes), keep));
    keep.focus();
  };
  rest();
  return place;
}
