/** Follows the backup: what other devices changed is shown at once, and what they removed is said. */
import { _ } from '../language.js';
import { openDatabase } from '../store/database.js';
import { thisDevice } from '../store/device.js';
import { FoundSet } from '../store/found_set.js';
import { binSets } from '../store/notebook.js';
import { backupWatch } from '../sync/backup_watch.js';
import { wholeStateWords } from './backup_state_words.js';
import { setStateWords } from './backup_words.js';
import { setText } from './element.js';
import { clearNotice, notice } from './notices.js';

let following = false;

/** @param {() => Promise<void>} refresh draws the page anew @param {boolean} now one round at once, also where one was begun already */
export async function followBackup(refresh, now) {
  if (!following) follow(refresh);
  following = true;
  if (now || backupWatch.state.what === 'off') await backupWatch.begin();
}

function follow(refresh) {
  backupWatch.addEventListener('taken', async (event) => {
    for (const id of event.detail.removed) await sayRemoved(id, refresh);
    await refresh();
  });
  backupWatch.addEventListener('change', () => {
    const { progress } = backupWatch.state;
    if (!progress) sayStates();
    // A photo of another device is here now.
    else if (progress.way === 'down') refresh();
  });
}

/** The state of each set and of the whole, wherever it stands now. */
async function sayStates() {
  const say = await setStateWords();
  for (const line of document.querySelectorAll('[data-state]')) setText(line, say({ id: line.dataset.state, demo: false }));
  const whole = document.querySelector('[data-whole-state]');
  if (whole) setText(whole, await wholeStateWords());
}

async function sayRemoved(id, refresh) {
  const database = await openDatabase();
  const [base, rows, standing, device] = await Promise.all([database.get('sets', id), database.findingsOf(id), database.get('standing', ['sets', id]), thisDevice()]);
  if (!base?.removed) return;
  const title = new FoundSet(base, rows).get('title') || _('A set');
  const here = (await database.get('operations', standing.heads[0]))?.device === device.id;
  const name = `removed-${id}`;
  const said = here ? _('{set} was removed on this device, and another one has entered more of it since.', { set: title }) : _('{set} was removed on another device.', { set: title });
  notice(name, said, { actions: [[_('Bring it back'), async () => {
    clearNotice(name);
    await binSets([base], false);
    await refresh();
  }]] });
}
