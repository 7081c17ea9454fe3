/** The shelf: spares and wants by part, and donors, which are sets of one's own that may be broken. They join every plan. */
import { openDatabase } from './database.js';
import { newId } from './operations.js';
import { save } from './saving.js';

/**
 * @typedef {Object} Thing
 * @property {string} id
 * @property {'spare' | 'want' | 'donor'} kind
 * @property {string} [family]
 * @property {string | null} [model_sheet]
 * @property {string} [part]
 * @property {number | null} [state] of a spare, 0 to 1
 * @property {number} [count]
 * @property {number | null} [worth] of a want: what one is worth to its owner; null for what it costs to buy
 * @property {string} [set] of a donor: id of the found set
 * @property {string} changed
 * @property {boolean} [removed]
 * @property {string} [from] id of the thing it was in the file it came from
 * @property {string} [op]
 */

const KINDS = ['spare', 'want', 'donor'];

/** Those that are not in the bin: spares, wants, donors. @returns {Promise<Thing[]>} */
export async function listShelf() {
  const key = ({ kind, family, part, id }) => [KINDS.indexOf(kind), family, part, id].join('\n');
  return (await (await openDatabase()).all('shelf')).filter((thing) => !thing.removed).sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** Keeps a thing, as changed now; one without an id is new. @param {Partial<Thing>} thing */
export const keepThing = (thing) => save(({ put }) => put('shelf', { id: newId(), ...thing, changed: new Date().toISOString() }));

/** Puts a thing in the bin, or takes it out again. @param {Thing} thing @param {boolean} removed */
export const binThing = (thing, removed) => keepThing({ ...thing, removed });
