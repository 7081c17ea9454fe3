/** Heater strings as somebody traces them: for each tube its number or volts, and its current. */
import { heaterOf } from '../kernel/tube_numbers.js';
import { _ } from '../language.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { figure, typedNumber } from './money.js';

/**
 * @typedef {{volts: number, amps: number, tube?: string}} Heater
 * @param {any} pack
 * @param {(Heater | Heater[])[][]} strings a place in a string holds one heater, or several shunted ones
 * @param {(strings: (Heater | Heater[])[][]) => void} change
 */
export function heaterEditor(pack, strings, change) {
  const place = h('div', { class: 'heaters' });
  const put = (next) => {
    strings = next.filter((string) => string.length > 0);
    change(strings);
    draw();
  };
  const draw = () => place.replaceChildren(
    ...strings.map((string, index) => stringView(pack, string, index, (next) => put(strings.with(index, next)))),
    h('details', {},
      h('summary', {}, strings.length > 0 ? _('Another heater string') : _('Note the heater strings')),
      newHeater(pack, (heater) => put([...strings, [heater]]), _('Begin a string with this tube'))));
  draw();
  return place;
}

function stringView(pack, string, index, put) {
  const volts = string.reduce((sum, spot) => sum + Math.max(...[spot].flat().map((heater) => heater.volts)), 0);
  return h('section', { class: 'holes', 'aria-label': _('Heater string {number}', { number: index + 1 }) },
    h('p', {}, h('strong', {}, _('String {number}: {volts} V in line', { number: index + 1, volts: figure(volts) }))),
    h('ol', { class: 'rows' }, ...string.map((spot, at) => h('li', { class: 'hole' },
      h('span', {}, [spot].flat().map(said).reduce((all, other) => _('{heater}, shunted by {other}', { heater: all, other }))),
      h('button', {
        class: 'button quiet', 'aria-label': _('Take tube {tube} out of string {number}', { tube: at + 1, number: index + 1 }),
        onclick: () => put(string.filter((spot_, other) => other !== at)),
      }, _('Remove'))))),
    newHeater(pack, (heater) => put([...string, heater]), _('Add it in line'),
      (heater) => put(string.with(-1, [[string.at(-1)].flat(), heater].flat()))));
}

const said = ({ tube, volts, amps }) => `${tube ? `${tube}: ` : ''}${figure(volts)} V, ${figure(amps)} A`;

function newHeater(pack, add, label, shunt) {
  const tube = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', autocapitalize: 'characters', maxlength: 20 }));
  const volts = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off' }));
  const amps = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off' }));
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const note = h('p', { class: 'reading', role: 'status' });
  tube.addEventListener('input', () => {
    const reading = heaterOf(pack.tube_numbers, tube.value);
    setText(note, tube.value.trim() ? reading.sentence : '');
    if (reading.volts.length > 0) volts.value = String(reading.volts[0]);
  });
  const give = (take) => {
    const [v, a] = [typedNumber(volts.value), typedNumber(amps.value)];
    const bad = !v || v < 0.1 || v > 1000 || !a || a < 0.001 || a > 1000;
    setText(wrong, bad ? _('Give volts (0.1 to 1000) and amperes (0.001 to 1000), such as 12.6 and 0.15.') : '');
    if (!bad) take({ volts: v, amps: a, ...(tube.value.trim() ? { tube: tube.value.trim() } : {}) });
  };
  return h('div', { class: 'new-hole' },
    h('div', { class: 'fields' }, labelled(_('Number on the tube'), tube), labelled(_('Volts'), volts), labelled(_('Amperes'), amps)),
    note, wrong,
    h('div', { class: 'card-foot' },
      h('button', { type: 'button', class: 'button', onclick: () => give(add) }, label),
      shunt && h('button', { type: 'button', class: 'button quiet', onclick: () => give(shunt) }, _('Shunted with the last'))));
}
