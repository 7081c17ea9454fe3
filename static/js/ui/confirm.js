/** A button that asks once more before it does what cannot be taken back. */
import { _ } from '../language.js';
import { h } from './element.js';

/**
 * @param {string} label
 * @param {string} question what will happen
 * @param {string} yes
 * @param {() => Promise<any>} act
 */
export function confirmed(label, question, yes, act) {
  const place = h('div', { class: 'confirm' });
  const first = h('button', { class: 'button', onclick: () => ask() }, label);
  const rest = () => place.replaceChildren(first);
  const ask = () => {
    const keep = h('button', { class: 'button', onclick: () => {
      rest();
      first.focus();
    } }, _('Leave it as it is'));
    const go = h('button', { class: 'button danger', onclick: () => act().finally(rest) }, yes);
    place.replaceChildren(h('p', { role: 'alert' }, question), h('div', { class: 'links' }, keep, go));
    keep.focus();
  };
  rest();
  return place;
}
