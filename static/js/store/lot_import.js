/** Lots and the shelf out of an exported file. What is here already is never overwritten. */
import { _ } from '../language.js';
import { damage as lotDamage } from './lot_rules.js';
import { newId } from './operations.js';
import { damage as shelfDamage } from './shelf_rules.js';

const cameFrom = (row, entry) => row.id === entry.id || row.from === entry.id;
/** What a row says, whatever it is called by. */
const plain = ({ id, from, changed, removed, op, ...said }) => JSON.stringify(Object.entries(said).sort());
const twinOf = (here, entry) => here.find((row) => !row.removed && cameFrom(row, entry) && plain(row) === plain(entry));
const renamed = (row, id) => (row.id === id ? row : { ...row, id, from: row.id });

/**
 * The lots of a file that are not here yet, and by its id there what each lot is called here.
 * @param {import('./database.js').Database} database
 * @param {any[]} lots
 */
export async function newLots(database, lots) {
  const here = lots.length > 0 ? await database.all('lots') : [];
  const ids = new Map(lots.map((lot) => [lot.id, twinOf(here, lot)?.id ?? (here.some((row) => row.id === lot.id) ? newId() : lot.id)]));
  const incoming = lots.filter((lot) => !twinOf(here, lot)).map(({ removed, op, ...lot }) => renamed(lot, ids.get(lot.id)));
  return { ids, incoming };
}

/** What a file has on its shelf and this phone has not. @param {import('./database.js').Database} database @param {any[]} things */
export async function newThings(database, things) {
  const here = things.length > 0 ? await database.all('shelf') : [];
  return things.filter((thing) => !twinOf(here, thing)).map(({ removed, op, ...thing }) => renamed(thing, here.some((row) => row.id === thing.id) ? newId() : thing.id));
}

/** A finding that names its lot as that is called here. @param {any} finding @param {Map<string, string>} ids */
export function inLot(finding, ids) {
  const { key, value } = finding;
  return key === 'lot' && ids.has(value?.lot) ? { ...finding, value: { ...value, lot: ids.get(value.lot) } } : finding;
}

/** The lots and the shelf of a file, each looked at. @param {any} document @returns {{lots: any[], shelf: any[]}} */
export function readLots({ lots = [], shelf = [] }) {
  return {
    lots: whole(lots, lotDamage, _('The lots in this file are damaged. Nothing was taken in.'), (said) => _('Lot {number} in this file is damaged. {why} Nothing was taken in.', said)),
    shelf: whole(shelf, shelfDamage, _('The shelf items in this file are damaged. Nothing was taken in.'), (said) => _('Shelf item {number} in this file is damaged. {why} Nothing was taken in.', said)),
  };
}

function whole(rows, damage, allWrong, oneWrong) {
  if (!Array.isArray(rows)) throw new Error(allWrong);
  const seen = new Set();
  rows.forEach((row, index) => {
    const wrong = damage(row) || (seen.has(row.id) ? _('It is there twice.') : '');
    if (wrong) throw new Error(oneWrong({ number: index + 1, why: wrong }));
    seen.add(row.id);
  });
  return rows;
}
