/** The Lot screen: its sets, and the ways on. */
import { _, _n } from '../language.js';
import { openDatabase } from '../store/database.js';
import { downloadLot } from '../store/lot_export.js';
import { LotPlanning } from '../store/lot_planning.js';
import { LotReckoning } from '../store/lot_reckoning.js';
import { joinLot, keepLot, leaveLot, numberIn, openLot, setsOfLot } from '../store/lots.js';
import { loadPack, packIndex } from '../store/packs.js';
import { askPersistence } from '../sync/persistence.js';
import { h, setText } from '../ui/element.js';
import { LotBar } from '../ui/lot_bar.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { LotList } from '../ui/lot_list.js';
import { planningWords } from '../ui/lot_planned.js';
import { LotSolving } from '../ui/lot_solving.js';
import { LotView, WAYS } from '../ui/lot_view.js';
import { lookedWords, wasLookedAt } from '../ui/lot_rows.js';
import { lotSettings } from '../ui/lot_settings.js';
import { clearNotice, notice } from '../ui/notices.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { savingMark } from '../ui/saving_mark.js';
import { useStyle } from '../ui/style_sheet.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot */
export async function showSets(main, lot) {
  const page = new LotPage(lot);
  main.replaceChildren(page.head, page.bar.element, page.element);
  await page.refresh();
  return { refresh: () => page.refresh() };
}

/** The wait for the plan before the list shows without it, in milliseconds. */
const LONGEST = 1500;

class LotPage {
  /** @param {import('../store/lots.js').Lot} lot */
  constructor(lot) {
    this.lot = lot;
    this.panel = h('div', { hidden: true });
    this.about = h('button', { class: 'button quiet', 'aria-expanded': 'false', onclick: () => this.openPanel() }, _('About it'));
    this.head = lotHead(lot, '#/', lotName(lot), '', this.about);
    this.list = new LotList({ leave: (id) => this.leave(id) });
    this.csv = h('button', { class: 'button', hidden: true, onclick: () => this.view && downloadLot(this.view) }, 'CSV');
    const way = (part, words, strong = '') => h('a', { class: `button ${strong}`, href: `#/lot/${lot.id}/${part}` }, words);
    this.bar = new LotBar(`#/lot/${lot.id}/plan`);
    this.solving = new LotSolving((plan) => this.showPlan(this.view.with(plan)));
    this.differences = h('div', {});
    this.none = h('p', {}, _('No sets yet.'));
    this.ways = h('div', { class: 'links lot-ways' }, way('round', _('Quick round'), 'strong'));
    this.element = h('div', { class: 'page lot' }, this.panel, this.differences, this.none, this.ways, this.solving.element, this.list.element,
      h('div', { class: 'links' }, way('add', _('Add sets')), way('pick', _('Pick lists')), this.csv));
  }

  /** Shows the lot as it is stored now. */
  async refresh() {
    const lot = await openLot(this.lot.id);
    // Also while somebody types: what another tab keeps must not be overwritten by what stood here.
    if (!this.keeping) this.lot = lot;
    if (!this.panel.hidden && !this.panel.contains(document.activeElement)) await this.fillPanel();
    this.sets = await setsOfLot(lot.id);
    this.showHead();
    this.showDifferences().catch(() => undefined);
    if (this.list.lines) {
      this.showLines();
      this.reckonSoon();
    } else {
      // A list that sorts itself anew under a finger is worse than one that comes a moment later.
      await Promise.race([this.reckon().catch(sayUnsaved), new Promise((resolve) => setTimeout(resolve, LONGEST))]);
      this.showLines();
    }
  }

  showLines() {
    this.list.show(this.sets.map((foundSet) => line(foundSet, this.view)));
  }

  /** Shows what two devices put down differently of the lot itself. */
  async showDifferences() {
    const some = (await (await openDatabase()).byIndex('standing', 'differs', null, 1)).length > 0;
    if (!some && !this.differences.firstChild) return;
    const [{ differences }, { differencesCard }] = await Promise.all([import('../store/history.js'), import('../ui/differences.js'), useStyle('backup')]);
    const card = await differencesCard((await differences()).filter(({ record }) => record === this.lot.id));
    this.differences.replaceChildren(...card ? [card] : []);
  }

  /** Plans the lot once nobody waits for anything else. */
  reckonSoon() {
    if (this.waiting) return;
    this.waiting = true;
    (window.requestIdleCallback ?? setTimeout)(() => {
      this.waiting = false;
      this.reckon().catch(sayUnsaved);
    });
  }

  async reckon() {
    const reckoning = await LotReckoning.of(this.lot);
    this.csv.hidden = this.bar.element.hidden = reckoning.size === 0;
    this.solving.element.hidden = this.sets.length === 0;
    if (reckoning.size === 0) {
      this.solving.stop('');
      setText(this.solving.how, leftWords(reckoning.left));
      return;
    }
    const planning = new LotPlanning(reckoning);
    if (!this.view) setText(this.solving.how, planningWords());
    const view = new LotView(reckoning, await planning.plan());
    this.showPlan(view);
    this.solving.follow(planning, view.plan);
  }

  /** @param {LotView} view */
  showPlan(view) {
    this.view = view;
    this.bar.show(view);
    setText(this.solving.how, `${view.how} ${leftWords(view.reckoning.left)}`);
    this.showLines();
  }

  showHead() {
    setText(this.head.querySelector('h1'), lotName(this.lot));
    setText(this.head.querySelector('.sub'), lookedWords(this.sets));
    this.none.hidden = this.sets.length > 0;
    this.ways.hidden = this.sets.length === 0;
  }

  async openPanel() {
    const opening = this.panel.hidden;
    if (opening) await this.fillPanel();
    this.panel.hidden = !opening;
    this.about.setAttribute('aria-expanded', String(opening));
    if (!opening) return;
    window.scrollTo(0, 0);
    this.panel.querySelector('input').focus();
  }

  async fillPanel() {
    const family = this.sets[0]?.base.family ?? (await packIndex()).families[0].id;
    this.panel.replaceChildren(lotSettings(this.lot, (await loadPack(family)).reference.currency, (key, value) => this.put(key, value)));
  }

  /** Keeps one of the lot's values. */
  put(key, value) {
    this.lot = { ...this.lot, [key]: value };
    const saving = keepLot(this.lot);
    savingMark(this.head, saving);
    this.keeping = saving;
    const kept = () => {
      if (this.keeping === saving) this.keeping = null;
    };
    saving.then(kept, (problem) => {
      kept();
      sayUnsaved(problem);
    });
    askPersistence();
    this.showHead();
    saving.then(() => this.reckonSoon(), () => undefined);
  }

  /** Takes a set out of the lot; one tap brings it back. */
  async leave(id) {
    const foundSet = this.sets.find(({ base }) => base.id === id);
    const number = numberIn(foundSet);
    try {
      await leaveLot(foundSet);
      notice('left', _('No. {number} is a single set now.', { number }), { passing: true, actions: [[_('Undo'), () => {
        clearNotice('left');
        joinLot(foundSet, this.lot, number).then(() => this.refresh(), sayUnsaved);
      }]] });
      await this.refresh();
      this.list.focus();
    } catch (problem) {
      sayUnsaved(problem);
    }
  }
}

/** Sets that no plan counts. */
const leftWords = (left) => (left.length === 0 ? ''
  : _n('One set is left out: its rule tables or model sheet are not on this phone.', '{count} sets are left out: their rule tables or model sheet are not on this phone.', left.length));

/** A set's line in the list. @param {import('../store/found_set.js').FoundSet} foundSet @param {LotView} [view] once the lot is planned */
function line(foundSet, view) {
  const { base } = foundSet;
  const title = foundSet.get('title') || base.model_sheet || base.family;
  const index = view?.plan ? view.reckoning.members.findIndex((member) => member.foundSet.base.id === base.id) : -1;
  return { id: base.id, number: numberIn(foundSet), title, label: foundSet.get('label') ?? '', looked: wasLookedAt(foundSet) ? '' : _('not looked at'), figures: index < 0 ? null : figures(view, view.plan.sets[index]) };
}

function figures(view, row) {
  return {
    worth: view.say(row.value), perHour: view.perHour(row), way: WAYS[row.way], range: view.range(row),
    by: { worth: row.value, perHour: row.per_hour ?? (row.way === 'as_is' ? null : Infinity), way: Object.keys(WAYS).indexOf(row.way), doubt: (row.high - row.low) / Math.max(1e-9, row.value) },
  };
}
