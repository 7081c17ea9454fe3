/** A change to a list of holes on its way to the disk: its mark, and what to do when the browser refuses. */
import { _ } from '../language.js';
import { clearNotice, notice } from './notices.js';
import { savingMark } from './saving_mark.js';

/** @param {import('../store/found_set.js').FoundSet} foundSet @param {HTMLElement} marked @param {Promise<void>} saving */
export function keepHoles(foundSet, marked, saving) {
  savingMark(marked, saving);
  saving.catch((problem) => notice('save', problem.message, {
    kind: 'bad',
    actions: [[_('Try again'), () => {
      clearNotice('save');
      keepHoles(foundSet, marked, foundSet.saveAgain());
    }], [_('Export'), () => { location.hash = '#/about'; }]],
  }));
}
