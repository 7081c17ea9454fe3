/** Rule rows in tables that stay folded, and empty, until somebody opens them. */
import { _, _n } from '../language.js';
import { basisWords } from './basis_words.js';
import { h } from './element.js';

/**
 * What the drawing of rows needs beside them; `target` is the address of the row that was asked for.
 * @typedef {{sources: Record<string, any>, names: Map<string, string>, open: boolean, target: string}} Look
 */

/** @param {import('./rule_tables.js').RuleGroup[]} groups @param {Look} look */
export function ruleGroups(groups, look) {
  return groups.filter(({ tables }) => tables.length > 0).map(({ title, tables }) => h('section', { class: 'rule-family' },
    h('h2', {}, title), ...tables.map((table) => ruleTable(table, look))));
}

function ruleTable(table, look) {
  return folded(h('h3', {}, table.title), table.rows, look, 'card', () => {
    const groups = grouped(table.rows);
    return [...groups].map(([title, rows]) => (title
      ? folded(h('span', {}, title), rows, look, 'rule-group', () => [list(rows, look)])
      : list(rows, look)));
  });
}

function grouped(rows) {
  const groups = new Map();
  for (const row of rows) groups.set(row.group, [...groups.get(row.group) ?? [], row]);
  return groups;
}

/** A heading that opens; what is behind it is drawn when it opens first. */
function folded(heading, rows, look, kind, draw) {
  const body = h('div', {});
  const open = look.open || rows.some((row) => row.address === look.target);
  const fill = () => body.firstChild ?? body.append(...draw());
  if (open) fill();
  return h('details', { class: kind, open, ontoggle: fill },
    h('summary', {}, heading, h('span', { class: 'fine' }, _n('{count} row', '{count} rows', rows.length))), body);
}

function list(rows, look) {
  return h('ul', { class: 'rows' }, ...rows.map((row) => ruleRow(row, look)));
}

function ruleRow({ address, title, group, says, why, basis, source, families = [] }, { sources, names, target }) {
  const { title: read, where } = sources[source ?? ''] ?? {};
  const shared = families.length > 1 && families.length < names.size;
  return h('li', { class: `rule ${address === target ? 'asked-for' : ''}`, 'data-row': address, tabindex: address === target && '-1' },
    title !== group && h('p', { class: 'rule-title' }, title),
    says.length > 0 && h('p', {}, says.join(' ')),
    why && h('p', { class: 'why' }, why),
    h('p', { class: 'grounds' }, read ? _('Rests on: {basis}: {source} ({where}).', { basis: basisWords(basis), source: read, where }) : _('Rests on: {basis}.', { basis: basisWords(basis) })),
    shared && h('p', { class: 'grounds' }, _('In: {families}.', { families: families.map((family) => names.get(family)).join('; ') })));
}
