/** The whole notebook as one file, and back. What is already here is never overwritten. */
import { openDatabase } from './database.js';
import { allSets, newId } from './notebook.js';
import { save } from './saving.js';

const FORM = 1;

/** The notebook as a document. */
export async function exportDocument() {
  const database = await openDatabase();
  const [sets, rows] = await Promise.all([database.all('sets'), database.all('findings')]);
  return {
    'underchassis-notebook': FORM,
    exported: new Date().toISOString(),
    sets: sets.filter((base) => !base.removed).map((base) => ({
      ...base,
      findings: rows.filter((row) => row.set === base.id).map(({ key, value, changed }) => ({ key, value, changed })),
    })),
  };
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

/** How many sets of one's own there are, and how many of them were changed since the last export. */
export async function exportState() {
  const last = (await (await openDatabase()).get('meta', 'exported'))?.value ?? '';
  const own = (await allSets()).filter((foundSet) => !foundSet.base.demo);
  return { own: own.length, waiting: own.filter((foundSet) => foundSet.changed > last).length };
}

/**
 * Takes the sets of an exported file in. A set that is here already and differs comes in as a second one.
 * @param {string} text
 * @returns {Promise<{added: number, same: number}>}
 */
export async function importNotebook(text) {
  const entries = readEntries(text);
  const database = await openDatabase();
  const here = new Map((await exportDocument()).sets.map((set) => [set.id, set]));
  const binned = new Set((await database.all('sets')).filter((base) => base.removed).map((base) => base.id));
  const incoming = entries.filter((entry) => !same(here.get(entry.id), entry));
  await save(({ put }) => {
    for (const { findings, ...base } of incoming) {
      const id = here.has(base.id) || binned.has(base.id) ? newId() : base.id;
      put('sets', { ...base, id });
      for (const finding of findings) put('findings', { ...finding, set: id });
    }
  });
  return { added: incoming.length, same: entries.length - incoming.length };
}

function readEntries(text) {
  let document_;
  try {
    document_ = JSON.parse(text);
  } catch {
    throw new Error('This file is not a notebook: it is not JSON. Choose a file that this app exported.');
  }
  if (document_?.['underchassis-notebook'] !== FORM || !Array.isArray(document_.sets)) {
    throw new Error('This file is not a notebook that this version can read. Choose a file that this app exported.');
  }
  document_.sets.forEach((entry, index) => {
    const whole = typeof entry?.id === 'string' && typeof entry.family === 'string'
      && typeof entry.created === 'string' && Array.isArray(entry.findings)
      && entry.findings.every((row) => typeof row?.key === 'string' && typeof row.changed === 'string');
    if (!whole) throw new Error(`Set ${index + 1} in this file is damaged. Nothing was taken in.`);
  });
  return document_.sets;
}

/** Two sets are the same when their findings are, in whatever order. */
function same(a, b) {
  if (!a) return false;
  const plain = (set) => JSON.stringify(set.findings.map(({ key, value }) => [key, value]).sort());
  return plain(a) === plain(b);
}
