/** What differs between a seller's page and the set on the table, and what that is worth: the list to haggle by. */
import { _, _n } from '../language.js';
import { foundWords, toldWords } from './claim_words.js';
import { h } from './element.js';
import { textWays } from './text_ways.js';

/** @typedef {import('../kernel/claims.js').Checked} Checked */

/** How far it is checked, in one line. @param {Checked} checked @param {any} money */
export function sumWords({ claims, checked, differences, amount }, money) {
  const counts = { checked, all: claims.length };
  if (checked === 0 && differences.length === 0) return _n('{count} claim, not checked yet', '{count} claims, none checked yet', claims.length);
  if (differences.length === 0) return _('{checked} of {all} claims checked, none differs', counts);
  return _n('{checked} of {all} claims checked, {count} differs: {amount}', '{checked} of {all} claims checked, {count} differ: {amount}', differences.length, { ...counts, amount: money.change(amount) });
}

/** The same for the screen: a sign stays with its amount. @param {Checked} checked @param {any} money */
export function sumLine(checked, money) {
  const amount = money.change(checked.amount);
  return sumWords(checked, money).split(amount).flatMap((text, index) => (index === 0 ? [text] : [h('span', { class: 'together' }, amount), text]));
}

/**
 * The card with the list, what takes off most first.
 * @param {import('./claim_words.js').Beside} beside @param {Checked} checked @param {any} money @param {string} title of the set
 */
export function differencesList(beside, checked, money, title) {
  const heading = h('h2', {}, _('What differs'));
  if (checked.differences.length === 0) return h('section', { class: 'card' }, heading, h('p', {}, _('Nothing so far.')));
  const rows = checked.differences.toSorted((a, b) => a.amount - b.amount)
    .map(({ id, amount }) => ({ told: toldWords(beside, id), found: foundWords(beside, id), amount: money.change(amount) }));
  return h('section', { class: 'card haggle claims-differ' }, heading,
    h('p', { class: 'help' }, _('The figures are what each takes off, or adds. Say it kindly; the seller may not know.')),
    h('ol', { class: 'points' }, ...rows.map(({ told, found, amount }) => h('li', {},
      h('span', {}, found, h('span', { class: 'sub' }, _('Told: {what}', { what: told }))), h('strong', { class: 'fall-text' }, amount)))),
    h('p', { class: 'why' }, _('Each figure is rounded for itself; unrounded they add up.')),
    textWays(() => listText(rows, sumWords(checked, money), title)));
}

function listText(rows, sum, title) {
  return [title, sum, ...rows.flatMap(({ told, found, amount }) => ['', `${amount}  ${found}`, _('Told: {what}', { what: told })]), ''].join('\n');
}
