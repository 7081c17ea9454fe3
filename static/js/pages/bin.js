/** What was removed, to be brought back. */
import { removedThings } from '../store/bin.js';
import { binSets } from '../store/notebook.js';
import { binSales } from '../store/sales.js';
import { binSheet, sheetName } from '../store/sheets.js';
import { h } from '../ui/element.js';
import { whoWhen } from '../ui/finding_words.js';
import { notice } from '../ui/notices.js';
import { sayDay, sayPrice } from '../ui/sale_words.js';

/** @param {HTMLElement} main */
export async function showBin(main) {
  const refresh = async () => {
    const things = await removedThings();
    main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: '#/about', 'aria-label': 'Keeping and exporting' }, '‹'), h('h1', {}, 'Removed')),
      h('div', { class: 'page' },
        things.length === 0 ? h('p', {}, 'Nothing was removed.')
          : h('p', { class: 'help' }, 'Sets, sales and model sheets stay here until you bring them back. The photos of a removed set are removed for good 30 days after it.'),
        h('ul', { class: 'rows' }, ...things.map((thing) => row(thing))),
        h('a', { class: 'row-link', href: '#/photos' }, 'Removed photos ›')));
    document.title = 'Removed · Underchassis';
  };
  await refresh();
  return { refresh };
}

function row(thing) {
  const name = nameOf(thing);
  return h('li', { class: 'set-row' },
    h('div', { class: 'row-link' }, h('strong', {}, name), h('span', { class: 'fine' }, thing.at ? `Removed: ${whoWhen(thing)}` : 'Removed')),
    h('button', { class: 'button', 'aria-label': `Bring back ${name}`, onclick: () => bringBack(thing, name) }, 'Bring back'));
}

function nameOf({ kind, row: removed, foundSet }) {
  if (kind === 'sets') return foundSet.get('title') || removed.family;
  return kind === 'sales' ? `Sale, ${sayPrice(removed)}, ${sayDay(removed.date)}` : `Model sheet ${sheetName(removed) || '(a draft)'}`;
}

async function bringBack({ kind, row: removed }, name) {
  try {
    await { sets: () => binSets([removed], false), sales: () => binSales([removed.id], false), sheets: () => binSheet(removed.id, false) }[kind]();
    notice('removed', `${name} is back.`);
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
  window.dispatchEvent(new Event('underchassis-changed'));
}
