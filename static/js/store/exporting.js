/** The whole notebook as one file. Taking one in is in importing.js. */
import { openDatabase } from './database.js';
import { allSets } from './notebook.js';
import { save } from './saving.js';

/** Number of the file's form. Files without model sheets have it too. */
export const FORM = 1;

/** The notebook as a document. */
export async function exportDocument() {
  const database = await openDatabase();
  const [sets, rows] = await Promise.all([database.all('sets'), database.all('findings')]);
  return {
    'underchassis-notebook': FORM,
    exported: new Date().toISOString(),
    sheets: await wholeSheets(database),
    sets: sets.filter((base) => !base.removed).map((base) => ({
      ...base,
      findings: rows.filter((row) => row.set === base.id).map(({ key, value, changed }) => ({ key, value, changed })),
    })),
  };
}

/** The model sheets made on this phone; a damaged one would have the whole file refused. */
async function wholeSheets(database) {
  const own = (await database.all('sheets')).filter((sheet) => !sheet.removed);
  if (own.length === 0) return own;
  const { damage } = await import('./sheet_rules.js');
  return own.filter((sheet) => !damage(sheet));
}

/** Hands the notebook to the browser as a file to keep. */
export async function downloadNotebook() {
  const document_ = await exportDocument();
  const blob = new Blob([JSON.stringify(document_, null, 1)], { type: 'application/json' });
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = `underchassis-${document_.exported.slice(0, 10)}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  await save(({ put }) => put('meta', { key: 'exported', value: document_.exported }));
  return document_.sets.length;
}

/** How many sets and model sheets of one's own there are, and how many of each changed since the last export. */
export async function exportState() {
  const database = await openDatabase();
  const last = (await database.get('meta', 'exported'))?.value ?? '';
  const own = (await allSets()).filter((foundSet) => !foundSet.base.demo);
  const sheets = (await database.all('sheets')).filter((sheet) => !sheet.removed);
  const waiting = (rows) => rows.filter((row) => row.changed > last).length;
  return { own: own.length + sheets.length, waiting: waiting(own), sheets: waiting(sheets) };
}
