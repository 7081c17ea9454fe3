/** What every page about one appraised set starts from: the set, its tables, its appraisal, a writer of money. */
import { appraise } from '../kernel/appraise.js';
import { readFindings } from '../kernel/findings.js';
import { _ } from '../language.js';
import { comparablesOf, openSet } from '../store/notebook.js';
import { loadReasons, prepareFor } from '../store/packs.js';
import { h } from '../ui/element.js';
import { tablesNote } from '../ui/tables_note.js';
import { minorDigits, moneyWriter } from '../ui/money.js';

/**
 * @typedef {Object} Appraised
 * @property {import('../store/found_set.js').FoundSet} foundSet
 * @property {any} prepared
 * @property {any} pack
 * @property {import('../kernel/findings.js').Findings} findings
 * @property {any} appraisal
 * @property {any} money
 * @property {any[]} sales those that count for it, in the order of the appraisal's comparables
 * @property {any[]} early those whose day is still to come
 */

/**
 * Shows a page about a set, and shows it anew when something was kept elsewhere.
 * @param {HTMLElement} main
 * @param {string} id of the set; one that is not on this phone leads to the notebook
 * @param {string} name of the page, before the set's in the title
 * @param {(appraised: Appraised, refresh: () => Promise<void>) => (Node | string | null | false)[] | Promise<any[]>} page
 */
export async function showAppraised(main, id, name, page) {
  const refresh = async () => {
    const foundSet = await openSet(id);
    if (!foundSet) {
      location.hash = '#/';
      return;
    }
    const appraised = await appraiseSet(foundSet);
    main.replaceChildren(...(await page(appraised, refresh)).filter(Boolean));
    document.title = `${name}: ${titleOf(appraised)} · Underchassis`;
  };
  await refresh();
  return { refresh };
}

/** @param {import('../store/found_set.js').FoundSet} foundSet @returns {Promise<Appraised>} */
export async function appraiseSet(foundSet) {
  const { family, model_sheet: sheet } = foundSet.base;
  await loadReasons(family);
  const [prepared, sales] = await Promise.all([prepareFor(family, sheet), comparablesOf(foundSet.base)]);
  const { findings } = readFindings(foundSet.findings(prepared, sales), prepared);
  const { pack } = prepared;
  const appraisal = appraise(prepared, findings, minorDigits(findings.currency, pack));
  const money = moneyWriter(findings.currency, pack);
  return { foundSet, prepared, pack, findings, appraisal, money, ...byDay(sales, findings.today) };
}

/** A phone whose clock was set back holds sales of days to come; they do not count until then. */
const byDay = (sales, today) => ({ sales: sales.filter((sale) => sale.date <= today), early: sales.filter((sale) => sale.date > today) });

/** @param {Appraised} appraised */
const titleOf = ({ foundSet, pack }) => foundSet.get('title') || pack.name;

/**
 * The head of such a page.
 * @param {Appraised} appraised
 * @param {string} back address
 * @param {string} sub
 */
export function pageHead(appraised, back, sub) {
  return h('header', { class: 'top' }, h('a', { class: 'back', href: back, 'aria-label': _('Back') }, '‹'),
    h('div', {}, h('h1', {}, titleOf(appraised)), h('p', { class: 'sub' }, sub), tablesNote(appraised.pack)));
}

/** The sentence of a set whose own model sheet does not count, if so. @param {Appraised} appraised */
export const sheetUnused = ({ prepared, pack }) => prepared.unused
  && h('p', { class: 'wrong' }, `${prepared.unused} ${_('The figures are those of its kind: {kind}.', { kind: pack.name })}`);
