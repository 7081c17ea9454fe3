/** How far a set is backed up, and what two devices found differently of it. */
import { openDatabase } from '../store/database.js';
import { setStateWords } from './backup_words.js';
import { h, setText } from './element.js';

export class SetBackup {
  /** @param {import('../store/found_set.js').Base} base @param {any} pack */
  constructor(base, pack) {
    this.base = base;
    this.pack = pack;
    this.state = h('p', { class: 'fine', 'data-state': base.id });
    this.differences = h('div', {});
  }

  /** Shows both as they are now. */
  async show() {
    setText(this.state, (await setStateWords())(this.base));
    // Hardly ever are there any, and a first screen pays for every file.
    const some = (await (await openDatabase()).byIndex('standing', 'differs', null, 1)).length > 0;
    if (!some && !this.differences.firstChild) return;
    const [{ differencesOf }, { differencesCard }, { useStyle }] = await Promise.all([import('../store/history.js'), import('./differences.js'), import('./style_sheet.js')]);
    await useStyle('backup');
    const card = differencesCard(await differencesOf(this.base.id), () => this.pack);
    this.differences.replaceChildren(...card ? [card] : []);
  }
}
