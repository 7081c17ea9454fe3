/** What is looked for in the rules: family, words, basis, source. */
import { _ } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { basisWords } from './basis_words.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { BASES } from './rule_tables.js';

export class RuleSearch {
  /**
   * @param {{id: string, name: string}[]} families
   * @param {string} family the one shown first, '' for all
   * @param {(family: string) => void} turnTo called with the family that somebody chose
   * @param {() => void} look called when anything else changed, at most once a frame
   */
  constructor(families, family, turnTo, look) {
    this.words = /** @type {HTMLInputElement} */ (h('input', { type: 'search', id: 'rule-words', autocomplete: 'off', enterkeyhint: 'search', maxlength: 80 }));
    this.family = select(_('Family of sets'), [['', _('All families')], ...families.map(({ id, name }) => [id, name])]);
    this.family.value = family;
    this.basis = select(_('Resting on'), [['', _('anything')], ...BASES.map((basis) => [basis, basisWords(basis)])]);
    this.source = select(_('Read in'), [['', _('any source')]]);
    let waiting = false;
    const soon = async () => {
      if (waiting) return;
      waiting = true;
      await afterFrame();
      waiting = false;
      look();
    };
    this.words.addEventListener('input', soon);
    for (const field of [this.basis, this.source]) field.addEventListener('change', soon);
    this.family.addEventListener('change', () => turnTo(this.family.value));
    this.element = h('form', { class: 'card rule-search', role: 'search', onsubmit: (event) => event.preventDefault() },
      labelled(_('Words to look for'), this.words),
      h('div', { class: 'fields' }, labelled(_('Resting on'), this.basis), labelled(_('Read in'), this.source)));
  }

  /** What is looked for. */
  get wanted() {
    return { words: this.words.value, basis: this.basis.value, source: this.source.value };
  }

  /** Whether anything is. */
  get asks() {
    return Object.values(this.wanted).some((text) => text.trim() !== '');
  }

  /** Gives the sources to choose from; the chosen one stays. @param {Record<string, any>} sources */
  offer(sources) {
    const { value } = this.source;
    this.source.replaceChildren(this.source.options[0], ...Object.values(sources).map(({ id, title }) => h('option', { value: id }, title)));
    this.source.value = value;
  }
}
