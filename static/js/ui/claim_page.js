/** Parts of the Claims screen around the claims: where they come from, and what the seller did not look at. */
import { stand } from '../kernel/standing.js';
import { _, _n } from '../language.js';
import { h } from './element.js';
import { dayLocale } from './habits.js';
import { moneyWriter } from './money.js';

/** Names that are listed at most. */
const MOST = 12;

/** A day as people here write it. @param {string} day YYYY-MM-DD */
export function dayWords(day) {
  const date = new Date(`${day}T12:00`);
  return Number.isNaN(date.getTime()) ? day : date.toLocaleDateString(dayLocale(), { day: 'numeric', month: 'short', year: 'numeric' });
}

/** What the seller asks. @param {import('../store/claim_rules.js').Claims} claims @param {any} pack */
export const askedWords = ({ asked }, pack) => (asked ? _('The seller asks {price}.', { price: moneyWriter(asked.currency, pack).exactly(asked.amount) }) : '');

/** What these tables do not know. @param {string[]} names */
export function asideWords(names) {
  if (names.length === 0) return '';
  const listed = names.slice(0, MOST).join('; ');
  return names.length > MOST ? _('Not known here and left out: {names}; and {count} more.', { names: listed, count: names.length - MOST }) : _('Not known here and left out: {names}.', { names: listed });
}

/** The page that the claims were copied from. @param {import('../store/claim_rules.js').Claims} claims @param {any} pack @param {string[]} aside */
export function whereFrom(claims, pack, aside) {
  return h('div', { class: 'fine' },
    h('p', {}, [_('Copied from the seller’s page of {day}.', { day: dayWords(claims.written) }), askedWords(claims, pack),
      claims.photos > 0 && _n('The page shows {count} photo.', 'The page shows {count} photos.', claims.photos)].filter(Boolean).join(' '),
    ' ', h('a', { href: claims.from, rel: 'noreferrer' }, _('See the page'))),
    aside.length > 0 && h('p', {}, asideWords(aside)));
}

/**
 * What the seller did not look at, each leading to the buyer's own walk round.
 * @param {any} prepared @param {any} beside what was told, and the numbers of what was found
 * @param {import('../store/found_set.js').FoundSet} foundSet
 */
export function notLookedAt(prepared, { told, now: { standing }, checked }, foundSet) {
  const { chosen, shown } = stand(prepared, told);
  const figures = checked.claims.map(({ id }) => id);
  const left = prepared.pack.checks.filter((check, index) => shown[index] && chosen[index] < 0 && !figures.includes(`figure/${check.asks}`));
  if (left.length === 0) return h('p', {}, _('The seller looked at everything on the list.'));
  const answer = (check) => check.options[standing.chosen[prepared.checkIndex.get(check.id)]]?.label;
  const label = (check) => [check.label, told.unseen.has(check.id) && _('could not be looked at')].filter(Boolean).join(', ');
  return h('section', { class: 'card' }, h('h2', {}, _('The seller did not look at')),
    h('p', { class: 'help' }, _('Nothing is claimed of these. Look for yourself:')),
    h('ul', { class: 'rows claims-left' }, ...left.map((check) => h('li', {}, h('a', { class: 'row-link', href: `#/set/${foundSet.base.id}/${check.id}` },
      h('span', {}, label(check)), h('span', { class: 'fine' }, answer(check) ?? '›'))))));
}
