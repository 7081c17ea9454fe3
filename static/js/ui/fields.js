/** Controls with their labels. */
import { h } from './element.js';

/** @param {string} label @param {string[][]} choices */
export function select(label, choices) {
  const element = h('select', { 'aria-label': label },
    ...choices.map(([value, text]) => h('option', { value }, text)));
  return /** @type {HTMLSelectElement} */ (element);
}

/** A control under its label. @param {string} text @param {HTMLElement} control */
export function labelled(text, control) {
  return h('label', { class: 'field' }, h('span', {}, text), control);
}
