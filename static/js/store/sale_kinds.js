/** What a sale can be of: the families, and their types with those of one's own. */
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { loadPack, packIndex } from './packs.js';
import { sheetName } from './sheets.js';

/**
 * @typedef {{families: {id: string, name: string}[], types: {id: string, name: string, family: string}[]}} Kinds
 */

/**
 * @param {import('./sales.js').Sale[]} [sales] whose types are named too when they are no longer here
 * @returns {Promise<Kinds>}
 */
export async function saleKinds(sales = []) {
  const [{ families, sheets }, database] = await Promise.all([packIndex(), openDatabase()]);
  const shipped = Object.entries(sheets).map(([id, { name, sheet }]) => ({ id, name, family: sheet.family }));
  const own = (await database.all('sheets')).filter((sheet) => sheetName(sheet));
  const mine = own.filter((sheet) => !sheet.removed).map((sheet) => ({ id: sheet.id, name: sheetName(sheet), family: sheet.family }));
  const types = [...shipped, ...mine].sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const { family, model_sheet: id } of sales) {
    if (id && !types.some((type) => type.id === id)) types.push({ id, name: _('type no longer here'), family });
  }
  return { families, types };
}

/** What a sale is of, in words. @param {Kinds} kinds @param {{family: string, model_sheet: string | null}} sale */
export function kindName({ families, types }, { family, model_sheet: type }) {
  const name = families.find((row) => row.id === family)?.name ?? family;
  if (!type) return _('{kind}, type not known', { kind: name });
  return types.find((row) => row.id === type)?.name ?? name;
}

/** The states and the currency of a family's tables. @param {string} family @returns {Promise<{states: {id: string, label: string}[], currency: string}>} */
export async function saleTerms(family) {
  const { states, reference } = await loadPack(family);
  return { states, currency: reference.currency };
}
