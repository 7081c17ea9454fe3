/** How many rule rows rest on what, family by family. */
import { _ } from '../language.js';
import { basisWords } from './basis_words.js';
import { h } from './element.js';
import { figure } from './money.js';
import { BASES } from './rule_tables.js';

/** @param {{title: string, href?: string, counts: number[]}[]} lines */
export function ruleCounts(lines) {
  const cell = (number) => h('td', {}, figure(number));
  return h('section', { class: 'card' }, h('h2', {}, _('How many rows rest on what')),
    h('table', { class: 'counts' },
      h('thead', {}, h('tr', {}, ...[...BASES.map(basisWords), _('all')].map((words) => h('th', { scope: 'col' }, words)))),
      ...lines.map(({ title, href, counts }) => h('tbody', {},
        h('tr', {}, h('th', { scope: 'rowgroup', colspan: BASES.length + 1 }, href ? h('a', { href }, title) : title)),
        h('tr', {}, ...counts.map(cell), cell(counts.reduce((sum, number) => sum + number, 0)))))));
}

/** The sources, with a button for the rows that rest on each. @param {Record<string, any>} sources @param {(id: string) => void} show */
export function ruleSources(sources, show) {
  const rows = Object.values(sources).map(({ id, title, where }) => h('li', { class: 'rule' },
    h('p', { class: 'rule-title' }, title), h('p', { class: 'why' }, _('Read: {where}.', { where })),
    h('button', { class: 'button quiet', 'aria-label': _('Rows that rest on {source}', { source: title }), onclick: () => show(id) }, _('Its rows'))));
  return h('details', { class: 'card sources' }, h('summary', {}, h('h3', {}, _('Sources')), h('span', { class: 'fine' }, rows.length)),
    h('ul', { class: 'rows' }, ...rows));
}
