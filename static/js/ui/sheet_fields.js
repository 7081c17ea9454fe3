/** Fields of a model sheet: what is typed goes into the form at once, and what is wrong with it stands below. */
import { h, setText } from './element.js';
import { labelled, select } from './fields.js';

/** @typedef {[label: string, holder: any, key: string | number, usual?: string | number]} Field what it is called, where it is kept, what stands in it while it is empty */

export class SheetFields {
  /** @param {() => void} changed */
  constructor(changed) {
    this.changed = changed;
    /** @type {Map<string, {wrong: HTMLElement, inputs: HTMLElement[]}>} */
    this.places = new Map();
  }

  /** One field of text. @param {string} path @param {Field} field @param {Record<string, any>} [props] */
  text(path, field, props = {}) {
    return this.row(path, [field], { maxlength: 400, ...props });
  }

  /** Fields for figures that belong together. @param {string} path @param {Field[]} fields */
  figures(path, fields) {
    return this.row(path, fields, { inputmode: 'decimal' });
  }

  /** @param {string} path @param {Field[]} fields @param {Record<string, any>} props */
  row(path, fields, props) {
    const inputs = fields.map(([, holder, key, usual = '']) => this.bound(/** @type {HTMLInputElement} */ (h('input', {
      autocomplete: 'off', value: holder[key], placeholder: usual, ...props,
    })), holder, key));
    return h('div', {},
      h('div', { class: `fields ${fields.length === 3 ? 'three' : ''}` }, ...fields.map(([label], index) => labelled(label, inputs[index]))), this.sentence(path, inputs));
  }

  /** @param {Field} field @param {string[][]} choices */
  choice([label, holder, key], choices) {
    const control = this.bound(select(label, choices), holder, key);
    control.value = holder[key];
    return labelled(label, control);
  }

  /** Several lines of text. @param {Field} field */
  lines([label, holder, key, usual = '']) {
    const area = this.bound(/** @type {HTMLTextAreaElement} */ (h('textarea', { rows: 3, maxlength: 400, placeholder: usual })), holder, key);
    area.value = holder[key];
    return labelled(label, area);
  }

  /** A control that writes into its holder. */
  bound(control, holder, key) {
    control.addEventListener('input', () => {
      holder[key] = control.value;
      this.changed();
    });
    return control;
  }

  /** The place for what is wrong. @param {string} path @param {HTMLElement[]} [inputs] @param {string} [kind] */
  sentence(path, inputs = [], kind = 'wrong') {
    const wrong = h('p', { class: kind, role: 'alert' });
    this.places.set(path, { wrong, inputs });
    return wrong;
  }

  /** @param {Map<string, string>} faults sentences by path */
  show(faults) {
    for (const [path, { wrong, inputs }] of this.places) {
      setText(wrong, faults.get(path) ?? '');
      for (const input of inputs) input.setAttribute('aria-invalid', String(faults.has(path)));
    }
  }
}
