/** The Lot screen: its sets, and the ways on. */
import { joinLot, keepLot, leaveLot, numberIn, openLot, setsOfLot } from '../store/lots.js';
import { loadPack, packIndex } from '../store/packs.js';
import { askPersistence } from '../sync/persistence.js';
import { h, setText } from '../ui/element.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { LotList } from '../ui/lot_list.js';
import { lookedWords, wasLookedAt } from '../ui/lot_rows.js';
import { lotSettings } from '../ui/lot_settings.js';
import { clearNotice, notice } from '../ui/notices.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { savingMark } from '../ui/saving_mark.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot */
export async function showSets(main, lot) {
  const page = new LotPage(lot);
  main.replaceChildren(page.head, page.element);
  await page.refresh();
  return { refresh: () => page.refresh() };
}

class LotPage {
  /** @param {import('../store/lots.js').Lot} lot */
  constructor(lot) {
    this.lot = lot;
    this.panel = h('div', { hidden: true });
    this.about = h('button', { class: 'button quiet', 'aria-expanded': 'false', onclick: () => this.openPanel() }, 'About it');
    this.head = lotHead(lot, '#/', lotName(lot), '', this.about);
    this.list = new LotList({ leave: (id) => this.leave(id) });
    const way = (part, words, strong = '') => h('a', { class: `button ${strong}`, href: `#/lot/${lot.id}/${part}` }, words);
    this.none = h('p', {}, 'No sets yet.');
    this.ways = h('div', { class: 'links lot-ways' }, way('round', 'Quick round', 'strong'));
    this.element = h('div', { class: 'page lot' }, this.panel, this.none, this.ways, this.list.element, h('div', { class: 'links' }, way('add', 'Add sets')));
  }

  /** Shows the lot as it is stored now. */
  async refresh() {
    const lot = await openLot(this.lot.id);
    if (!lot || lot.removed) {
      window.dispatchEvent(new Event('hashchange'));
      return;
    }
    const typing = this.panel.contains(document.activeElement);
    if (!typing) {
      this.lot = lot;
      if (!this.panel.hidden) await this.fillPanel();
    }
    this.sets = await setsOfLot(lot.id);
    this.showHead();
    this.list.show(this.sets.map(line));
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
    saving.catch(sayUnsaved);
    askPersistence();
    this.showHead();
  }

  /** Takes a set out of the lot; one tap brings it back. */
  async leave(id) {
    const foundSet = this.sets.find(({ base }) => base.id === id);
    const number = numberIn(foundSet);
    try {
      await leaveLot(foundSet);
      notice('left', `No. ${number} is a single set now.`, { passing: true, actions: [['Undo', () => {
        clearNotice('left');
        joinLot(foundSet, this.lot, number).then(() => this.refresh(), sayUnsaved);
      }]] });
      await this.refresh();
    } catch (problem) {
      sayUnsaved(problem);
    }
  }
}

/** A set's line in the list. @param {import('../store/found_set.js').FoundSet} foundSet */
function line(foundSet) {
  const { base } = foundSet;
  return { id: base.id, number: numberIn(foundSet), title: foundSet.get('title') || base.model_sheet || base.family, label: foundSet.get('label') ?? '', looked: wasLookedAt(foundSet) ? '' : 'not looked at', figures: null };
}
