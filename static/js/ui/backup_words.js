/** The state of a backup in words: on this phone, waiting, backed up, could not. */
import { openDatabase } from '../store/database.js';

const counted = (count, what) => `${count} ${what}${count === 1 ? '' : 's'}`;

/**
 * What is said of each set.
 * @returns {Promise<(base: import('../store/found_set.js').Base) => string>}
 */
export async function setStateWords() {
  const backup = (await (await openDatabase()).get('meta', 'backup'))?.value;
  if (!backup) return ({ demo }) => (demo ? '' : 'On this device only');
  const [{ backupStates }, { backupWatch }] = await Promise.all([import('../store/backup_states.js'), import('../sync/backup_watch.js')]);
  const states = await backupStates();
  return ({ id, demo }) => (demo ? '' : sayState(states.of(id), backupWatch.state));
}

/** What is said of the whole notebook, where it is backed up. */
export async function wholeStateWords() {
  const [{ backupStates }, { backupWatch }] = await Promise.all([import('../store/backup_states.js'), import('../sync/backup_watch.js')]);
  const said = sayState((await backupStates()).all, backupWatch.state);
  return `The notebook: ${said[0].toLowerCase()}${said.slice(1)}.`;
}

/** @param {import('../store/backup_states.js').SetState} state @param {import('../sync/backup_watch.js').State} watch */
export function sayState({ waiting, refused, photos, sent, wanted }, watch) {
  const parts = [photos > 0 && sent < photos && `${sent} of ${counted(photos, 'photo')} backed up`, wanted > 0 && `${counted(wanted, 'photo')} still to come from another device`].filter(Boolean);
  const more = parts.length > 0 ? `; ${parts.join('; ')}` : '';
  if (refused) return `Could not be backed up: ${refused}${more}`;
  if (waiting > 0 && watch.what === 'failed') return `Could not be backed up yet: ${watch.why}${more}`;
  if (waiting > 0) return `${counted(waiting, 'finding')} waiting to be backed up${more}`;
  return parts.length > 0 ? `Findings backed up; ${parts.join('; ')}` : 'Backed up';
}
