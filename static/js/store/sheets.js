/** Model sheets made on this phone. Each is kept whole: the document that counts, and what stands in its fields. */
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { newId } from './operations.js';
import { save } from './saving.js';

/**
 * @typedef {Object} OwnSheet
 * @property {string} id `own-…`
 * @property {string} family
 * @property {any} document what applySheet lays over the family's pack; its name is empty in a draft
 * @property {any} [form] what was typed, also what does not count yet
 * @property {string} changed
 * @property {string} [from] id of the sheet it was in the file it came from
 * @property {boolean} [removed]
 */

/** An id that no shipped sheet has. */
export const newSheetId = () => `own-${newId()}`;

/** @param {OwnSheet} sheet @returns {string} empty for a draft, and for one that is damaged */
export function sheetName(sheet) {
  const name = sheet.document?.name;
  return typeof name === 'string' ? name : '';
}

/** Those that are not in the bin, by name. @returns {Promise<OwnSheet[]>} */
export async function listSheets() {
  const key = (sheet) => `${sheetName(sheet).toLowerCase()}\n${sheet.id}`;
  return (await (await openDatabase()).all('sheets')).filter((sheet) => !sheet.removed)
    .sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** One sheet, be it in the bin. @param {string} id @returns {Promise<OwnSheet | undefined>} */
export const openSheet = async (id) => (await openDatabase()).get('sheets', id);

/** @param {OwnSheet} sheet */
export const keepSheet = (sheet) => save(({ put }) => put('sheets', sheet));

/** Puts a sheet in the bin, or takes it out again as it was last. @param {string} id @param {boolean} removed */
export async function binSheet(id, removed) {
  return keepSheet({ ...await openSheet(id), removed, changed: new Date().toISOString() });
}

/**
 * What a set that names this sheet goes by: its overrides, or the reason why it goes by its family alone.
 * @param {any} pack the family's
 * @param {string} id
 * @returns {Promise<{changed: string, overrides?: any, unused?: string}>}
 */
export async function ownOverrides(pack, id) {
  const sheet = await openSheet(id);
  const why = await whyUnused(pack, sheet);
  if (why) return { changed: sheet?.changed ?? '', unused: why };
  return { changed: sheet.changed, overrides: { ...sheet.document, name: sheetName(sheet) || pack.name } };
}

async function whyUnused(pack, sheet) {
  if (!sheet) return _('The model sheet of this set is not on this phone.');
  if (sheet.removed) return _('The model sheet of this set was removed.');
  const { damage, misfit } = await import('./sheet_rules.js');
  const wrong = damage(sheet);
  if (wrong) return _('The model sheet of this set is damaged. {why}', { why: wrong });
  const outdated = misfit(pack, sheet.document);
  return outdated && _('The model sheet of this set does not fit these rule tables. {why}', { why: outdated });
}
