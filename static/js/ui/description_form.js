/** What the seller adds to a description: own words, and what is told of the price. */
import { _ } from '../language.js';
import { descriptionOf } from '../store/description.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { typedPrice } from './money.js';
import { notice } from './notices.js';

/** Most letters of the seller's own words, the server's limit. */
const LONGEST = 4000;

/**
 * @param {any} appraised what pages/appraised.js gives
 * @param {() => void} changed after each change, before it is stored
 */
export function descriptionForm({ foundSet, findings, appraisal, money }, changed) {
  const element = h('section', { class: 'card description-form' }, h('h2', {}, _('What you add')));
  let writing = false;
  let again = false;
  /** Letters come faster than a disk takes them: while one is on its way, only the newest waits. */
  const write = async () => {
    if (writing) {
      again = true;
      return;
    }
    writing = true;
    element.classList.add('saving');
    do {
      again = false;
      await foundSet.put('description', foundSet.get('description')).catch((problem) => notice('save', problem.message, { kind: 'bad' }));
    } while (again);
    writing = false;
    element.classList.remove('saving');
  };
  const put = (values) => {
    foundSet.values.set('description', { ...descriptionOf(foundSet), ...values });
    write();
    changed();
  };
  const { words, price, asked } = descriptionOf(foundSet);
  const own = /** @type {HTMLTextAreaElement} */ (h('textarea', { rows: 4, maxlength: LONGEST, oninput: () => put({ words: own.value }) }));
  own.value = words;
  const choice = select(_('The price'), [['none', _('No price')], ['asked', _('What I ask')], ['range', _('What I ask, and the market’s range')]]);
  choice.value = price;
  const wrong = h('p', { class: 'wrong', role: 'alert', hidden: true }, _('This is no amount. Type figures alone, such as 120.'));
  const amount = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: asked ?? '', placeholder: money.exactly(money.round(appraisal.selling.ask)),
    oninput: () => {
      const typed = typedPrice(amount.value);
      wrong.hidden = typed !== undefined;
      if (typed !== undefined) put({ asked: typed });
    } }));
  const field = labelled(_('What I ask, in {currency}', { currency: findings.currency }), amount);
  field.hidden = price === 'none';
  choice.addEventListener('change', () => {
    field.hidden = choice.value === 'none';
    put({ price: choice.value });
  });
  element.append(labelled(_('Your own words, shown apart from what was found'), own), labelled(_('The price'), choice), field, wrong);
  return element;
}
