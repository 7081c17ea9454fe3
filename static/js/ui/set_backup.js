/** How far a set is backed up, and what two devices found differently of it. */
import { openDatabase } from '../store/database.js';
import { setStateWords } from './backup_words.js';
import { h, setText } from './element.js';

export class SetBackup {
  /** @param {import('../store/found_set.js').Base} base */
  constructor(base) {
    this.base = base;
    this.state = h('p', { class: 'fine', 'data-state': base.id });
    this.differences = h('div', {});
  }

  /** Shows both once nobody waits for anything else. */
  soon() {
    if (this.waiting) return;
    this.waiting = true;
    (window.requestIdleCallback ?? setTimeout)(() => {
      this.waiting = false;
      this.show().catch(() => undefined);
    });
  }

  /** Shows both as they are now. */
  async show() {
    setText(this.state, (await setStateWords())(this.base));
    // Hardly ever are there any, and a first screen pays for every file.
    const some = (await (await openDatabase()).byIndex('standing', 'differs', null, 1)).length > 0;
    if (!some && !this.differences.firstChild) return;
    const [{ differencesOf }, { differencesCard }, { useStyle }] = await Promise.all([import('../store/history.js'), import('./differences.js'), import('./style_sheet.js')]);
    await useStyle('backup');
    const card = await differencesCard(await differencesOf(this.base.id));
    this.differences.replaceChildren(...card ? [card] : []);
  }
}
