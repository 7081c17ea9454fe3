/** The forms that put something on the shelf. */
import { _ } from '../language.js';
import { prepareFor } from '../store/packs.js';
import { keepThing } from '../store/shelf.js';
import { h, setText } from './element.js';
import { labelled, select } from './fields.js';
import { typedPrice } from './money.js';
import { notice } from './notices.js';
import { whatSelect } from './sale_what.js';
import { sayUnsaved } from './sale_words.js';
import { savingMark } from './saving_mark.js';
import { partName, statesOf } from './shelf_words.js';

const changed = () => window.dispatchEvent(new Event('underchassis-changed'));

/** A spare or a want. */
export class ThingForm {
  /** @param {import('../store/sale_kinds.js').Kinds} kinds */
  constructor(kinds) {
    this.what = whatSelect(kinds, '');
    this.what.selectedIndex = 0;
    this.kind = select(_('Spare or want'), [['spare', _('A spare: I have it')], ['want', _('A want: I need it')]]);
    this.part = select(_('Part'), []);
    this.state = select(_('State'), []);
    this.count = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'numeric', autocomplete: 'off', maxlength: 3, value: 1 }));
    this.worth = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', placeholder: _('what it costs to buy') }));
    this.worthField = labelled('', this.worth);
    this.stateField = labelled(_('Its state'), this.state);
    this.wrong = h('p', { class: 'wrong', role: 'alert' });
    this.element = h('form', { class: 'card', 'aria-label': _('Spare or want'), onsubmit: (event) => this.submitted(event) },
      h('h2', {}, _('Put on the shelf')), labelled(_('What it is'), this.kind), labelled(_('Out of'), this.what), labelled(_('Part'), this.part),
      this.stateField, this.worthField, labelled(_('How many'), this.count), this.wrong, h('button', { class: 'button strong', type: 'submit' }, _('Put it there')));
    this.what.addEventListener('change', () => this.fill().catch(sayUnsaved));
    this.part.addEventListener('change', () => this.fillStates());
    this.kind.addEventListener('change', () => this.fillStates());
  }

  /** Shows the parts of the kind chosen. */
  async fill() {
    const [family, type] = this.what.value.split('/');
    this.pack = (await prepareFor(family, type || null)).pack;
    const before = this.part.value;
    this.part.replaceChildren(...this.pack.parts.map(({ id }) => h('option', { value: id }, partName(this.pack, id))));
    if (this.pack.parts.some(({ id }) => id === before)) this.part.value = before;
    setText(this.worthField.firstChild, _('What one is worth to you, {currency}', { currency: this.pack.reference.currency }));
    this.fillStates();
  }

  fillStates() {
    const spare = this.kind.value === 'spare';
    const states = statesOf(this.pack, this.part.value);
    this.state.replaceChildren(...states.map(({ label, state }) => h('option', { value: state }, label)));
    this.stateField.hidden = !spare || states.length === 0;
    this.worthField.hidden = spare;
  }

  /** The thing that the fields amount to; throws with a sentence. */
  read() {
    const [family, type] = this.what.value.split('/');
    const kind = this.kind.value;
    const count = Number(this.count.value.trim() || NaN);
    const worth = typedPrice(this.worth.value);
    if (!Number.isInteger(count) || count < 1 || count > 999) throw new Error(_('Write how many, from 1 to 999.'));
    if (kind === 'want' && (worth === undefined || worth > 1e12)) throw new Error(_('Write what it is worth as a plain number, such as 12.50, or nothing.'));
    const own = kind === 'spare' ? { state: Number(this.state.value || 1) } : { worth };
    return { kind, family, model_sheet: type || null, part: this.part.value, count, ...own };
  }

  async submitted(event) {
    event.preventDefault();
    setText(this.wrong, '');
    try {
      const thing = this.read();
      const saving = keepThing(thing);
      savingMark(this.element, saving);
      await saving;
      notice('shelf', _('{part}: on the shelf.', { part: partName(this.pack, thing.part) }), { passing: true });
      changed();
    } catch (problem) {
      setText(this.wrong, problem.message);
    }
  }
}

/** A set of one's own that may be broken. */
export class DonorForm {
  constructor() {
    this.set = select(_('Set'), []);
    this.element = h('form', { class: 'fields', 'aria-label': _('Donor'), onsubmit: (event) => {
      event.preventDefault();
      keepThing({ kind: 'donor', set: this.set.value }).then(changed, sayUnsaved);
    } }, labelled(_('A set of the notebook'), this.set), h('button', { class: 'button', type: 'submit' }, _('May be broken')));
  }

  /** @param {import('../store/found_set.js').FoundSet[]} sets that may be chosen */
  show(sets) {
    this.element.hidden = sets.length === 0;
    this.set.replaceChildren(...sets.map((foundSet) => h('option', { value: foundSet.base.id }, [foundSet.get('title') || foundSet.base.family, foundSet.get('label')].filter(Boolean).join(', '))));
  }
}
