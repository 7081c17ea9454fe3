/** The quick round of a lot: one screen a set, one question at a time, single taps, nothing to scroll. */
import { _, _n } from '../language.js';
import { numberIn, openLot } from '../store/lots.js';
import { LotReckoning } from '../store/lot_reckoning.js';
import { askPersistence } from '../sync/persistence.js';
import { h, setText } from '../ui/element.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { wasLookedAt } from '../ui/lot_rows.js';
import { clearNotice, notice } from '../ui/notices.js';
import { roundQuestion } from '../ui/round_question.js';
import { savingMark } from '../ui/saving_mark.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot @param {string} which place of the set, from 1 */
export async function showRound(main, lot, which) {
  const reckoning = await LotReckoning.of(lot);
  if (reckoning.size === 0) {
    // The lot itself says why sets that are there cannot be asked about.
    location.replace(`#/lot/${lot.id}${reckoning.left.length > 0 ? '' : '/add'}`);
    return { refresh: async () => {} };
  }
  const page = new RoundPage(lot, reckoning);
  main.replaceChildren(page.head, page.element, page.foot);
  page.go(Number(which) >= 1 && Number(which) <= reckoning.size ? Number(which) - 1 : page.firstOpen());
  return { refresh: () => page.refresh() };
}

let asked = false;

class RoundPage {
  /** @param {import('../store/lots.js').Lot} lot @param {LotReckoning} reckoning */
  constructor(lot, reckoning) {
    Object.assign(this, { lot, reckoning });
    /** @type {{set: string, key?: string, before?: any, later?: string}[]} what was tapped in this round: answers, questions put off, sets left */
    this.steps = [];
    /** How often something was answered. */
    this.kept = 0;
    /** @type {Set<string>} questions put off: set and check */
    this.later = new Set();
    this.head = lotHead(lot, `#/lot/${lot.id}`, '', lotName(lot));
    this.head.querySelector('h1').setAttribute('aria-live', 'polite');
    this.element = h('div', { class: 'page round', 'aria-live': 'polite' });
    this.back = h('button', { class: 'button', onclick: () => this.undo() }, _('Back'));
    this.notNow = h('button', { class: 'button', onclick: () => this.putOff() }, _('Not now'));
    this.next = h('button', { class: 'button strong', onclick: () => this.goOn() }, _('Next set'));
    this.foot = h('footer', { class: 'round-foot' }, this.back, this.notNow, this.next);
  }

  /** The first set of which nothing was found. */
  firstOpen() {
    const open = this.reckoning.members.findIndex(({ foundSet, owned }) => !owned && !wasLookedAt(foundSet));
    return Math.max(0, open);
  }

  get foundSet() {
    return this.reckoning.members[this.index].foundSet;
  }

  goOn() {
    this.steps.push({ set: this.foundSet.base.id });
    this.go(this.index + 1);
  }

  /** Goes to a set; after the last one the lot itself comes. @param {number} index */
  go(index) {
    if (index < 0 || index >= this.reckoning.size) {
      location.hash = `#/lot/${this.lot.id}`;
      return;
    }
    this.index = index;
    history.replaceState(null, '', `#/lot/${this.lot.id}/round/${index + 1}`);
    this.show();
  }

  /** What is left to ask of this set, best first, without what was put off. */
  looks() {
    return this.reckoning.looksOf(this.index).filter(({ check }) => !this.later.has(`${this.foundSet.base.id}/${check}`));
  }

  show() {
    const { foundSet, index, reckoning } = this;
    const { pack } = reckoning.members[index].prepared;
    const place = _('Set {number} of {count}', { number: index + 1, count: reckoning.size });
    setText(this.head.querySelector('h1'), `${place} · ${_('no. {number}', { number: numberIn(foundSet) })}`);
    setText(this.head.querySelector('.sub'), [foundSet.get('title') || pack.name, foundSet.get('label')].filter(Boolean).join(' · '));
    const last = index + 1 === reckoning.size;
    setText(this.next, last ? _('To the lot') : _('Next set'));
    const [look] = this.looks();
    this.asking = look?.check ?? null;
    const check = look && pack.checks.find((row) => row.id === look.check);
    this.element.replaceChildren(check ? roundQuestion(check, foundSet.found(check.id), (found) => this.answer(check.id, found)) : this.enough(last));
    this.back.disabled = this.steps.length === 0 && index === 0;
    this.notNow.disabled = !check;
    document.title = `${place} · Underchassis`;
  }

  /** In the place of a question, once the rest would hardly change what becomes of the lot. */
  enough(last) {
    const off = [...this.later].filter((name) => name.startsWith(`${this.foundSet.base.id}/`)).length;
    return h('section', { class: 'round-enough' }, h('h2', { tabindex: -1 }, off > 0 ? _('Nothing else to ask') : _('Enough is known')),
      h('p', {}, off > 0 ? _n('One question was put off. The rest would hardly change what becomes of the lot.', '{count} questions were put off. The rest would hardly change what becomes of the lot.', off) : _('What is left to look at would hardly change what becomes of the lot.')),
      h('button', { class: 'button strong round-on', onclick: () => this.goOn() }, last ? _('To the lot') : _('Next set')),
      h('a', { class: 'button', href: `#/set/${this.foundSet.base.id}` }, _('All checks of this set')));
  }

  /** Keeps an answer and asks the next question. */
  answer(check, found) {
    const key = `check/${check}`;
    this.steps.push({ set: this.foundSet.base.id, key, before: this.foundSet.get(key) });
    this.keep(this.index, key, found);
    this.show();
    this.focus();
  }

  /** Takes the last tap back: an answer is asked for again, and so is what was put off; a set that was left comes back as it is. */
  undo() {
    const last = this.steps.pop();
    const index = last ? this.placeOf(last.set) : this.index - 1;
    if (index < 0) return;
    if (last?.key) this.keep(index, last.key, last.before);
    if (last?.later) this.later.delete(last.later);
    this.go(index);
    this.focus();
  }

  placeOf(id) {
    return this.reckoning.members.findIndex(({ foundSet }) => foundSet.base.id === id);
  }

  putOff() {
    const later = `${this.foundSet.base.id}/${this.asking}`;
    this.later.add(later);
    this.steps.push({ set: this.foundSet.base.id, later });
    this.show();
    this.focus();
  }

  keep(index, key, value) {
    const { foundSet } = this.reckoning.members[index];
    const saving = foundSet.put(key, value);
    this.kept += 1;
    this.reckoning.update(index);
    savingMark(this.foot, saving);
    if (!asked) askPersistence();
    asked = true;
    saving.catch((problem) => notice('save', problem.message, { kind: 'bad', actions: [
      [_('Try again'), () => {
        clearNotice('save');
        savingMark(this.foot, foundSet.saveAgain());
      }], [_('Export'), () => { location.hash = '#/about'; }]] }));
  }

  /** A keyboard user goes on from the new question. */
  focus() {
    if (document.activeElement === document.body || document.activeElement?.matches(':focus-visible')) this.element.querySelector('h2')?.focus({ preventScroll: true });
  }

  /** Shows what another tab or device stored meanwhile; the set in hand stays, wherever it stands now. */
  async refresh() {
    if (this.reckoning.members.some(({ foundSet }) => foundSet.unsaved.size > 0)) return undefined;
    const [{ kept }, lot] = [this, await openLot(this.lot.id)];
    const fresh = await LotReckoning.of(lot);
    // Read before what was tapped meanwhile.
    if (this.kept !== kept) return this.refresh();
    const { id } = this.foundSet.base;
    Object.assign(this, { lot, reckoning: fresh });
    const place = this.placeOf(id);
    return this.go(place < 0 ? Math.min(this.index, fresh.size - 1) : place);
  }
}
