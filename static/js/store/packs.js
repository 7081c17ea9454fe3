/** The rule tables on this phone: packs and model sheets, fetched once and prepared once. */
import { prepare } from '../kernel/prepared.js';
import { applySheet } from '../kernel/sheet.js';

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
    if (!answer.ok) throw new Error(`The rule tables (${name}) could not be loaded.`);
    return answer.json();
  });
  fetched.set(name, asked);
  asked.catch(() => fetched.delete(name));
  return asked;
}

/** What there is to choose from. @returns {Promise<{families: any[], sheets: Record<string, any>}>} */
export const packIndex = () => fetchJson('packs/index.json');

/** A family's pack, without the reasons behind its rows. @param {string} family */
export const loadPack = (family) => fetchJson(`packs/${family}.json`);

/**
 * Grafts the reasons (`why`, sources) onto a family's pack, for the pages that show them. Without them,
 * should they not be on the phone, everything else stands.
 * @param {string} family
 */
export async function loadReasons(family) {
  const [pack, reasons] = await Promise.all([loadPack(family), fetchJson(`packs/${family}.reasons.json`).catch(() => ({}))]);
  graft(pack, reasons);
}

function graft(node, reasons) {
  for (const [key, value] of Object.entries(reasons)) {
    if (typeof value === 'object' && typeof node[key] === 'object') graft(node[key], value);
    else node[key] = value;
  }
}

/**
 * A family's pack, or that of a model sheet on it, ready for arithmetic. A sheet that this version does
 * not know is left out: the family's own figures stand.
 * @param {string} family
 * @param {string | null} sheet
 */
export async function prepareFor(family, sheet) {
  const name = `${family}/${sheet ?? ''}`;
  if (!preparedPacks.has(name)) {
    const [pack, index] = await Promise.all([loadPack(family), packIndex()]);
    const overrides = sheet ? index.sheets[sheet] : undefined;
    preparedPacks.set(name, prepare(overrides ? applySheet(pack, overrides) : pack));
  }
  return preparedPacks.get(name);
}
