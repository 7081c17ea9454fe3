/** The lots in the notebook: one line each; their sets show under them alone. */
import { _, _n } from '../language.js';
import { localDay } from '../store/found_set.js';
import { newLot, numberIn } from '../store/lots.js';
import { h } from './element.js';
import { sayDay } from './sale_words.js';

/** @typedef {import('../store/found_set.js').FoundSet} FoundSet */

/**
 * @param {import('../store/lots.js').Lot[]} lots also those in the bin
 * @param {FoundSet[]} sets all of the notebook
 * @returns {{rows: {element: HTMLElement, text: string}[], taken: Set<string>}} `taken` are ids of sets that a lot shows
 */
export function lotRows(lots, sets) {
  const open = lots.filter((lot) => !lot.removed).sort((a, b) => (a.created < b.created ? 1 : -1));
  const members = new Map(open.map((lot) => [lot.id, /** @type {FoundSet[]} */ ([])]));
  for (const foundSet of sets) members.get(foundSet.get('lot')?.lot)?.push(foundSet);
  return { rows: open.map((lot) => row(lot, members.get(lot.id))), taken: new Set([...members.values()].flat().map(({ base }) => base.id)) };
}

function row(lot, sets) {
  const words = sets.flatMap((foundSet) => [foundSet.get('title'), foundSet.get('label'), numberIn(foundSet), foundSet.found('serial').text]);
  const element = h('div', { class: 'set-row lot-row' }, h('a', { class: 'row-link', href: `#/lot/${lot.id}` },
    h('strong', {}, lot.name || _('A lot without a name'), lot.demo ? h('span', { class: 'tag' }, _('Demo')) : ''), h('span', { class: 'sub' }, _('Lot')), h('span', {}, lookedWords(sets))));
  return { element, text: [lot.name, _('Lot'), ...words].filter(Boolean).join(' ').toLowerCase() };
}

/** Whether a check of a set was answered. @param {FoundSet} foundSet */
export const wasLookedAt = (foundSet) => [...foundSet.values].some(([key, value]) => key.startsWith('check/') && (value?.option || value?.unseen));

/** How many sets there are and how many of them were looked at. @param {FoundSet[]} sets */
export function lookedWords(sets) {
  const looked = sets.filter(wasLookedAt).length;
  if (sets.length === 0) return _('No sets yet');
  const all = sets.length;
  if (looked === all) return _n('{count} set, all looked at', '{count} sets, all looked at', all);
  if (looked === 0) return _n('{count} set, none looked at', '{count} sets, none looked at', all);
  return _n('{count} set, {looked} looked at', '{count} sets, {looked} looked at', all, { looked });
}

/** @param {number} count */
export const countSets = (count) => _n('{count} set', '{count} sets', count);

/** Begins a lot, and goes to where its sets are added. */
export async function beginLot() {
  const name = _('Lot of {day}', { day: sayDay(localDay(new Date())) });
  location.hash = `#/lot/${await newLot(name)}/add`;
}
