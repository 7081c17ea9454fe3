/** A buyer's copy of a seller's page: made once, never sent anywhere, and read beside the buyer's own answers. */
import { FIGURES } from '../kernel/claims.js';
import { readFindings } from '../kernel/findings.js';
import { prepare } from '../kernel/prepared.js';
import { applySheet } from '../kernel/sheet.js';
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { travels } from './claim_rules.js';
import { allSets, putSet } from './notebook.js';
import { newId, plain } from './operations.js';
import { loadPack, packIndex, prepareFor } from './packs.js';
import { save } from './saving.js';
import { damage, misfit } from './sheet_rules.js';
import { listSheets, newSheetId } from './sheets.js';

/** What a sheet's document holds; anything else of a stranger's stays out. */
const OF_SHEET = ['name', 'about', 'sheet', 'reference', 'absent', 'parts', 'extra'];

/**
 * @typedef {import('./found_set.js').FoundSet} FoundSet
 * @typedef {import('./claim_rules.js').Claims} Claims
 *
 * @typedef {Object} Fitted a page with the tables that it goes by
 * @property {any} prepared
 * @property {string | null} sheet id of the model sheet that the copy would name
 * @property {any} newSheet the row of the seller's own model sheet, when it comes along
 * @property {string} note what is to be said about its model sheet
 */

/** The copy that was made of a page, unless it was removed. @param {string} from @returns {Promise<FoundSet | undefined>} */
export const copyOf = async (from) => (await allSets()).find((foundSet) => foundSet.get('claims')?.from === from);

/**
 * The tables that a page goes by. A model sheet that is not to be had leaves the family's own standing.
 * @param {import('./share_reading.js').Share} share
 * @returns {Promise<Fitted>} rejects when its kind is not known here
 */
export async function fitted({ claims: { findings: { family, model_sheet: sheet } }, ownSheet }) {
  const { families, sheets } = await packIndex();
  if (!families.some(({ id }) => id === family)) {
    throw new Error(_('The kind of set “{kind}” is not in this version of the app. Load the newest version, then open the link once more.', { kind: family }));
  }
  const pack = await loadPack(family);
  const alone = async (note) => ({ prepared: await prepareFor(family, null), sheet: null, newSheet: null, note });
  if (!sheet) return alone('');
  if (!sheet.startsWith('own-')) {
    const known = Object.hasOwn(sheets, sheet) && sheets[sheet].sheet.family === family;
    return known ? { prepared: await prepareFor(family, sheet), sheet, newSheet: null, note: '' }
      : alone(_('Its model sheet “{sheet}” is not in this version of the app; the tables of its kind stand in.', { sheet }));
  }
  if (!ownSheet) return alone(_('The seller’s own model sheet did not come along; the tables of its kind stand in.'));
  const row = sheetRow(family, sheet, ownSheet);
  const wrong = damage(row) || misfit(pack, row.document) || (travels(row) ? '' : _('It is too large.'));
  if (wrong) return alone(_('The seller’s own model sheet cannot be used; the tables of its kind stand in. {why}', { why: wrong }));
  const twin = (await listSheets()).find((other) => sameSheet(other, row));
  const prepared = prepare(applySheet(pack, { ...row.document, name: row.document.name || pack.name }));
  return { prepared, sheet: twin?.id ?? row.id, newSheet: twin ? null : row, note: _('The seller’s own model sheet comes along.') };
}

/** A stranger's model sheet under an id of its own. */
function sheetRow(family, from, given) {
  const id = newSheetId();
  const document = Object.fromEntries(OF_SHEET.map((key) => [key, given[key]]));
  return { id, family, changed: new Date().toISOString(), document: { ...document, sheet: { ...document.sheet, id } }, from };
}

/** Whether a sheet of this notebook is that of the page, be it its own or one that an earlier copy brought. */
function sameSheet(other, row) {
  const said = ({ document }) => plain({ ...document, sheet: { ...document?.sheet, id: '' } });
  return [other.id, other.from].includes(row.from) && said(other) === said(row);
}

/**
 * The asking price as a set keeps it: in the currency that the new set would be reckoned in, or not at all.
 * @param {Claims} claims @param {any} pack
 * @returns {Promise<number | null>}
 */
export async function askingOf({ asked }, pack) {
  const { currency } = await lastUsed();
  return asked && asked.currency === (currency?.code ?? pack.reference.currency) ? asked.amount : null;
}

const lastUsed = async () => (await (await openDatabase()).get('meta', 'last'))?.value ?? {};

/**
 * Makes the copy: the claims, and none of the buyer's own answers; all in one transaction.
 * @param {Claims} claims @param {Fitted} tables
 * @returns {Promise<string>} id of the new set
 */
export async function makeCopy(claims, { prepared, sheet, newSheet }) {
  const asking = await askingOf(claims, prepared.pack);
  const values = { ...await lastUsed(), title: claims.title.trim() || prepared.pack.name, claims, ...(asking === null ? {} : { asking }) };
  const id = newId();
  await save((stores) => {
    if (newSheet) stores.put('sheets', newSheet);
    putSet(stores, { id, family: claims.findings.family, sheet, demo: false, values, created: new Date().toISOString() });
  }, id);
  return id;
}

/**
 * The claims of a copy as the engine takes them, beside the buyer's findings.
 * @param {FoundSet} foundSet
 * @param {any} prepared
 * @param {any} document the buyer's findings document
 * @param {import('../kernel/findings.js').Findings} findings read from it
 */
export function readClaims(foundSet, prepared, document, findings) {
  const raw = foundSet.get('claims').findings;
  const { findings: told, setAside } = readFindings(raw, prepared);
  const found = foundSet.found(prepared.checks[prepared.holeCheck].id);
  // Holes that these tables do not know are left out, here and there; the numbers kept are those of the page.
  const numbers = told.holes.map((hole) => raw.holes.indexOf(hole));
  const kept = findings.holes.map((hole) => document.holes.indexOf(hole));
  const at = (number) => (numbers.includes(number) ? numbers.indexOf(number) : null);
  return {
    told, setAside,
    /** A figure as the page has it. @param {string} asked what its check asks */
    figure: (asked) => raw[FIGURES[asked][0]],
    /** Numbers on the page of the told holes, and in the buyer's list of the found ones. */
    numbers, kept,
    links: { answers: kept.map((number) => at(found.holes?.[number]?.claim)), gone: (found.no_hole ?? []).map(at).filter((number) => number !== null) },
  };
}
