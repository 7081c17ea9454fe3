/** Keeping and exporting: what is on this phone, whether the browser promised to keep it, and getting it out. */
import { openDatabase } from '../store/database.js';
import { localDay } from '../store/found_set.js';
import { importNotebook } from '../store/importing.js';
import { sayBytes } from '../store/photo_intake.js';
import { askPersistence } from '../sync/persistence.js';
import { refreshFiles } from '../sync/version.js';
import { h } from '../ui/element.js';
import { exportButton } from '../ui/keeping.js';
import { notice } from '../ui/notices.js';
import { offlineLine } from '../ui/offline_state.js';
import { countPhotos } from '../ui/photo_words.js';
import { sayDay } from '../ui/sale_words.js';

/** @param {HTMLElement} main */
export async function showAbout(main) {
  const keeping = h('div', {});
  const refresh = async () => keeping.replaceChildren(...await keepingWords());
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': 'Notebook' }, '‹'), h('h1', {}, 'Keeping and exporting')),
    h('div', { class: 'page' },
      h('section', { class: 'card' }, h('h2', {}, 'Without a signal'), offlineLine()),
      h('section', { class: 'card' }, h('h2', {}, 'What is kept'), keeping),
      backupCard(),
      exportCard(),
      h('section', { class: 'card' }, h('h2', {}, 'The app itself'),
        h('p', {}, `Version ${document.documentElement.dataset.version}. Fetching its files afresh never touches your findings.`),
        h('button', { class: 'button', onclick: freshFiles }, "Refresh the app's files")),
      h('section', { class: 'card' }, h('h2', {}, 'What it cannot know'),
        h('p', {}, 'Prices and hours are starting values, most of them invented or from memory; each says which. It cannot see what you did not look at. '
          + 'It is no appraisal in the legal sense, and no leave to power anything up: that is for a person trained for it, under the local code.'),
        h('a', { class: 'row-link', href: '#/rules' }, 'Read every row behind every figure ›'))));
  await refresh();
  return { refresh };
}

async function keepingWords() {
  const database = await openDatabase();
  if (!database.kept) {
    return [h('p', {}, h('strong', {}, 'Nothing is kept. '), 'This browser gives no storage, as private windows often do. '
      + 'You can work, but export before you close the page.')];
  }
  const { granted, usage, quota } = await askPersistence();
  return [await whatIsHere(database), roomWords(usage, quota), promiseWords(granted, (await database.get('meta', 'backup'))?.value), await lastWords(database)];
}

/** What there is, and where it goes. */
async function whatIsHere(database) {
  const [sets, sales, sheets, lots, shelf, photos] = await Promise.all(['sets', 'sales', 'sheets', 'lots', 'shelf', 'photos'].map(async (store) => (await database.all(store)).filter((row) => !row.removed)));
  const counts = [[sets, 'set'], [sales, 'sale'], [sheets, 'model sheet'], [lots, 'lot'], [shelf, 'shelf item']].filter(([rows]) => rows.length > 0).map(([rows, what]) => `${rows.length} ${what}${rows.length === 1 ? '' : 's'}`);
  const pictures = photos.length > 0 ? [`${countPhotos(photos.length)} (${sayBytes(photos.reduce((sum, { bytes }) => sum + bytes, 0))})`] : [];
  const here = [...counts, ...pictures].join(', ') || 'Nothing yet';
  const backup = (await database.get('meta', 'backup'))?.value;
  const where = backup ? `It is backed up to ${location.host}, and shared with the devices that have its key; the demo is not.`
    : 'It is sent nowhere, but for photos whose label or form only the server can read; it keeps none.';
  return h('p', {}, h('strong', {}, here), `. Everything you enter is kept in this browser on this device. ${where}`);
}

function roomWords(usage, quota) {
  if (usage === null) return '';
  return h('p', {}, `About ${sayBytes(usage)} are in use, the app included${quota ? `; the browser would give ${quota > 2e9 ? `${Math.floor(quota / 1e9)} GB` : sayBytes(quota)}` : ''}.`);
}

function promiseWords(granted, backup) {
  return h('p', {}, granted ? 'The browser has promised to keep it.'
    : 'The browser has not promised to keep it: it may empty its storage when the device is full, or after some weeks without a visit. '
      + `Add the app to the home screen${backup ? '' : ', and begin a backup or export now and then'}.`);
}

/** When it was last safe elsewhere. */
async function lastWords(database) {
  const [exported, backup] = await Promise.all(['exported', 'backup'].map(async (key) => (await database.get('meta', key))?.value));
  const day = (moment) => sayDay(localDay(new Date(moment)));
  return h('p', {}, [backup?.done ? `Last backed up whole on ${day(backup.done)}.` : backup ? 'Not backed up whole yet.' : 'Not backed up.', exported ? `Last exported on ${day(exported)}.` : 'Never exported yet.'].join(' '));
}

function backupCard() {
  return h('section', { class: 'card' }, h('h2', {}, 'Backup, second device, removed'),
    h('a', { class: 'row-link', href: '#/backup' }, 'Second device and backup ›'), h('a', { class: 'row-link', href: '#/bin' }, 'What was removed ›'));
}

function exportCard() {
  const file = /** @type {HTMLInputElement} */ (h('input', { type: 'file', accept: 'application/json,.json', 'aria-label': 'Notebook file' }));
  file.addEventListener('change', async () => {
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    try {
      const { added, same, sheets, sales, lots, shelf, photos, left } = await importNotebook(chosen);
      const more = [[sheets, 'model sheet'], [sales, 'sale'], [lots, 'lot'], [shelf, 'shelf item'], [photos, 'photo']].filter(([count]) => count > 0)
        .map(([count, what]) => ` ${count} ${what}${count === 1 ? '' : 's'} taken in.`).join('');
      notice('import', `${added} ${added === 1 ? 'set' : 'sets'} taken in, ${same} already here.${more}${left > 0 ? ` ${countPhotos(left)} found no room on this phone and stayed out: free some space, and import the file again.` : ''}`);
    } catch (problem) {
      notice('import', problem.message, { kind: 'bad' });
    }
    file.value = '';
  });
  return h('section', { class: 'card' }, h('h2', {}, 'Export and import'),
    h('p', {}, 'One file with every set, lot, sale and photo, the shelf, and every model sheet of your own. Importing adds; it never overwrites what is here.'),
    exportButton(),
    h('label', { class: 'field' }, h('span', {}, 'Import a notebook file'), file));
}

async function freshFiles() {
  if (!await refreshFiles()) notice('fresh', 'The server cannot be reached, so the files on this phone stay as they are.');
}
