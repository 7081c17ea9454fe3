/**
 * The form of a rule row on its way to a reader. Twin of webapp/pages/rule_row.py.
 *
 * @typedef {{address: string, group: string, title: string, says: string[], basis: string, source: string | null,
 *   why: string | null, families?: string[]}} RuleRow
 * @typedef {{id: string, title: string, rows: RuleRow[]}} RuleTable
 */

/**
 * One row in words, with what it rests on; `address` names it among the rows of its family.
 * @param {string} address
 * @param {string} title
 * @param {(string | false | null | undefined)[]} says
 * @param {any} grounds
 * @returns {RuleRow}
 */
export function row(address, title, says, grounds, group = '') {
  return {
    address,
    group,
    title: title.charAt(0).toUpperCase() + title.slice(1),
    says: /** @type {string[]} */ (says.filter(Boolean)),
    basis: grounds.basis,
    source: grounds.source ?? null,
    why: grounds.why ?? null,
  };
}

/** One table of such rows. @param {string} id @param {string} title @param {RuleRow[]} rows @returns {RuleTable} */
export const table = (id, title, rows) => ({ id, title, rows });

/** The row of that id, which must be there. @param {any[]} rows @param {string} id */
export const byId = (rows, id) => rows.find((found) => found.id === id);
