/** What was removed, to be brought back. */
import { _ } from '../language.js';
import { removedThings } from '../store/bin.js';
import { bringBackLot } from '../store/lots.js';
import { binSets } from '../store/notebook.js';
import { binSales } from '../store/sales.js';
import { binSheet, sheetName } from '../store/sheets.js';
import { binThing } from '../store/shelf.js';
import { h } from '../ui/element.js';
import { whoWhen } from '../ui/finding_words.js';
import { notice } from '../ui/notices.js';
import { sayDay, sayPrice } from '../ui/sale_words.js';
import { KINDS as THINGS } from '../ui/shelf_words.js';

const KINDS = { sets: () => _('Set'), lots: () => _('Lot'), sales: () => _('Sale'), sheets: () => _('Model sheet'), shelf: () => _('On the shelf') };

/** @param {HTMLElement} main */
export async function showBin(main) {
  const refresh = async () => {
    const things = await removedThings();
    main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: '#/about', 'aria-label': _('Keeping and exporting') }, '‹'), h('h1', {}, _('Removed'))),
      h('div', { class: 'page' },
        things.length === 0 ? h('p', {}, _('Nothing was removed.'))
          : h('p', { class: 'help' }, _('What was removed stays here until you bring it back; a lot brings its sets along, if they went with it. The photos of a removed set are removed for good 30 days after it.')),
        h('ul', { class: 'rows' }, ...things.map((thing) => row(thing))),
        h('a', { class: 'row-link', href: '#/photos' }, _('Removed photos ›'))));
    document.title = `${_('Removed')} · Underchassis`;
  };
  await refresh();
  return { refresh };
}

function row(thing) {
  const name = nameOf(thing);
  return h('li', { class: 'set-row' },
    h('div', { class: 'row-link' }, h('strong', {}, name), h('span', { class: 'fine' }, `${KINDS[thing.kind]()} · ${thing.at ? _('Removed: {who}', { who: whoWhen(thing) }) : _('Removed')}`)),
    h('button', { class: 'button', 'aria-label': _('Bring back {name}', { name }), onclick: () => bringBack(thing, name) }, _('Bring back')));
}

function nameOf({ kind, row: removed, foundSet }) {
  if (kind === 'sets') return foundSet.get('title') || removed.family;
  if (kind === 'lots') return removed.name || _('A lot without a name');
  if (kind === 'shelf') return `${THINGS[removed.kind]}${removed.part ? `: ${removed.part.replaceAll('-', ' ')}` : ''}`;
  if (kind === 'sales') return _('Sale, {price}, {day}', { price: sayPrice(removed), day: sayDay(removed.date) });
  const name = sheetName(removed);
  return name ? _('Model sheet {name}', { name }) : _('Model sheet (a draft)');
}

async function bringBack({ kind, row: removed }, name) {
  const ways = {
    sets: () => binSets([removed], false), lots: () => bringBackLot(removed.id), sales: () => binSales([removed.id], false),
    sheets: () => binSheet(removed.id, false), shelf: () => binThing(removed, false),
  };
  try {
    await ways[kind]();
    notice('removed', _('{name} is back.', { name }));
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
  window.dispatchEvent(new Event('underchassis-changed'));
}
