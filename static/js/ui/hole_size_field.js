/** A field for a measured diameter, with the sentence about what was typed wrong. */
import { _ } from '../language.js';
import { h } from './element.js';
import { labelled } from './fields.js';
import { lengthUnit, typedLength } from './habits.js';

/** What a hole of a set may measure, in millimetres. */
const [LEAST, MOST] = [0.1, 500];

const inMillimetres = () => ({
  keys: 'decimal', short: 'mm', label: _('Measured, mm'), spoken: _('Diameter in millimetres'), wrong: _('Give the diameter in millimetres, between 0.1 and 500.'),
});
// Keys for figures have no stroke for a fraction.
const inInches = () => ({
  keys: 'text', short: _('inches'), label: _('Measured, inches'), spoken: _('Diameter in inches'), wrong: _('Give the diameter in inches, between 0.004 and 19.6, such as 0.63 or 5/8.'),
});

/**
 * @param {string} button its words
 * @param {(mm: number) => void} take a diameter in millimetres
 * @param {Node | false} [beside] another way to measure
 */
export function sizeField(button, take, beside = false) {
  const words = lengthUnit() === 'inch' ? inInches() : inMillimetres();
  const size = /** @type {HTMLInputElement} */ (h('input', {
    inputmode: words.keys, autocomplete: 'off', 'aria-label': words.spoken, placeholder: words.short,
  }));
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const typed = () => {
    const diameter = typedLength(size.value);
    if (!diameter || diameter < LEAST || diameter > MOST) {
      wrong.textContent = words.wrong;
      size.focus();
      return;
    }
    // A card is not drawn anew under typing hands, and what was typed must show.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    take(diameter);
  };
  size.addEventListener('keydown', (event) => event.key === 'Enter' && typed());
  return h('div', {}, h('div', { class: 'fields' }, labelled(words.label, size),
    h('button', { type: 'button', class: 'button', onclick: typed }, button), beside), wrong);
}
