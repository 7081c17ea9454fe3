/** The Set screen: the walk round as eight stages down the page, and the bar that never leaves. */
import { nextLooks, numbers } from '../kernel/numbers.js';
import { readFindings } from '../kernel/findings.js';
import { reasons } from '../kernel/reasons.js';
import { _ } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { openDatabase } from '../store/database.js';
import { comparablesOf, openSet, rememberForNext } from '../store/notebook.js';
import { loadReasons, prepareFor } from '../store/packs.js';
import { askPersistence } from '../sync/persistence.js';
import { aboutIt } from '../ui/about_it.js';
import { BottomBar, barView } from '../ui/bar.js';
import { cautionBlocks } from '../ui/cautions.js';
import { CheckCard } from '../ui/check.js';
import { h, setText } from '../ui/element.js';
import { moneyWriter } from '../ui/money.js';
import { clearNotice, notice } from '../ui/notices.js';
import { regionField } from '../ui/region.js';
import { savingMark } from '../ui/saving_mark.js';
import { SetBackup } from '../ui/set_backup.js';
import { StageView } from '../ui/stage.js';
import { StageStrip } from '../ui/strip.js';
import { tablesNote } from '../ui/tables_note.js';

/**
 * Shows a set.
 * @param {HTMLElement} main
 * @param {string} id
 * @param {string | null} check id of the check to go to
 * @returns {Promise<{refresh: () => Promise<void>, photosChanged?: () => Promise<void>}>}
 */
export async function showSet(main, id, check) {
  const foundSet = await openSet(id);
  if (!foundSet) return (await import('../ui/set_missing.js')).showMissing(main, id);
  const prepared = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
  const screen = new SetScreen(foundSet, prepared, await salesFor(foundSet.base));
  main.replaceChildren(...screen.elements);
  screen.update();
  screen.settleRest();
  performance.mark('set-shown');
  // A nameplate is read once the tables behind are there; they do not hold up the first screen.
  setTimeout(() => loadReasons(foundSet.base.family).then(() => screen.update(), () => undefined));
  screen.photosChanged().catch(() => undefined);
  screen.backup.show().catch(() => undefined);
  if (check) screen.goTo(check);
  return {
    photosChanged: () => screen.photosChanged(),
    refresh: () => screen.refresh(),
  };
}

/** Sales are reckoned in today's money, so the price index comes first where there are any. */
async function salesFor(base) {
  const sales = await comparablesOf(base);
  if (sales.length > 0) await loadReasons(base.family).catch(() => undefined);
  return sales;
}

let asked = false;

function askOnce() {
  if (!asked) askPersistence();
  asked = true;
}

class SetScreen {
  constructor(foundSet, prepared, sales) {
    this.foundSet = foundSet;
    this.prepared = prepared;
    this.sales = sales;
    const { pack } = prepared;
    this.cards = new Map(pack.checks.map((check) => [check.id, new CheckCard(pack, check, this)]));
    this.stages = pack.stages.map((stage) => new StageView(stage, pack, this));
    this.strip = new StageStrip(this.stages);
    this.bar = new BottomBar({
      ask: (price) => this.put('asking', price),
      look: (id) => this.goTo(id),
      verdict: `#/verdict/${foundSet.base.id}`,
    });
    /** @type {Set<CheckCard>} cards answered since the last frame */
    this.drawnAnew = new Set();
    this.title = h('h1', {});
    this.place = h('p', { class: 'sub' });
    this.backup = new SetBackup(foundSet.base);
    const about = this.about = aboutIt(prepared, () => this.foundSet, (key, value) => this.put(key, value), () => this.photosChanged());
    const standing = pack.cautions.filter((row) => row.standing).map((row) => row.id);
    const lot = foundSet.get('lot');
    this.elements = [
      h('header', { class: 'top' }, h('a', { class: 'back', href: lot ? `#/lot/${lot.lot}` : '#/', 'aria-label': lot ? _('The lot') : _('Notebook') }, '‹'),
        h('div', {}, this.title, this.place), about.button),
      this.strip.element,
      // The bar lies below, but comes before the many checks for whoever goes by keyboard.
      this.bar.element,
      h('div', { class: 'page walk', onkeydown: (event) => event.key === 'Escape' && this.bar.next.focus() },
        about.panel,
        foundSet.get('claims') && h('a', { class: 'row-link', href: `#/claims/${foundSet.base.id}` }, _('The seller’s claims, one by one ›')),
        tablesNote(pack),
        prepared.unused && h('p', { class: 'wrong', role: 'status' }, `${prepared.unused} ${_('The figures are those of its kind: {kind}.', { kind: pack.name })}`),
        this.backup.differences,
        h('div', { class: 'standing' }, ...cautionBlocks(pack, standing)),
        ...this.stages.map((stage) => stage.element),
        h('p', { class: 'links' }, h('a', { class: 'button', href: `#/verdict/${foundSet.base.id}` }, _('To the verdict'))),
        this.backup.state),
    ];
    for (const part of this.elements) part.addEventListener('focusout', () => afterFrame().then(() => this.stale && this.refresh()));
    this.showAll();
  }

  /** A module of `ui/` that no first screen needs, once the tables behind it are there. @param {string} name */
  async behind(name) {
    await loadReasons(this.foundSet.base.family);
    return import(`../ui/${name}.js`);
  }

  /** What shows and adds photos: it comes once there are some. */
  photos() {
    this.shownPhotos ??= import('../ui/set_photos.js').then(({ SetPhotos }) => new SetPhotos(this));
    return this.shownPhotos;
  }

  /** Shows the photos as they are stored now. */
  async photosChanged() {
    const some = this.shownPhotos || (await (await openDatabase()).photosOf(this.foundSet.base.id)).length > 0;
    if (some) await (await this.photos()).show();
  }

  /** Adds photos to a check; called by its card. */
  addPhotos(about, label, files, element) {
    askOnce();
    savingMark(element, this.photos().then((photos) => photos.add(about, label, files)));
  }

  /** The field for the ITU region, in the card that asks for the coverage. */
  regionField() {
    return regionField(this.foundSet, (key, value) => this.put(key, value));
  }

  /** Another tab or device changed something: shows what is stored now, but for what somebody types just now. */
  async refresh() {
    const { base } = this.foundSet;
    const fresh = await openSet(base.id);
    const typing = document.activeElement?.matches('input, select, textarea');
    // A model sheet that was edited or removed makes other checks and figures.
    const other = !fresh || this.prepared !== await prepareFor(fresh.base.family, fresh.base.model_sheet);
    this.stale = Boolean(typing);
    if (!other) this.takeOver(fresh, await salesFor(fresh.base));
    else if (!typing) window.dispatchEvent(new Event('hashchange'));
  }

  /** What is typed now was begun from what stood here: it replaces nothing that came in meanwhile. */
  typedKeys() {
    const field = document.activeElement;
    if (!field?.matches('input, select, textarea')) return [];
    const card = [...this.cards.values()].find(({ element }) => element.contains(field));
    if (card) return [`check/${card.check.id}`];
    return this.bar.element.contains(field) ? ['asking'] : ['title', 'place', 'note', 'label', 'aim', 'region', 'hour_rate', 'currency'];
  }

  takeOver(foundSet, sales) {
    const typed = this.typedKeys();
    for (const key of typed) foundSet.known.set(key, this.foundSet.known.get(key));
    for (const key of this.foundSet.unsaved) foundSet.values.set(key, this.foundSet.values.get(key));
    foundSet.unsaved = this.foundSet.unsaved;
    this.foundSet = foundSet;
    this.sales = sales;
    for (const card of this.cards.values()) {
      if (!typed.includes(`check/${card.check.id}`)) card.show(foundSet.found(card.check.id), true);
    }
    if (typed.length === 0) this.about.refresh();
    this.update();
    this.photosChanged().catch(() => undefined);
    this.backup.show().catch(() => undefined);
  }

  showAll() {
    for (const card of this.cards.values()) card.show(this.foundSet.found(card.check.id), true);
  }

  /** Keeps what a check found; called by its card. */
  keep(check, found, stay) {
    const card = this.cards.get(check.id);
    this.saved(this.foundSet.put(`check/${check.id}`, found), card.element);
    if (!stay || !card.element.contains(document.activeElement) || document.activeElement?.tagName === 'BUTTON') {
      card.press(found.option);
      this.drawnAnew.add(card);
    }
    this.update();
  }

  /** A keyboard user stays where he was although the card is drawn anew. */
  keepFocus(card, draw) {
    // A finger leaves no visible focus, and restoring it would cost a layout on every tap.
    const had = card.element.querySelector(':focus-visible') !== null;
    draw();
    if (had) (card.element.querySelector('[aria-pressed="true"]') ?? card.element.querySelector('button'))?.focus({ preventScroll: true });
  }

  /** Keeps one of the set's other values. */
  put(key, value) {
    this.saved(this.foundSet.put(key, value), key === 'asking' ? this.bar.element : this.elements[0]);
    rememberForNext(key, value).catch(() => undefined);
    this.update();
  }

  /** Answers several checks at once, as one transaction. @param {Record<string, any>} found by check id */
  keepMany(found) {
    const entries = Object.fromEntries(Object.entries(found).map(([id, value]) => [`check/${id}`, value]));
    this.saved(this.foundSet.putAll(entries), this.elements[0]);
    for (const id of Object.keys(found)) this.cards.get(id).show(found[id], true);
    this.update();
  }

  saved(saving, element) {
    savingMark(element, saving);
    // The first finding is the moment at which a person sees why the browser asks.
    askOnce();
    saving.then(() => this.backup.soon(), () => undefined);
    saving.catch((problem) => notice('save', problem.message, {
      kind: 'bad',
      actions: [[_('Try again'), () => this.saveAgain()], [_('Export'), () => { location.hash = '#/about'; }]],
    }));
  }

  saveAgain() {
    clearNotice('save');
    this.saved(this.foundSet.saveAgain(), this.elements[0]);
  }

  update() {
    const { prepared, foundSet } = this;
    const { findings, setAside } = readFindings(foundSet.findings(prepared, this.sales), prepared);
    const now = numbers(prepared, findings);
    const ahead = nextLooks(prepared, findings, now);
    const money = moneyWriter(findings.currency, prepared.pack);
    this.bar.show(barView(prepared, findings, now, ahead, money));
    // The range and the next look are what a tap waits for; the rest follows a frame later.
    const following = this.rest !== undefined;
    this.rest = () => this.showRest(findings, setAside, now, money);
    if (!following) afterFrame().then(() => this.settleRest());
  }

  settleRest() {
    for (const card of this.drawnAnew) {
      this.keepFocus(card, () => card.show(this.foundSet.found(card.check.id), true));
    }
    this.drawnAnew.clear();
    this.rest?.();
    this.rest = undefined;
  }

  showRest(findings, setAside, now, money) {
    const { prepared, foundSet } = this;
    this.showChecks(findings, now, money);
    const title = foundSet.get('title') || prepared.pack.name;
    setText(this.title, title);
    const heading = `${title} · Underchassis`;
    if (document.title !== heading) document.title = heading;
    const number = foundSet.get('lot')?.number;
    const name = title.includes(prepared.pack.name) ? '' : prepared.pack.name;
    setText(this.place, [foundSet.base.demo ? _('Demo') : '', number && _('no. {number}', { number }), name, foundSet.get('place')].filter(Boolean).join(' · '));
    const shown = now.standing.shown.filter(Boolean).length;
    const done = now.standing.chosen.filter((chosen, index) => chosen >= 0 && now.standing.shown[index]).length;
    this.strip.show(done, shown);
    if (setAside.length > 0) {
      notice('aside', _('These findings come from other rule tables and do not count: {findings}. They are kept.', { findings: setAside.join('; ') }));
    }
  }

  showChecks(findings, now, money) {
    const { prepared } = this;
    const amounts = new Map();
    for (const row of reasons(prepared, now.standing, findings, now.found, now.market)) {
      amounts.set(row.what === 'holes' ? prepared.checks[prepared.holeCheck].id : row.what, row);
    }
    prepared.checks.forEach((check, index) => {
      const card = this.cards.get(check.id);
      const shown = now.standing.shown[index];
      if (card.element.hidden === shown) card.show(this.foundSet.found(check.id), shown);
      const row = amounts.get(check.id);
      if (row) card.showAmount(money.change(row.amount), Math.sign(row.amount));
    });
    for (const stage of this.stages) stage.update(now.standing, prepared, this.foundSet);
    this.showCautions(now.standing);
  }

  /** Each caution stands under the first answer that calls it; the standing ones before the first check. */
  showCautions(standing) {
    const { pack } = this.prepared;
    const told = new Set(pack.cautions.filter((row) => row.standing).map((row) => row.id));
    pack.checks.forEach((check, index) => {
      const chosen = standing.shown[index] ? standing.chosen[index] : -1;
      const called = chosen < 0 ? [] : check.options[chosen].cautions.filter((id) => !told.has(id));
      for (const id of called) told.add(id);
      this.cards.get(check.id).showCautions(called);
    });
  }

  /** Brings a check to the eye, open. @param {string} id */
  goTo(id) {
    const card = this.cards.get(id);
    if (!card) return;
    if (this.foundSet.found(id).option) card.reopen();
    // What was off the screen gets its true height only now, so the way there is measured once more.
    const bring = () => card.element.scrollIntoView({ block: 'start', behavior: 'instant' });
    bring();
    afterFrame().then(bring);
    card.element.classList.add('here');
    setTimeout(() => card.element.classList.remove('here'), 1600);
    card.element.querySelector('button')?.focus({ preventScroll: true });
  }
}
