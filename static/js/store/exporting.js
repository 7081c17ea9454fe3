/** The whole notebook as one file. Taking one in is in importing.js. */
import { openDatabase } from './database.js';
import { allSets } from './notebook.js';
import { save } from './saving.js';

/** Number of the file's form. Files without model sheets, sales or lots have it too. */
export const FORM = 1;

/** The notebook as a document. */
export async function exportDocument() {
  const database = await openDatabase();
  const [sets, rows] = await Promise.all([database.all('sets'), database.all('findings')]);
  return {
    'underchassis-notebook': FORM,
    exported: new Date().toISOString(),
    sheets: await whole(database, 'sheets', () => import('./sheet_rules.js')),
    sales: await whole(database, 'sales', () => import('./sale_rules.js')),
    lots: await whole(database, 'lots', () => import('./lot_rules.js')),
    shelf: await whole(database, 'shelf', () => import('./shelf_rules.js')),
    sets: sets.filter((base) => !base.removed).map((base) => ({
      ...base,
      findings: rows.filter((row) => row.set === base.id).map(({ key, value, changed }) => ({ key, value, changed })),
    })),
  };
}

/** The rows of a store that are not in the bin; a damaged one would have the whole file refused. */
async function whole(database, store, rules) {
  const own = (await database.all(store)).filter((row) => !row.removed);
  if (own.length === 0) return own;
  const { damage } = await rules();
  return own.filter((row) => !damage(row)).map(({ op, ...row }) => row);
}

/** Hands a file to the browser to keep. @param {string} name @param {string} type @param {string | Blob} content */
export function download(name, type, content) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([content], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** Hands the whole notebook to the browser, and gives it with the number of its photos. */
export async function downloadNotebook() {
  const document_ = await exportDocument();
  const { file, photos } = await notebookFile(document_);
  download(`underchassis-${document_.exported.slice(0, 10)}.json`, 'application/json', file);
  await save(({ put }) => put('meta', { key: 'exported', value: document_.exported }));
  return { ...document_, photos };
}

/** The file of a document: with photos, where there are any. @returns {Promise<{file: Blob | string, photos: number}>} */
async function notebookFile(document_) {
  if (await (await openDatabase()).count('photos') === 0) return { file: JSON.stringify(document_, null, 1), photos: 0 };
  return (await import('./photo_export.js')).withPhotos(document_);
}

/** How much of one's own there is, and by store how much of it changed since the last export. */
export async function exportState() {
  const database = await openDatabase();
  const last = (await database.get('meta', 'exported'))?.value ?? '';
  const own = { sets: (await allSets()).filter(({ base }) => !base.demo) };
  for (const store of ['sheets', 'sales', 'photos', 'lots', 'shelf']) own[store] = (await database.all(store)).filter((row) => !row.removed && !row.demo);
  const waiting = Object.fromEntries(Object.entries(own).map(([store, rows]) => [store, rows.filter((row) => row.changed > last).length]));
  return { own: Object.values(own).flat().length, waiting };
}
