/** The Claims screen: everything that a seller told of a set, beside what the buyer finds at the table. */
import { claims } from '../kernel/claims.js';
import { readFindings } from '../kernel/findings.js';
import { nextLooks, numbers } from '../kernel/numbers.js';
import { _ } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { KEYS, withFigure, withHole, withOption } from '../store/claim_answers.js';
import { readClaims } from '../store/claims.js';
import { comparablesOf, openSet, rememberForNext } from '../store/notebook.js';
import { plain } from '../store/operations.js';
import { loadReasons, prepareFor } from '../store/packs.js';
import { BottomBar, barView } from '../ui/bar.js';
import { cautionBlocks } from '../ui/cautions.js';
import { ClaimCard } from '../ui/claim_card.js';
import { figureChoices, holeChoices, optionChoices } from '../ui/claim_choices.js';
import { differencesList, sumLine } from '../ui/claim_differences.js';
import { notLookedAt, whereFrom } from '../ui/claim_page.js';
import { checkOf, foundWords, toldWords } from '../ui/claim_words.js';
import { h } from '../ui/element.js';
import { keepHoles } from '../ui/hole_saving.js';
import { moneyWriter } from '../ui/money.js';
import { regionField } from '../ui/region.js';
import { useStyle } from '../ui/style_sheet.js';
import { pageHead, sheetUnused } from './appraised.js';

/**
 * @param {HTMLElement} main
 * @param {string[]} words id of the set, and perhaps `differs` to begin with the list; or `new`, and the token of the page to copy
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showClaims(main, [id, second = '']) {
  await useStyle('claims');
  if (id === 'new') return (await import('./claims_new.js')).showNewClaims(main, second);
  const foundSet = await openSet(id);
  if (!foundSet) return (await import('../ui/set_missing.js')).showMissing(main, id);
  if (!foundSet.get('claims')) {
    location.hash = `#/set/${id}`;
    return { refresh: async () => {} };
  }
  await loadReasons(foundSet.base.family);
  const prepared = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
  const screen = new ClaimsScreen(foundSet, prepared, await comparablesOf(foundSet.base));
  main.replaceChildren(...screen.elements);
  screen.update();
  if (second === 'differs') screen.toList();
  else window.scrollTo(0, 0);
  return { refresh: () => screen.refresh() };
}

class ClaimsScreen {
  constructor(foundSet, prepared, sales) {
    this.foundSet = foundSet;
    this.prepared = prepared;
    this.pack = prepared.pack;
    this.sales = sales;
    const { id } = foundSet.base;
    const { checked, read } = this.beside(readFindings({}, prepared).findings);
    const actions = { pack: this.pack, agree: (claim) => this.agree(claim), takeBack: (claim) => this.takeBack(claim), choices: (claim, done) => this.choices(claim, done) };
    this.cards = new Map(checked.claims.map((claim) => [claim.id, new ClaimCard(claim.id, actions)]));
    this.sum = h('span', { role: 'status' });
    // It grows as one goes on, so it stands behind the claims: what is under the finger stays there.
    this.list = h('div', { tabindex: -1 });
    this.left = h('div', {});
    this.bar = new BottomBar({
      ask: (price) => this.keep({ asking: price }, this.bar.element), look: (check) => this.look(check), verdict: `#/verdict/${id}`,
    });
    const standing = this.pack.cautions.filter((row) => row.standing).map((row) => row.id);
    this.elements = [
      pageHead({ foundSet, pack: this.pack }, `#/set/${id}`, _('Checked against the seller’s page')),
      h('div', { class: 'progress' }, h('button', { class: 'strip claims-sum', onclick: () => this.toList() }, this.sum)),
      this.bar.element,
      h('div', { class: 'page claims' },
        sheetUnused({ prepared, pack: this.pack }),
        whereFrom(foundSet.get('claims'), this.pack, read.setAside),
        h('div', { class: 'standing' }, ...cautionBlocks(this.pack, standing)),
        ...this.pack.stages.map((stage) => this.stage(stage)),
        this.list, this.left,
        h('p', { class: 'links' }, h('a', { class: 'button', href: `#/set/${id}` }, _('To the walk round')), h('a', { class: 'button', href: `#/verdict/${id}` }, _('To the verdict')))),
    ];
    document.title = `${_('The seller’s claims')}: ${foundSet.get('title') || this.pack.name} · Underchassis`;
    for (const part of this.elements) part.addEventListener('focusout', () => setTimeout(() => this.stale && this.refresh()));
  }

  /** Goes to what differs. */
  toList() {
    // What was off the screen gets its true height only now, so the way there is measured once more.
    const bring = () => this.list.scrollIntoView({ block: 'start', behavior: 'instant' });
    bring();
    afterFrame().then(bring);
    this.list.focus({ preventScroll: true });
  }

  stage({ id, title }) {
    const cards = [...this.cards.values()].filter((card) => checkOf(this.pack, card.id).stage === id);
    return cards.length > 0 && h('section', { class: 'claims-stage' }, h('h2', {}, title), ...cards.map((card) => card.element));
  }

  /** How all claims stand beside findings, read from a document. */
  beside(findings, document = findings) {
    const now = numbers(this.prepared, findings);
    const read = readClaims(this.foundSet, this.prepared, document, findings);
    const checked = claims(this.prepared, now, findings, read.told, read.links);
    return { pack: this.pack, findings, now, read, told: read.told, checked, holes: checked.holes };
  }

  update() {
    const { prepared, foundSet, pack } = this;
    const document_ = foundSet.findings(prepared, this.sales);
    const { findings } = readFindings(document_, prepared);
    const beside = this.view = this.beside(findings, document_);
    const { checked, now } = beside;
    const money = moneyWriter(findings.currency, pack);
    this.showCards(beside, money);
    this.sum.replaceChildren(...sumLine(checked, money));
    this.list.replaceChildren(differencesList(beside, checked, money, foundSet.get('title') || pack.name));
    this.left.replaceChildren(notLookedAt(prepared, beside, foundSet));
    this.bar.show(barView(prepared, findings, now, nextLooks(prepared, findings, now), money));
  }

  showCards(beside, money) {
    const states = new Map(beside.checked.claims.map(({ id, state }) => [id, state]));
    const amounts = new Map(beside.checked.differences.map(({ id, amount }) => [id, amount]));
    const called = new Set(this.pack.cautions.filter((row) => row.standing).map((row) => row.id));
    for (const [id, card] of this.cards) {
      card.element.hidden = !states.has(id);
      if (!states.has(id)) continue;
      const differs = amounts.has(id);
      const cautions = this.cautions(beside, id).filter((row) => !called.has(row));
      for (const row of cautions) called.add(row);
      card.show({
        state: states.get(id), told: toldWords(beside, id), found: differs ? foundWords(beside, id) : '', amount: differs ? money.change(amounts.get(id)) : '', cautions,
      });
    }
  }

  /** The cautions that an answer calls, be it the seller's or the buyer's. @returns {string[]} */
  cautions({ told, findings }, id) {
    const check = checkOf(this.pack, id);
    if (id.startsWith('figure/')) return [];
    const answers = [told, findings].map(({ answers, holes }) => answers[check.id] ?? (check.asks_holes && holes.length > 0 ? 'some' : null));
    return [...new Set(check.options.filter((option) => answers.includes(option.id)).flatMap((option) => option.cautions))];
  }

  /** The answers to a check's openers, as told: a follow-up counts only behind them. */
  opened(check) {
    const entries = {};
    for (let above = check.shown_if?.check; above;) {
      const row = this.pack.checks.find(({ id }) => id === above);
      const found = this.foundSet.found(above);
      const option = this.view.told.answers[above];
      if (found.option !== option) entries[`check/${above}`] = withOption(found, row, option);
      above = row.shown_if?.check;
    }
    return entries;
  }

  agree(id) {
    const { told, read } = this.view;
    const [kind, name] = id.split('/');
    const check = checkOf(this.pack, id);
    if (kind === 'check') this.choose(id, told.answers[name]);
    else if (kind === 'figure') this.answer(id, withFigure(this.foundSet.found(check.id), name, read.figure(name)));
    else this.chooseHole(id, told.holes[Number(name)]);
  }

  takeBack(id) {
    const [kind, name] = id.split('/');
    const check = checkOf(this.pack, id);
    if (kind === 'hole') return this.chooseHole(id, null);
    const found = this.foundSet.found(check.id);
    return this.answer(id, kind === 'check' ? withOption(found, check, null) : withFigure(found, name, null));
  }

  choose(id, option) {
    const check = checkOf(this.pack, id);
    this.answer(id, withOption(this.foundSet.found(check.id), check, option), this.opened(check));
  }

  /** @param {string} id @param {import('../kernel/findings.js').Hole | 'gone' | null} hole as found */
  chooseHole(id, hole) {
    const { read, holes } = this.view;
    const at = Number(id.split('/')[1]);
    const number = holes[at] === null ? null : read.kept[holes[at]];
    const check = checkOf(this.pack, id);
    this.answer(id, withHole(this.foundSet.found(check.id), read.numbers, read.numbers[at], number, hole));
  }

  /** Keeps what was found on the check of a claim, and what goes with it. */
  answer(id, found, more = {}) {
    this.keep({ ...more, [`check/${checkOf(this.pack, id).id}`]: found }, this.cards.get(id).element);
  }

  keep(entries, element) {
    keepHoles(this.foundSet, element, this.foundSet.putAll(entries));
    this.update();
  }

  /** What may be there in the place of what was told. @param {string} id @param {() => void} done */
  choices(id, done) {
    const { told, findings, holes, read } = this.view;
    const [kind, name] = id.split('/');
    const check = checkOf(this.pack, id);
    if (kind === 'figure') return figureChoices(this.pack, check, this.figureActions(id, check));
    if (kind === 'check') {
      return optionChoices(check, told.answers[name], this.foundSet.found(name).option, (option) => {
        // Holes are still to be listed.
        if (!check.asks_holes || option !== 'some') done();
        this.choose(id, option);
      }, this.foundSet.base.id);
    }
    const at = Number(name);
    const hole = holes[at] === null ? null : findings.holes[holes[at]];
    return holeChoices(this.pack, told.holes[at], hole, read.links.gone.includes(at), (chosen) => {
      done();
      this.chooseHole(id, chosen);
    });
  }

  /** What the field of a figure needs of a screen. @returns {import('../ui/check.js').CheckActions} */
  figureActions(id, check) {
    const key = KEYS[check.asks] ?? 'text';
    return {
      foundSet: this.foundSet,
      keep: (_check, found) => this.answer(id, withFigure(this.foundSet.found(check.id), check.asks, found[key])),
      regionField: () => regionField(this.foundSet, (name, value) => {
        this.keep({ [name]: value }, this.cards.get(id).element);
        rememberForNext(name, value).catch(() => undefined);
      }),
      addPhotos: () => undefined,
      behind: (module) => import(`../ui/${module}.js`),
    };
  }

  /** Goes to a check: among the claims if the seller told of it, else in the walk round. @param {string} check */
  look(check) {
    const card = this.cards.get(`check/${check}`);
    if (!card || card.element.hidden) location.hash = `#/set/${this.foundSet.base.id}/${check}`;
    else {
      card.element.scrollIntoView({ block: 'start', behavior: 'instant' });
      card.agree.focus({ preventScroll: true });
    }
  }

  /** Another tab or device changed something: shows what is stored now, but for what somebody types just now. */
  async refresh() {
    const { base } = this.foundSet;
    const fresh = await openSet(base.id);
    const typing = this.typed();
    this.stale = typing.length > 0;
    const other = !fresh || this.prepared !== await prepareFor(base.family, base.model_sheet) || plain(fresh.get('claims')) !== plain(this.foundSet.get('claims'));
    if (!other) this.takeOver(fresh, typing, await comparablesOf(base));
    else if (!this.stale) window.dispatchEvent(new Event('hashchange'));
  }

  /** Keys of what is typed just now: it replaces nothing that came in meanwhile. */
  typed() {
    const card = [...this.cards.values()].find((one) => one.typing);
    if (card) return [`check/${checkOf(this.pack, card.id).id}`];
    return this.bar.element.contains(document.activeElement) && document.activeElement?.matches('input') ? ['asking'] : [];
  }

  takeOver(fresh, typed, sales) {
    for (const key of typed) fresh.known.set(key, this.foundSet.known.get(key));
    for (const key of this.foundSet.unsaved) fresh.values.set(key, this.foundSet.values.get(key));
    fresh.unsaved = this.foundSet.unsaved;
    this.foundSet = fresh;
    this.sales = sales;
    this.update();
  }
}
