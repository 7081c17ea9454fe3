/** A field for a measured diameter, with the sentence about what was typed wrong. */
import { _ } from '../language.js';
import { h } from './element.js';
import { labelled } from './fields.js';
import { typedNumber } from './money.js';

/**
 * @param {string} button its words
 * @param {(mm: number) => void} take a diameter in millimetres
 * @param {Node | false} [beside] another way to measure
 */
export function sizeField(button, take, beside = false) {
  const size = /** @type {HTMLInputElement} */ (h('input', {
    inputmode: 'decimal', autocomplete: 'off', 'aria-label': _('Diameter in millimetres'), placeholder: 'mm',
  }));
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const typed = () => {
    const diameter = typedNumber(size.value);
    if (!diameter || diameter < 0.1 || diameter > 500) {
      wrong.textContent = _('Give the diameter in millimetres, between 0.1 and 500.');
      size.focus();
      return;
    }
    // A card is not drawn anew under typing hands, and what was typed must show.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    take(diameter);
  };
  size.addEventListener('keydown', (event) => event.key === 'Enter' && typed());
  return h('div', {}, h('div', { class: 'fields' }, labelled(_('Measured, mm'), size),
    h('button', { type: 'button', class: 'button', onclick: typed }, button), beside), wrong);
}
