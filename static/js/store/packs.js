/**
 * The rule tables on this phone: packs and model sheets, fetched once and prepared once, in the language in use as
 * far as a family is complete in it and in English else; `language` of a pack tells which.
 */
import { usePlates } from '../kernel/matching.js';
import { prepare } from '../kernel/prepared.js';
import { applySheet } from '../kernel/sheet.js';
import { _, language } from '../language.js';

const base = document.documentElement.dataset.base ?? '/';
/** @type {Map<string, Promise<any>>} */
const fetched = new Map();
/** @type {Map<string, any>} */
const preparedPacks = new Map();

/** Address of a file of this version of the app. @param {string} name */
export const assetUrl = (name) => base + name;

/** @param {string} name @returns {Promise<any>} */
function fetchJson(name) {
  const known = fetched.get(name);
  if (known) return known;
  const asked = fetch(assetUrl(name)).then((answer) => {
    if (!answer.ok) throw new Error(_('The rule tables ({name}) could not be loaded.', { name }));
    return answer.json();
  });
  fetched.set(name, asked);
  asked.catch(() => fetched.delete(name));
  return asked;
}

const ENGLISH = 'packs';
/**
 * What there is to choose from, in English.
 * @returns {Promise<{families: any[], sheets: Record<string, any>, languages: {code: string, name: string, complete: string[]}[]}>}
 */
const englishIndex = () => fetchJson(`${ENGLISH}/index.json`);

/** The tables of the language in use: their folder, and the families that are complete in it; undefined for English. */
async function translated() {
  const code = language();
  if (code === 'en') return undefined;
  const found = (await englishIndex()).languages.find((one) => one.code === code);
  return found && { folder: `${ENGLISH}/${code}`, complete: found.complete };
}

/** The folder of a family's documents. @param {string} family */
async function folderOf(family) {
  const found = await translated();
  return found?.complete.includes(family) ? found.folder : ENGLISH;
}

/** What there is to choose from: names in the language in use where they are there, else in English. */
export async function packIndex() {
  const found = await translated();
  return /** @type {ReturnType<typeof englishIndex>} */ (found ? fetchJson(`${found.folder}/index.json`) : englishIndex());
}

const ROWS = ['parts', 'checks', 'tasks'];
/** @type {Map<string, Promise<any>>} */
const composed = new Map();

/** A family's pack, without the reasons behind its rows until loadReasons brought them. @param {string} family */
export function loadPack(family) {
  if (!composed.has(family)) {
    const pack = folderOf(family)
      .then((folder) => Promise.all([fetchJson(`${folder}/shared.json`), fetchJson(`${folder}/${family}.json`)]))
      .then(compose);
    composed.set(family, pack);
    pack.catch(() => composed.delete(family));
  }
  return composed.get(family);
}

/** What families share stands in one document; a row is an id there, an id with changes, or whole. */
function compose([shared, { without, ...own }]) {
  const pack = { ...shared.tables, ...own };
  for (const key of without) delete pack[key];
  for (const name of ROWS) {
    const rows = shared.rows[name];
    pack[name] = own[name].map((row) => {
      if (Array.isArray(row)) return { ...rows[row[0]], ...row[1] };
      return typeof row === 'string' ? rows[row] : row;
    });
  }
  return pack;
}

/**
 * Lays over a pack what no first screen needs: reasons, sources, texts of tasks and of cautions that are called,
 * and the tables for reading plates, tubes and holes. Rejects while they are not on the phone.
 * @param {string} family
 */
export async function loadReasons(family) {
  const pack = await loadPack(family);
  const folder = await folderOf(family);
  const reasons = await fetchJson(`${folder}/reasons.json`);
  const own = await fetchJson(`${folder}/${family}.json`);
  const { tables = {}, rows = {} } = reasons.shared;
  const ownReasons = reasons.families[family];
  graft(pack, tables, own);
  const { parts, checks, tasks, ...ownTables } = ownReasons;
  graft(pack, ownTables);
  for (const name of ROWS) {
    own[name].forEach((entry, index) => {
      const row = pack[name][index];
      const [id, changes] = [entry].flat();
      const mine = ownReasons[name]?.[index] ?? {};
      graft(row, rows[name]?.[id] ?? {}, changes);
      graft(row, Array.isArray(entry) ? mine[1] ?? {} : mine);
    });
  }
  for (const [key, table] of Object.entries(reasons.late)) Object.assign(pack[key], table);
  usePlates(await import('../kernel/nameplate.js'));
}

/** The tables for reading plates, tubes and holes, which belong to no family. @returns {Promise<any>} */
export async function lateTables() {
  const found = await translated();
  // With any family they are complete too.
  const folder = found && found.complete.length > 0 ? found.folder : ENGLISH;
  return (await fetchJson(`${folder}/reasons.json`)).late;
}

/** Lays a mirror of reasons over rows, but for the keys that stand in `except` already. */
function graft(node, reasons, except = {}) {
  for (const [key, value] of Object.entries(reasons)) {
    if (key in except || !node) continue;
    if (typeof value === 'object' && !Array.isArray(value)) graft(node[key], value);
    else node[key] = value;
  }
}

/**
 * A family's pack, or that of a model sheet on it, ready for arithmetic. Of a sheet that is not here or does not
 * fit, `unused` says why, and the family's own figures stand.
 * @param {string} family
 * @param {string | null} sheet
 */
export async function prepareFor(family, sheet) {
  const [pack, { sheets }] = await Promise.all([loadPack(family), packIndex()]);
  const { changed, overrides, unused } = sheet?.startsWith('own-')
    ? await (await import('./sheets.js')).ownOverrides(pack, sheet)
    : { overrides: Object.hasOwn(sheets, sheet) ? sheets[sheet] : undefined, unused: sheet && !Object.hasOwn(sheets, sheet) && _('The model sheet of this set is not in this version of the app.') };
  const name = `${family}/${sheet ?? ''}`;
  const known = preparedPacks.get(name);
  if (known && known.changed === changed) return known;
  const prepared = Object.assign(prepare(overrides ? applySheet(pack, overrides) : pack), { changed, unused });
  preparedPacks.set(name, prepared);
  return prepared;
}
