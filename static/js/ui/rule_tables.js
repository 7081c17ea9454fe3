/** The readable rows of several families together, each once: in groups, searched, counted. Twin of webapp/pages/rule_tables.py. */
import { _ } from '../language.js';

export const BASES = ['published', 'common practice', 'from memory', 'invented'];

/**
 * @typedef {import('./rule_row.js').RuleTable} RuleTable
 * @typedef {import('./rule_row.js').RuleRow} RuleRow
 * @typedef {{title: string, tables: RuleTable[]}} RuleGroup
 */

/**
 * Groups of tables: what several families have alike, each family's own, what belongs to no family.
 * @param {Map<string, RuleTable[]>} tables by family; of a single family all its rows are its own
 * @param {RuleTable[]} common
 * @param {Map<string, string>} names of the families
 * @returns {RuleGroup[]}
 */
export function inGroups(tables, common, names) {
  const rows = merged(tables);
  const whole = tables.size;
  return [
    { title: _('Alike in every family'), tables: only(rows, ({ families }) => whole > 1 && families?.length === whole) },
    { title: _('Alike in several families'), tables: only(rows, ({ families = [] }) => families.length > 1 && families.length < whole) },
    ...[...tables.keys()].map((family) => ({
      title: names.get(family) ?? family, tables: only(rows, ({ families = [] }) => families.length === 1 && families[0] === family),
    })),
    { title: _('For every family'), tables: common },
  ];
}

/** The tables of all families as one list; a row that reads alike in several stands once and names them. */
export function merged(tables) {
  const together = new Map();
  for (const [family, listed] of tables) {
    for (const table of listed) {
      if (!together.has(table.id)) together.set(table.id, { ...table, rows: new Map() });
      const { rows } = together.get(table.id);
      for (const row of table.rows) {
        const key = Object.values(row).join('\n');
        if (!rows.has(key)) rows.set(key, { ...row, families: [] });
        rows.get(key).families.push(family);
      }
    }
  }
  return [...together.values()].map((table) => ({ ...table, rows: [...table.rows.values()] }));
}

/**
 * The groups with only those rows that hold every word and rest on that basis and source ('' for any).
 * @param {RuleGroup[]} groups
 * @param {{words: string, basis: string, source: string}} wanted
 * @param {Record<string, {title: string}>} sources
 */
export function found(groups, { words, basis, source }, sources) {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const holds = (row) => {
    if ((basis && row.basis !== basis) || (source && row.source !== source)) return false;
    if (wanted.length === 0) return true;
    row.text ??= [row.group, row.title, ...row.says, row.why ?? '', sources[row.source]?.title ?? ''].join(' ').toLowerCase();
    return wanted.every((word) => row.text.includes(word));
  };
  return groups.map((group) => ({ ...group, tables: only(group.tables, holds) })).filter((group) => group.tables.length > 0);
}

/** How many rows rest on each basis. @param {RuleTable[]} tables */
export function counted(tables) {
  const rows = tables.flatMap((table) => table.rows);
  return BASES.map((basis) => rows.filter((row) => row.basis === basis).length);
}

function only(tables, wanted) {
  return tables.map((table) => ({ ...table, rows: table.rows.filter(wanted) })).filter((table) => table.rows.length > 0);
}
