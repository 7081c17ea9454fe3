/** The rules: every row behind every number, in words, with what it rests on. */
import { _, _n } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { loadPack, loadReasons, packIndex } from '../store/packs.js';
import { commonTables } from '../ui/common_rows.js';
import { h, setText } from '../ui/element.js';
import { familyTables } from '../ui/family_rows.js';
import { ruleCounts, ruleSources } from '../ui/rule_counts.js';
import { ruleGroups } from '../ui/rule_list.js';
import { RuleSearch } from '../ui/rule_search.js';
import { BASES, counted, found, inGroups } from '../ui/rule_tables.js';

const coming = () => _('The reasons, the sources, the work and most tables that belong to no family are still on their way.');
const missing = () => _('The reasons, the sources, the work and most tables that belong to no family are not on this phone yet. Open the app once with a signal; they come by themselves.');
const notHere = () => _('That row is not in these tables. It may belong to a model sheet made on this phone.');
/** Milliseconds that a first drawing waits for them: what is on the phone already should not be drawn twice. */
const PATIENCE = 300;
/** Up to so many rows found, all stand open. */
const FEW = 60;

/** Address of the page from which somebody came to the rules. */
let origin = '';

/**
 * @param {HTMLElement} main
 * @param {string[]} words family, and the address of a row among its rows
 * @param {string} before address of the page shown before
 */
export async function showRules(main, [family = '', ...row], before) {
  if (!before.startsWith('rules')) origin = before;
  const page = new RulesPage(await packIndex(), family, row);
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: `#/${origin}`, 'aria-label': _('Back') }, '‹'),
      h('div', {}, h('h1', {}, _('The rules')), page.search.family)),
    h('div', { class: 'page rules' }, page.search.element, page.missing, page.status, page.body));
  document.title = `${_('The rules')} · Underchassis`;
  await page.turnTo(page.search.family.value);
  return { refresh: async () => undefined };
}

class RulesPage {
  constructor(index, family, row) {
    this.index = index;
    this.names = new Map(index.families.map(({ id, name }) => [id, name]));
    this.search = new RuleSearch(index.families, this.names.has(family) ? family : '', (chosen) => {
      history.replaceState(null, '', `#/rules/${chosen}`);
      this.row = [];
      this.turnTo(chosen).catch((problem) => setText(this.status, problem.message));
    }, () => this.draw());
    this.row = row;
    this.missing = h('p', { class: 'notice', role: 'status', hidden: true });
    this.status = h('p', { class: 'fine', role: 'status' });
    this.body = h('div', {});
  }

  /** Shows the rows of one family, or of all for ''. */
  async turnTo(family) {
    const families = family ? [family] : [...this.names.keys()];
    this.families = families;
    const reasons = Promise.allSettled(families.map(loadReasons));
    const settled = await Promise.race([reasons, new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
    await this.read(families, settled ? missing() : coming());
    if (!settled) {
      await reasons;
      await this.read(families, missing());
    }
  }

  /** Puts the rows into words, as far as they are here; `why` is what to say when they are not whole. */
  async read(families, why) {
    const packs = await Promise.all(families.map(loadPack));
    const tables = new Map();
    for (const pack of packs) {
      if (tables.size > 0) await afterFrame();
      tables.set(pack.family, familyTables(pack, this.index.sheets));
    }
    // Somebody may have chosen another family meanwhile.
    if (families !== this.families) return;
    this.tables = tables;
    this.common = commonTables(packs[0]);
    this.groups = inGroups(this.tables, this.common, this.names);
    this.sources = packs[0].sources;
    this.whole = Object.keys(this.sources).length > 0;
    setText(this.missing, this.whole ? '' : why);
    this.missing.hidden = this.whole;
    this.search.offer(this.sources);
    this.draw();
  }

  draw() {
    const { search, groups, sources, names } = this;
    if (!groups) return;
    // Whoever looks for something has left the row behind a link.
    if (search.asks) this.row = [];
    const shown = search.asks ? found(groups, search.wanted, sources) : groups;
    const rows = shown.flatMap(({ tables }) => tables.flatMap((table) => table.rows));
    const target = this.target();
    setText(this.status, search.asks ? foundSentence(rows.length) : target === '' && this.row.length > 0 && this.whole ? notHere() : '');
    this.body.replaceChildren(
      ...(search.asks || !this.whole ? [] : [ruleCounts(this.lines())]),
      h('p', { class: 'why' }, _('The brackets behind an effect on the price hold two cases in three. A row that reads differently from family to family is shown in each reading.')),
      ...ruleGroups(shown, { sources, names, target, open: search.asks && rows.length <= FEW }),
      ...(search.asks || !this.whole ? [] : [ruleSources(sources, (id) => this.show(id))]));
    const asked = /** @type {HTMLElement | null} */ (this.body.querySelector('.asked-for'));
    asked?.scrollIntoView({ block: 'center' });
    asked?.focus({ preventScroll: true });
  }

  /** The address of the row that was asked for, or of the one it belongs to; '' when it is not here. */
  target() {
    const [first, ...rest] = this.row;
    const known = new Set(this.groups.flatMap(({ tables }) => tables.flatMap((table) => table.rows.map((row) => row.address))));
    // The work on a part that only a model sheet has is made from that part's row.
    const part = first?.replace('task.find-and-fit-', '');
    return [[first, ...rest].join('/'), first, part].find((address) => known.has(address)) ?? '';
  }

  lines() {
    const { index, tables, common, names } = this;
    const all = { title: _('All together, what families share once'), counts: BASES.map((basis) => index.counts[basis]) };
    const own = [...tables].map(([family, listed]) => ({
      title: names.get(family), href: tables.size > 1 ? `#/rules/${family}` : undefined, counts: counted(listed),
    }));
    return [...(tables.size > 1 ? [all] : []), ...own, { title: _('For every family'), counts: counted(common) }];
  }

  /** Shows the rows that rest on a source. @param {string} source */
  show(source) {
    this.search.source.value = source;
    this.draw();
    window.scrollTo(0, 0);
    this.search.source.focus();
  }
}

function foundSentence(count) {
  if (count === 0) return _('No row found. Try fewer words, another family or another basis.');
  return _n('{count} row found.', '{count} rows found.', count);
}
