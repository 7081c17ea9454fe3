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
  return `The notebook: ${said[0].toLowerCase()}${said.slice(1).replace(/\.$/, '')}.`;
}

/** @param {import('../store/backup_states.js').SetState} state @param {import('../sync/backup_watch.js').State} watch */
export function sayState(state, watch) {
  const { waiting, refused } = state;
  const more = sayMore(state);
  const rest = more ? `; ${more}` : '';
  if (watch.lost) return `No longer backed up: this device's key opens nothing any more${rest}`;
  if (refused) return `Could not be backed up: ${refused}${rest}`;
  if (waiting > 0 && watch.what === 'failed') return `Could not be backed up yet: ${watch.why}${rest}`;
  if (waiting > 0) return `${counted(waiting, 'finding')} waiting to be backed up${rest}`;
  return more ? `Findings backed up; ${more}` : 'Backed up';
}

/** Photos on their way, and what two devices left different; empty when there is neither. @param {import('../store/backup_states.js').SetState} state */
export function sayMore({ differs, photos, sent, wanted }) {
  return [differs > 0 && `two devices differ in ${counted(differs, 'place')}`, photos > 0 && sent < photos && `${sent} of ${counted(photos, 'photo')} backed up`,
    wanted > 0 && `${counted(wanted, 'photo')} still to come from another device`].filter(Boolean).join('; ');
}
