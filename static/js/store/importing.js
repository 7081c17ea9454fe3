/** An exported file back into the notebook. What is already here is never overwritten. */
import { openDatabase } from './database.js';
import { exportDocument, FORM } from './exporting.js';
import { newId } from './notebook.js';
import { save } from './saving.js';
import { damage } from './sheet_rules.js';
import { newSheetId } from './sheets.js';

/**
 * Takes the sets and model sheets of an exported file in. One that is here already and differs comes in as a
 * second one, and the sets of the file that name it go with it.
 * @param {string} text
 * @returns {Promise<{added: number, same: number, sheets: number}>}
 */
export async function importNotebook(text) {
  const file = readFile(text);
  const database = await openDatabase();
  const [sets, sheets, { sets: here }] = await Promise.all([database.all('sets'), database.all('sheets'), exportDocument()]);
  const goesBy = new Map();
  const newSheets = file.sheets.filter((sheet) => {
    const twin = sheets.find((row) => !row.removed && cameFrom(row, sheet) && plain(row) === plain(sheet));
    const taken = sheets.some((row) => row.id === sheet.id);
    goesBy.set(sheet.id, twin?.id ?? (taken ? newSheetId() : sheet.id));
    return !twin;
  });
  const entries = file.sets.map((entry) => ({ ...entry, model_sheet: goesBy.get(entry.model_sheet) ?? entry.model_sheet ?? null }));
  const incoming = entries.filter((entry) => !here.some((set) => cameFrom(set, entry) && same(set, entry)));
  await save(({ put }) => {
    for (const sheet of newSheets) put('sheets', renamed(sheet, goesBy.get(sheet.id)));
    for (const { findings, ...base } of incoming) {
      const id = sets.some((row) => row.id === base.id) ? newId() : base.id;
      put('sets', id === base.id ? base : { ...base, id, from: base.id });
      for (const finding of findings) put('findings', { ...finding, set: id });
    }
  });
  return { added: incoming.length, same: entries.length - incoming.length, sheets: newSheets.length };
}

function renamed({ id, family, changed, document, form }, newName) {
  const from = newName === id ? {} : { from: id };
  return { id: newName, family, changed, form, document: { ...document, sheet: { ...document.sheet, id: newName } }, ...from };
}

/** Whether a row here is that of the file, or the second one that an earlier import made of it. */
const cameFrom = (row, entry) => row.id === entry.id || row.from === entry.id;

function readFile(text) {
  let document;
  try {
    document = JSON.parse(text);
  } catch {
    throw new Error('This file is not a notebook: it is not JSON. Choose a file that this app exported.');
  }
  if (document?.['underchassis-notebook'] !== FORM || !Array.isArray(document.sets)) {
    throw new Error('This file is not a notebook that this version can read. Choose a file that this app exported.');
  }
  document.sets.forEach((entry, index) => {
    const whole = typeof entry?.id === 'string' && typeof entry.family === 'string'
      && typeof entry.created === 'string' && Array.isArray(entry.findings)
      && entry.findings.every((row) => typeof row?.key === 'string' && typeof row.changed === 'string');
    if (!whole) throw new Error(`Set ${index + 1} in this file is damaged. Nothing was taken in.`);
  });
  return { sets: document.sets, sheets: readSheets(document.sheets ?? []) };
}

function readSheets(sheets) {
  if (!Array.isArray(sheets)) throw new Error('The model sheets in this file are damaged. Nothing was taken in.');
  sheets.forEach((sheet, index) => {
    const twice = sheets.findIndex((other) => other?.id === sheet?.id) < index;
    const wrong = damage(sheet) || (twice ? 'It is there twice.' : '');
    if (wrong) throw new Error(`Model sheet ${index + 1} in this file is damaged. ${wrong} Nothing was taken in.`);
  });
  return sheets;
}

/** Two sets are the same when their model sheet and their findings are, in whatever order. */
function same(a, b) {
  const findings = (set) => JSON.stringify(set.findings.map(({ key, value }) => [key, value]).sort());
  return (a.model_sheet ?? null) === b.model_sheet && findings(a) === findings(b);
}

/** What a model sheet says, whatever it is called by and in whatever order it stands. */
function plain({ document, form = null }) {
  const sorted = (_, value) => (value?.constructor === Object ? Object.fromEntries(Object.entries(value).sort()) : value);
  return JSON.stringify([{ ...document, sheet: { ...document.sheet, id: '' } }, form], sorted);
}
