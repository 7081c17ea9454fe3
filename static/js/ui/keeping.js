/** How safe the notebook is: without a signal, against an emptied browser, and what no file holds yet. */
import { _, _n } from '../language.js';
import { openDatabase } from '../store/database.js';
import { downloadNotebook, exportState } from '../store/exporting.js';
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
  const words = backup ? await (await import('./backup_state_words.js')).wholeStateWords() : all === 0 ? _('Everything here is also in an exported file.')
    : _n('{things} is on this phone only, in no exported file.', '{things} are on this phone only, in no exported file.', all, { things: counted(waiting) });
  return h('section', { class: 'keeping' },
    offlineLine(),
    own > 0 && h('p', { class: 'fine', 'data-whole-state': Boolean(backup) }, words),
    h('div', { class: 'links' }, all > 0 && !backup && exportButton(), offer && installButton(),
      h('a', { class: 'button quiet', href: '#/about' }, _('Keeping, exporting, about'))));
}

/** Such as "1 set", "2 model sheets" and "3 sales". @param {Record<string, number>} counts by store */
export const listed = ({ sets, sheets, sales, lots, shelf, photos }) => [
  sets > 0 && _n('{count} set', '{count} sets', sets), sheets > 0 && _n('{count} model sheet', '{count} model sheets', sheets),
  sales > 0 && _n('{count} sale', '{count} sales', sales), lots > 0 && _n('{count} lot', '{count} lots', lots),
  shelf > 0 && _n('{count} shelf item', '{count} shelf items', shelf), photos > 0 && _n('{count} photo', '{count} photos', photos),
].filter(Boolean);

/** The same in one piece. @param {Record<string, number>} counts */
function counted(counts) {
  const first = listed(counts);
  const last = first.pop();
  return first.length > 0 ? _('{first} and {last}', { first: first.join(', '), last }) : last;
}

/** Exports the whole notebook with one tap. */
export function exportButton() {
  return h('button', { class: 'button', onclick: () => downloadNotebook().then(
    ({ sets, sheets, sales, lots, shelf, photos }) => {
      const things = counted({ sets: sets.length, sheets: sheets.length, sales: sales.length, lots: lots.length, shelf: shelf.length, photos });
      notice('export', things ? _('{things} exported.', { things }) : _('Nothing exported.'));
      window.dispatchEvent(new Event('underchassis-changed'));
    },
    (problem) => notice('export', problem.message, { kind: 'bad' })) }, _('Export the notebook'));
}

/** Puts the app on the home screen, where browsers offer that. Installed apps are emptied last. */
function installButton() {
  return h('button', { class: 'button', onclick: async () => {
    await offer.prompt();
    offer = null;
    window.dispatchEvent(new Event('underchassis-changed'));
  } }, _('Add to the home screen'));
}
