/** What pulled the price up and down, as a drawn waterfall; each row opens to what it rests on. */
import { _ } from '../language.js';
import { basisWords } from './basis_words.js';
import { h } from './element.js';

/** Rows shown singly; the rest stands behind one line. */
const MOST = 7;

/**
 * @param {{label: string, amount: number, say: (amount: number) => string, why: string, basis: string,
 *   more: string, source: string | null, last: boolean, href: string}[]} rows the largest first; `last` marks what is not checked
 * @param {{label: string, value: number, text: string}} start
 * @param {{label: string, value: number, text: string}} end
 */
export function waterfall(rows, start, end) {
  const top = highest(rows, start, end);
  const at = (value) => (100 * Math.max(0, value)) / top;
  let level = start.value;
  const drawn = (row) => {
    const before = level;
    level += row.amount;
    return step(row, at(Math.min(before, level)), at(Math.max(before, level)));
  };
  const [large, small, last] = split(rows);
  const items = large.map(drawn);
  if (small.length > 0) items.push(smaller(small, small.map(drawn)));
  return h('ol', { class: 'waterfall' }, total(start, at), ...items, ...last.map(drawn), total(end, at));
}

/** The largest rows, those gathered behind one line, and the row of what is not checked. */
function split(rows) {
  const named = rows.filter((row) => !row.last);
  const shown = named.length > MOST + 1 ? MOST : named.length;
  return [named.slice(0, shown), named.slice(shown), rows.filter((row) => row.last)];
}

function smaller(rows, items) {
  const sum = rows.reduce((total_, row) => total_ + row.amount, 0);
  return h('li', {}, h('details', { class: 'smaller' },
    h('summary', {}, h('span', { class: 'fall-label' }, _('{count} smaller findings ▾', { count: rows.length })), h('span', { class: 'fall-text' }, rows[0].say(sum))),
    h('ol', { class: 'waterfall' }, ...items)));
}

function highest(rows, start, end) {
  let level = start.value;
  return rows.reduce((top, row) => Math.max(top, level += row.amount), Math.max(start.value, end.value));
}

function step(row, from, to) {
  return h('li', {}, h('details', {},
    h('summary', {},
      h('span', { class: 'fall-label' }, row.label),
      h('span', { class: 'fall-text' }, row.say(row.amount)),
      bar(from, to, row.amount < 0 ? 'down' : 'up')),
    h('p', { class: 'why' }, `${whyWords(row)} ${row.more}`,
      h('a', { class: 'row-link', href: row.href }, groundsWords(basisWords(row.basis), row.source)))));
}

/** Of what is not checked the tables have no row that could give a reason. */
const whyWords = ({ last, why }) => (last ? _('What is still open, at what is usual for the family.') : why);

const groundsWords = (basis, source) => (source ? _('This rests on: {basis} ({source}). Read the row ›', { basis, source }) : _('This rests on: {basis}. Read the row ›', { basis }));

function total({ label, value, text }, at) {
  return h('li', { class: 'total' }, h('span', { class: 'fall-label' }, label), h('span', { class: 'fall-text' }, text), bar(0, at(value), 'sum'));
}

function bar(from, to, kind) {
  const fill = h('span', { class: `fall-fill ${kind}` });
  fill.style.marginLeft = `${from}%`;
  fill.style.width = `${Math.max(0.6, to - from)}%`;
  return h('span', { class: 'fall-bar', 'aria-hidden': 'true' }, fill);
}
