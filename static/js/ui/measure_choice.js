/** Which thing of known size lies in the photo: asked, never guessed. */
import { _ } from '../language.js';
import { h } from './element.js';
import { labelled } from './fields.js';
import { figure, typedNumber } from './money.js';

const KINDS = ['card', 'label', 'coin'];
const kindWords = () => [_('Bank card'), _('Printed label'), _('Coin')];
/** The only photo that leaves the phone to be measured in. */
const sentWords = () => _('Where this browser cannot find labels, the photo goes to the server, which keeps nothing.');
/** The side of a printed label's symbol, in millimetres: as printed, and what a person may give. */
const PRINTED = 30;
const [LEAST, MOST] = [5, 300];

/** @typedef {import('./measure_outline.js').Choice} Choice */

/**
 * @param {any} objects the table of things of known size
 * @param {Choice | null} last chosen before
 * @param {(choice: Choice) => void} take called once it is said whole
 */
export function choicePanel(objects, last, take) {
  let kind = last?.kind ?? null;
  const side = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: figure(last?.side_mm ?? PRINTED) }));
  const coin = coinSelect(objects.coins, last?.kind === 'coin' ? last.id : '');
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const more = h('div', {});
  const buttons = kindWords().map((words, at) => h('button', { class: 'option', onclick: () => choose(KINDS[at]) }, words));
  const next = h('button', { class: 'button strong', onclick: () => go() }, _('Next'));

  const choose = (id) => {
    kind = id;
    wrong.textContent = '';
    KINDS.forEach((other, at) => buttons[at].setAttribute('aria-pressed', String(other === kind)));
    more.replaceChildren(...(kind === 'label' ? [labelled(_('Side of its black square, mm'), side), h('p', { class: 'fine' }, sentWords())] : kind === 'coin' ? [labelled(_('Which coin'), coin)] : []));
    next.hidden = !kind;
    next.textContent = kind === 'coin' ? _('Mark its rim') : _('Mark its corners');
  };
  const go = () => {
    const sideMm = typedNumber(side.value);
    if (kind === 'coin' && !coin.value) wrong.textContent = _('Choose which coin it is: coins of one name differ in size.');
    else if (kind === 'label' && !(sideMm >= LEAST && sideMm <= MOST)) wrong.textContent = _('Give the side in millimetres, between {least} and {most}. A label printed to scale has {printed}.', { least: LEAST, most: MOST, printed: PRINTED });
    else take(kind === 'coin' ? { kind, id: coin.value } : kind === 'label' ? { kind, side_mm: sideMm } : { kind, id: objects.cards[0].id });
  };
  choose(kind);
  return h('section', { 'aria-label': _('What lies beside the hole') },
    h('h2', {}, _('What lies beside the hole?')),
    h('div', { class: 'options three', role: 'group', 'aria-label': _('Thing of known size') }, ...buttons), more, wrong, next,
    h('p', { class: 'why' }, _('Lay it flat on the panel, close to the hole, and take the photo from straight above, near enough that both fill it. What stands away from the panel, or is seen aslant, measures less well; the result says how well.')));
}

/** Coins by the place that issues them. */
function coinSelect(coins, chosen) {
  const groups = new Map();
  for (const row of coins) {
    const from = row.id.split('-')[0];
    groups.set(from, [...groups.get(from) ?? [], row]);
  }
  const select = /** @type {HTMLSelectElement} */ (h('select', {}, h('option', { value: '' }, _('Choose the coin')),
    ...[...groups.values()].map((rows) => h('optgroup', { label: placeOf(rows) },
      ...rows.map(({ id, label, diameter_mm: mm }) => h('option', { value: id }, `${label}, ${figure(mm)} mm`))))));
  select.value = chosen ?? '';
  return select;
}

/** The place is named in brackets where the coin's own name does not tell it. */
const placeOf = (rows) => /\((.+)\)/.exec(rows[0].label)?.[1] ?? rows[0].label;
