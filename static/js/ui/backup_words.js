/** What is said of each set's backup; the words of one that was begun come from backup_state_words.js. */
import { _ } from '../language.js';
import { openDatabase } from '../store/database.js';

/** @returns {Promise<(base: import('../store/found_set.js').Base) => string>} */
export async function setStateWords() {
  const backup = (await (await openDatabase()).get('meta', 'backup'))?.value;
  if (!backup) return ({ demo }) => (demo ? '' : _('On this device only'));
  // Few begin one, and a first visit pays for every file.
  const sayState = await (await import('./backup_state_words.js')).stateWords();
  return ({ id, demo }) => (demo ? '' : sayState(id));
}
