/** The state of a backup in words: waiting, backed up, could not. */
import { _, _n } from '../language.js';
import { backupStates } from '../store/backup_states.js';
import { backupWatch } from '../sync/backup_watch.js';

/** A writer of the state of a set, by its id. @returns {Promise<(set: string) => string>} */
export async function stateWords() {
  const states = await backupStates();
  return (set) => capital(stateOf(states.of(set), backupWatch.state));
}

/** What is said of the whole notebook. */
export async function wholeStateWords() {
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
