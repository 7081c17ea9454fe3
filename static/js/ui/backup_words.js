/** The state of a backup in words: on this phone, waiting, backed up, could not. */
import { _, _n } from '../language.js';
import { openDatabase } from '../store/database.js';

/**
 * What is said of each set.
 * @returns {Promise<(base: import('../store/found_set.js').Base) => string>}
 */
export async function setStateWords() {
  const backup = (await (await openDatabase()).get('meta', 'backup'))?.value;
  if (!backup) return ({ demo }) => (demo ? '' : _('On this device only'));
  const [{ backupStates }, { backupWatch }] = await Promise.all([import('../store/backup_states.js'), import('../sync/backup_watch.js')]);
  const states = await backupStates();
  return ({ id, demo }) => (demo ? '' : capital(stateOf(states.of(id), backupWatch.state)));
}

/** What is said of the whole notebook, where it is backed up. */
export async function wholeStateWords() {
  const [{ backupStates }, { backupWatch }] = await Promise.all([import('../store/backup_states.js'), import('../sync/backup_watch.js')]);
  return _('The notebook: {state}.', { state: stateOf((await backupStates()).all, backupWatch.state).replace(/\.$/, '') });
}

const capital = (text) => text[0].toUpperCase() + text.slice(1);

/** @param {import('../store/backup_states.js').SetState} state @param {import('../sync/backup_watch.js').State} watch */
function stateOf(state, watch) {
  const more = sayMore(state);
  return [findingsState(state, watch, more), more].filter(Boolean).join('; ');
}

function findingsState({ waiting, refused }, { lost, what, why }, more) {
  if (lost) return _('no longer backed up: this device\'s key opens nothing any more');
  if (refused) return _('could not be backed up: {why}', { why: refused });
  if (waiting > 0 && what === 'failed') return _('could not be backed up yet: {why}', { why });
  if (waiting > 0) return _n('{count} finding waiting to be backed up', '{count} findings waiting to be backed up', waiting);
  return more ? _('findings backed up') : _('backed up');
}

/** Photos on their way, and what two devices left different; empty when there is neither. @param {import('../store/backup_states.js').SetState} state */
export function sayMore({ differs, photos, sent, wanted }) {
  return [differs > 0 && _n('two devices differ in {count} place', 'two devices differ in {count} places', differs),
    photos > 0 && sent < photos && _n('{sent} of {count} photo backed up', '{sent} of {count} photos backed up', photos, { sent }),
    wanted > 0 && _n('{count} photo still to come from another device', '{count} photos still to come from another device', wanted)].filter(Boolean).join('; ');
}
