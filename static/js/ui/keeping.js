/** How safe the notebook is: without a signal, against an emptied browser, and what no file holds yet. */
import { openDatabase } from '../store/database.js';
import { downloadNotebook, exportState } from '../store/exporting.js';
import { wholeStateWords } from './backup_words.js';
import { h } from './element.js';
import { notice } from './notices.js';
import { offlineLine } from './offline_state.js';

/** @type {any} the browser's own offer to put the app on the home screen, once it makes one */
let offer = null;
window.addEventListener('beforeinstallprompt', (event) => {
  event.preventDefault();
  offer = event;
});

/** The line at the foot of the notebook. */
export async function keepingLine() {
  const { own, waiting } = await exportState();
  const all = Object.values(waiting).reduce((sum, count) => sum + count);
  const backup = (await (await openDatabase()).get('meta', 'backup'))?.value;
  const words = backup ? (await wholeStateWords()) : all === 0 ? 'Everything here is also in an exported file.'
    : `${counted(waiting)} ${all === 1 ? 'is' : 'are'} on this phone only, in no exported file.`;
  return h('section', { class: 'keeping' },
    offlineLine(),
    own > 0 && h('p', { class: 'fine', 'data-whole-state': Boolean(backup) }, words),
    h('div', { class: 'links' }, all > 0 && !backup && exportButton(), offer && installButton(),
      h('a', { class: 'button quiet', href: '#/about' }, 'Keeping, exporting, about')));
}

const NAMES = { sets: 'set', sheets: 'model sheet', sales: 'sale', lots: 'lot', shelf: 'shelf item', photos: 'photo' };

/** Such as "1 set, 2 model sheets and 3 sales". @param {Record<string, number>} counts by store */
function counted(counts) {
  return Object.keys(NAMES).filter((store) => counts[store] > 0).map((store) => `${counts[store]} ${NAMES[store]}${counts[store] === 1 ? '' : 's'}`)
    .join(', ').replace(/, (?!.*, )/, ' and ');
}

/** Exports the whole notebook with one tap. */
export function exportButton() {
  return h('button', { class: 'button', onclick: () => downloadNotebook().then(
    ({ sets, sheets, sales, lots, shelf, photos }) => {
      notice('export', `${counted({ sets: sets.length, sheets: sheets.length, sales: sales.length, lots: lots.length, shelf: shelf.length, photos }) || 'Nothing'} exported.`);
      window.dispatchEvent(new Event('underchassis-changed'));
    },
    (problem) => notice('export', problem.message, { kind: 'bad' })) }, 'Export the notebook');
}

/** Puts the app on the home screen, where browsers offer that. Installed apps are emptied last. */
function installButton() {
  return h('button', { class: 'button', onclick: async () => {
    await offer.prompt();
    offer = null;
    window.dispatchEvent(new Event('underchassis-changed'));
  } }, 'Add to the home screen');
}
