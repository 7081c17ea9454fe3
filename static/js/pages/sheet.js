/** The model sheet screen: a type that the tables do not have, entered on this phone and kept as it is typed. */
import { _, _n } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { openDatabase } from '../store/database.js';
import { allSets, newSet, openSet } from '../store/notebook.js';
import { newId } from '../store/operations.js';
import { loadPack, loadReasons, packIndex, prepareFor } from '../store/packs.js';
import { damage, misfit } from '../store/sheet_rules.js';
import { binSheet, keepSheet, newSheetId, openSheet, sheetName } from '../store/sheets.js';
import { askPersistence } from '../sync/persistence.js';
import { h, setText } from '../ui/element.js';
import { clearNotice, notice } from '../ui/notices.js';
import { savingMark } from '../ui/saving_mark.js';
import { SheetBar } from '../ui/sheet_bar.js';
import { sheetCards } from '../ui/sheet_cards.js';
import { SheetFields } from '../ui/sheet_fields.js';
import { blankForm, documentOf, formOf, kinds } from '../ui/sheet_form.js';
import { absentParts, changedParts, extraParts } from '../ui/sheet_parts.js';
import { foundOn } from '../ui/sheet_start.js';

/**
 * Shows a sheet, or begins one.
 * @param {HTMLElement} main
 * @param {string[]} words of the address: `new`, family and perhaps the set to begin from; or the sheet's id, and perhaps the set one came from
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showSheet(main, [id, second = '', third = '']) {
  const fresh = id === 'new';
  const from = fresh ? third : second;
  const sheet = fresh ? { id: newSheetId(), family: second, changed: '' } : await openSheet(id);
  if (!sheet || sheet.removed) return dead(main, sheet);
  const { families } = await packIndex();
  if (!families.some((family) => family.id === sheet.family)) throw new Error(_('The rule tables for this kind of set are not on this phone.'));
  await loadReasons(sheet.family);
  const pack = await loadPack(sheet.family);
  const foundSet = fresh && from ? await openSet(from) : null;
  const form = fresh ? await firstForm(pack, foundSet) : formIn(pack, sheet);
  if (!form) return dead(main, sheet);
  const last = (await (await openDatabase()).get('meta', 'last'))?.value ?? {};
  const screen = new SheetScreen(pack, sheet, form, { fresh, from, last });
  main.replaceChildren(...screen.elements);
  window.scrollTo(0, 0);
  // What was taken over from a set is kept at once; an empty sheet only when somebody types.
  if (foundSet) screen.keep();
  else screen.show();
  return {
    refresh: async () => {
      const now = await openSheet(sheet.id);
      // Never under somebody's typing hands.
      if (!now || now.changed === screen.sheet.changed) return;
      screen.stale = Boolean(document.activeElement?.matches('input, select, textarea'));
      if (!screen.stale) showAgain();
    },
  };
}

async function firstForm(pack, foundSet) {
  if (!foundSet) return blankForm();
  return foundOn(pack, await prepareFor(foundSet.base.family, foundSet.base.model_sheet), foundSet);
}

/** What stood in the fields; else what the document says; of a damaged sheet perhaps neither can be read. */
function formIn(pack, sheet) {
  for (const read of [() => sheet.form && { ...blankForm(), ...sheet.form, ...kinds(pack, sheet.form) }, () => formOf(pack, sheet.document)]) {
    try {
      const form = read();
      documentOf(pack, sheet.id, form);
      return structuredClone(form);
    } catch {
      // The other way may still do.
    }
  }
  return null;
}

const showAgain = () => window.dispatchEvent(new Event('hashchange'));

function sayUnsaved(problem) {
  notice('save', problem.message, { kind: 'bad', actions: [[_('Export'), () => { location.hash = '#/about'; }]] });
}

/** A sheet that cannot be edited: it is not here, in the bin, or past reading. */
function dead(main, sheet) {
  const gone = sheet?.removed;
  const name = gone && sheetName(sheet);
  const [said, why] = !sheet
    ? [_('This model sheet is not on this phone'), _('It may be on another device. Import a notebook file that holds it, or make it anew.')]
    : gone ? [name ? _('{name} was removed', { name }) : _('This draft was removed'), _('Sets of this type go by the figures of their kind meanwhile.')]
      : [_('This model sheet is damaged'), _('It can no longer be read. Sets of this type go by the figures of their kind.')];
  const back = () => binSheet(sheet.id, false).then(showAgain, sayUnsaved);
  main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, said), h('p', {}, why), h('div', { class: 'links' },
    gone && h('button', { class: 'button strong', onclick: back }, _('Take it back')),
    sheet && !gone && removeButton(sheet.id, ''), h('a', { class: 'button', href: '#/' }, _('To the notebook')))));
  return { refresh: async () => {} };
}

/** Puts the sheet in the bin and says what that means for the sets; one tap undoes it. */
function removeButton(id, name) {
  const put = async (removed) => {
    clearNotice('sheet');
    await binSheet(id, removed);
    if (removed) location.hash = '#/';
    else window.dispatchEvent(new Event('underchassis-changed'));
  };
  return h('button', { class: 'button', onclick: async () => {
    try {
      await put(true);
      const sets = (await allSets()).filter((foundSet) => foundSet.base.model_sheet === id).length;
      const gone = name ? _('{name} removed.', { name }) : _('The draft removed.');
      const still = sets === 0 ? '' : ` ${_n('One set goes by the figures of the kind now.', '{count} sets go by the figures of the kind now.', sets)}`;
      notice('sheet', gone + still, { actions: [[_('Undo'), () => put(false).catch(sayUnsaved)]] });
    } catch (problem) {
      sayUnsaved(problem);
    }
  } }, _('Remove this model sheet'));
}

let asked = false;

class SheetScreen {
  constructor(pack, sheet, form, { fresh, from, last }) {
    Object.assign(this, { pack, sheet, form, fresh, from });
    this.fields = new SheetFields(() => this.keep());
    this.bar = new SheetBar(pack, last);
    this.title = h('h1', {});
    this.state = h('p', { class: 'sub', role: 'status' });
    this.foot = h('div', { class: 'links' });
    this.head = h('header', { class: 'top' },
      h('a', { class: 'back', href: from ? `#/set/${from}` : '#/', 'aria-label': from ? _('Walk round') : _('Notebook') }, '‹'),
      h('div', {}, this.title, this.state));
    this.mending = this.mendingCard();
    this.elements = [this.head, h('div', { class: 'page sheet' }, this.mending, ...sheetCards(pack, form, this.fields),
      h('section', { class: 'card' }, h('h2', {}, _('Parts')),
        absentParts(pack, form, this.fields), changedParts(pack, form, this.fields)),
      h('section', { class: 'card' }, h('h2', {}, _('Parts beyond its kind')),
        h('p', { class: 'help' }, _('Each gets a check of its own in the walk round: there or gone.')),
        extraParts(pack, form, this.fields, newId)),
      this.foot), this.bar.element];
    for (const part of this.elements) part.addEventListener('focusout', () => afterFrame().then(() => this.stale && !part.contains(document.activeElement) && showAgain()));
  }

  /** A sheet that the tables have outgrown says so, and is mended by one tap or by any change. */
  mendingCard() {
    const wrong = this.fresh ? '' : damage(this.sheet) || misfit(this.pack, this.sheet.document);
    return wrong && h('section', { class: 'card' }, h('h2', {}, _('This sheet is not used')), h('p', {}, wrong),
      h('button', { class: 'button', onclick: () => this.keep() }, _('Keep what still fits')));
  }

  /** Keeps everything as it stands; called with each letter. */
  keep() {
    const overrides = this.show();
    this.sheet = { ...this.sheet, document: overrides, form: structuredClone(this.form), changed: new Date().toISOString() };
    const saving = keepSheet(this.sheet);
    savingMark(this.head, saving);
    saving.catch(sayUnsaved);
    if (!asked) askPersistence();
    asked = true;
    if (this.mending) this.mending.remove();
    if (!this.fresh) return;
    this.fresh = false;
    // Loaded again, the page shows this sheet and does not begin another.
    history.replaceState(null, '', `#/sheet/${this.sheet.id}${this.from ? `/${this.from}` : ''}`);
    this.showFoot(overrides.name);
  }

  /** Shows what the fields amount to, and gives it. */
  show() {
    const { document: overrides, faults } = documentOf(this.pack, this.sheet.id, this.form);
    const { name } = overrides;
    this.fields.show(faults);
    this.bar.show(overrides);
    setText(this.title, name || _('New model sheet'));
    setText(this.state, `${this.pack.name} · ${name ? _('kept on this phone') : _('a draft until it has a name')}`);
    document.title = `${name || _('New model sheet')} · Underchassis`;
    this.showFoot(name);
    return overrides;
  }

  /** A draft cannot be chosen, and what was never kept cannot be removed. */
  showFoot(name) {
    this.foot.replaceChildren(...[
      name && h('button', { class: 'button strong', onclick: () => this.use() }, _('New set of this type')),
      !this.fresh && removeButton(this.sheet.id, name),
      !this.fresh && h('a', { class: 'button quiet', href: `#/history/sheets/${this.sheet.id}` }, _('History'))].filter(Boolean));
  }

  async use() {
    try {
      location.hash = `#/set/${await newSet(this.pack.family, this.sheet.id)}`;
    } catch (problem) {
      sayUnsaved(problem);
    }
  }
}
