/** Keeping and exporting: what is on this phone, whether the browser promised to keep it, and getting it out. */
import { _, _n } from '../language.js';
import { openDatabase } from '../store/database.js';
import { localDay } from '../store/found_set.js';
import { importNotebook } from '../store/importing.js';
import { sayBytes } from '../store/photo_intake.js';
import { refreshFiles } from '../sync/fresh_files.js';
import { askPersistence } from '../sync/persistence.js';
import { h } from '../ui/element.js';
import { exportButton, listed } from '../ui/keeping.js';
import { languageCard } from '../ui/language_choice.js';
import { notice } from '../ui/notices.js';
import { offlineLine } from '../ui/offline_state.js';
import { sayDay } from '../ui/sale_words.js';

/** @param {HTMLElement} main */
export async function showAbout(main) {
  const keeping = h('div', {});
  const refresh = async () => keeping.replaceChildren(...await keepingWords());
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Notebook') }, '‹'), h('h1', {}, _('Keeping and exporting'))),
    h('div', { class: 'page' },
      h('section', { class: 'card' }, h('h2', {}, _('Without a signal')), offlineLine()),
      h('section', { class: 'card' }, h('h2', {}, _('What is kept')), keeping),
      backupCard(),
      exportCard(),
      languageCard(),
      h('section', { class: 'card' }, h('h2', {}, _('The app itself')),
        h('p', {}, _('Version {version}. Fetching its files afresh never touches your findings.', { version: document.documentElement.dataset.version })),
        h('button', { class: 'button', onclick: freshFiles }, _('Refresh the app\'s files'))),
      h('section', { class: 'card' }, h('h2', {}, _('What it cannot know')),
        h('p', {}, _('Prices and hours are starting values, most of them invented or from memory; each says which. It cannot see what you did not look at. It is no appraisal in the legal sense, and no leave to power anything up: that is for a person trained for it, under the local code.')),
        h('a', { class: 'row-link', href: '#/rules' }, _('Read every row behind every figure ›')))));
  await refresh();
  return { refresh };
}

async function keepingWords() {
  const database = await openDatabase();
  if (!database.kept) {
    return [h('p', {}, h('strong', {}, _('Nothing is kept.')), ' ',
      _('This browser gives no storage, as private windows often do. You can work, but export before you close the page.'))];
  }
  const { granted, usage, quota } = await askPersistence();
  return [await whatIsHere(database), roomWords(usage, quota), promiseWords(granted, (await database.get('meta', 'backup'))?.value), await lastWords(database)];
}

/** What there is, and where it goes. */
async function whatIsHere(database) {
  const there = async (store) => (await database.all(store)).filter((row) => !row.removed);
  const stores = ['sets', 'sales', 'sheets', 'lots', 'shelf'];
  const [photos, ...rows] = await Promise.all(['photos', ...stores].map(there));
  const counts = Object.fromEntries(stores.map((store, index) => [store, rows[index].length]));
  const bytes = photos.reduce((sum, { bytes: size }) => sum + size, 0);
  const pictures = photos.length > 0 && _n('{count} photo ({size})', '{count} photos ({size})', photos.length, { size: sayBytes(bytes) });
  const here = [...listed(counts), pictures].filter(Boolean).join(', ') || _('Nothing yet');
  const backup = (await database.get('meta', 'backup'))?.value;
  const where = backup ? _('It is backed up to {server}, and shared with the devices that have its key; the demo is not.', { server: location.host })
    : _('It is sent nowhere, but for photos whose label or form only the server can read; it keeps none.');
  return h('p', {}, h('strong', {}, here), `. ${_('Everything you enter is kept in this browser on this device.')} ${where}`);
}

function roomWords(usage, quota) {
  if (usage === null) return '';
  const used = sayBytes(usage);
  if (!quota) return h('p', {}, _('About {used} are in use, the app included.', { used }));
  const room = quota > 2e9 ? `${Math.floor(quota / 1e9)} GB` : sayBytes(quota);
  return h('p', {}, _('About {used} are in use, the app included; the browser would give {room}.', { used, room }));
}

function promiseWords(granted, backup) {
  if (granted) return h('p', {}, _('The browser has promised to keep it.'));
  return h('p', {}, _('The browser has not promised to keep it: it may empty its storage when the device is full, or after some weeks without a visit.'), ' ',
    backup ? _('Add the app to the home screen.') : _('Add the app to the home screen, and begin a backup or export now and then.'));
}

/** When it was last safe elsewhere. */
async function lastWords(database) {
  const [exported, backup] = await Promise.all(['exported', 'backup'].map(async (key) => (await database.get('meta', key))?.value));
  const day = (moment) => sayDay(localDay(new Date(moment)));
  const backedUp = backup?.done ? _('Last backed up whole on {day}.', { day: day(backup.done) })
    : backup ? _('Not backed up whole yet.') : _('Not backed up.');
  return h('p', {}, `${backedUp} ${exported ? _('Last exported on {day}.', { day: day(exported) }) : _('Never exported yet.')}`);
}

function backupCard() {
  return h('section', { class: 'card' }, h('h2', {}, _('Backup, second device, removed')),
    h('a', { class: 'row-link', href: '#/backup' }, _('Second device and backup ›')), h('a', { class: 'row-link', href: '#/bin' }, _('What was removed ›')));
}

function exportCard() {
  const file = /** @type {HTMLInputElement} */ (h('input', { type: 'file', accept: 'application/json,.json', 'aria-label': _('Notebook file') }));
  file.addEventListener('change', async () => {
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    try {
      notice('import', importedWords(await importNotebook(chosen)));
    } catch (problem) {
      notice('import', problem.message, { kind: 'bad' });
    }
    file.value = '';
  });
  return h('section', { class: 'card' }, h('h2', {}, _('Export and import')),
    h('p', {}, _('One file with every set, lot, sale and photo, the shelf, and every model sheet of your own. Importing adds; it never overwrites what is here.')),
    exportButton(),
    h('label', { class: 'field' }, h('span', {}, _('Import a notebook file')), file));
}

/** What came in from a file, sentence by sentence. */
function importedWords({ added, same, sheets, sales, lots, shelf, photos, left }) {
  return [
    _n('{count} set taken in, {same} already here.', '{count} sets taken in, {same} already here.', added, { same }),
    sheets > 0 && _n('{count} model sheet taken in.', '{count} model sheets taken in.', sheets),
    sales > 0 && _n('{count} sale taken in.', '{count} sales taken in.', sales),
    lots > 0 && _n('{count} lot taken in.', '{count} lots taken in.', lots),
    shelf > 0 && _n('{count} shelf item taken in.', '{count} shelf items taken in.', shelf),
    photos > 0 && _n('{count} photo taken in.', '{count} photos taken in.', photos),
    left > 0 && _n('{count} photo found no room on this phone and stayed out: free some space, and import the file again.',
      '{count} photos found no room on this phone and stayed out: free some space, and import the file again.', left),
  ].filter(Boolean).join(' ');
}

async function freshFiles() {
  if (!await refreshFiles()) notice('fresh', _('The server cannot be reached, so the files on this phone stay as they are.'));
}
