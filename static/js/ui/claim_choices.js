/** What is really there, in the place of a claim: the options of its check, the field of its figure, or another hole. */
import { _ } from '../language.js';
import { CheckCard } from './check.js';
import { h } from './element.js';
import { sizeField } from './hole_size_field.js';
import { sizeChips } from './hole_sizes.js';
import { asFound } from './hole_words.js';

/**
 * The options of a check but the told one.
 * @param {any} check @param {string} told @param {string | null} chosen @param {(option: string) => void} choose
 * @param {string} set its id
 */
export function optionChoices(check, told, chosen, choose, set) {
  return h('div', {}, h('div', { class: 'options', role: 'group', 'aria-label': _('What is it really?') },
    ...check.options.filter(({ id }) => id !== told).map(({ id, label }) => h('button', { class: 'option', 'aria-pressed': String(id === chosen), onclick: () => choose(id) }, label))),
  check.asks_holes && chosen === 'some' && h('a', { class: 'row-link', href: `#/set/${set}/${check.id}` }, _('List the holes in the walk round ›')));
}

/**
 * The field of a figure, as in the walk round; each letter is kept.
 * @param {any} pack @param {any} check @param {import('./check.js').CheckActions} actions
 */
export function figureChoices(pack, check, actions) {
  const card = new CheckCard(pack, check, actions);
  card.found = actions.foundSet.found(check.id);
  return card.inputs();
}

/**
 * Not there, of another size, or left in another way.
 * @param {any} pack
 * @param {import('../store/hole_list.js').Hole} told
 * @param {import('../store/hole_list.js').Hole | null} found null where it is not there, or was not looked at
 * @param {boolean} gone
 * @param {(hole: any) => void} choose a hole, or `gone`
 */
export function holeChoices(pack, told, found, gone, choose) {
  const place = pack.holes.places.find((row) => row.id === told.place);
  const { place: where, diameter_mm, as_found } = found ?? told;
  const group = (label, ...buttons) => h('div', { class: 'options', role: 'group', 'aria-label': label }, ...buttons);
  const left = asFound().filter(([id]) => id !== told.as_found).map(([id, words]) => h('button', {
    class: 'option', 'aria-pressed': String(found?.as_found === id), onclick: () => choose({ place: where, diameter_mm, as_found: id }),
  }, words));
  return h('div', {},
    group(_('Is it there?'), h('button', { class: 'option', 'aria-pressed': String(gone), onclick: () => choose('gone') }, _('It is not there'))),
    h('p', { class: 'help' }, _('Or it was left in another way:')), group(_('As found'), ...left),
    h('p', { class: 'help' }, _('Or it is of another size:')),
    group(_('Size by eye'), ...sizeChips(place, (size) => choose({ place: where, as_found, ...size }), found)),
    sizeField(_('Take this size'), (mm) => choose({ place: where, as_found, diameter_mm: mm })));
}
