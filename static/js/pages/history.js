/** The history of a set: who found what and when, with what stood before. */
import { letStand } from '../store/choosing.js';
import { differencesOf, historyOf } from '../store/history.js';
import { openSet } from '../store/notebook.js';
import { prepareFor } from '../store/packs.js';
import { differencesCard } from '../ui/differences.js';
import { h } from '../ui/element.js';
import { findingWords, whoWhen } from '../ui/finding_words.js';
import { notice } from '../ui/notices.js';
import { useStyle } from '../ui/style_sheet.js';

/** Rows shown at a time. */
const PAGE = 100;
const STATES = { stands: '', replaced: 'replaced since', differs: 'another device found otherwise' };

/** @param {HTMLElement} main @param {string} id */
export async function showHistory(main, id) {
  let most = PAGE;
  const refresh = async () => {
    const [foundSet, entries, found] = await Promise.all([openSet(id), historyOf(id), differencesOf(id), useStyle('backup')]);
    const pack = foundSet && (await prepareFor(foundSet.base.family, foundSet.base.model_sheet).catch(() => null))?.pack;
    const more = h('button', { class: 'button', onclick: () => {
      most += PAGE;
      refresh();
    } }, 'Show earlier ones');
    main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: foundSet ? `#/set/${id}` : '#/', 'aria-label': 'Back' }, '‹'),
        h('div', {}, h('h1', {}, 'History'), h('p', { class: 'sub' }, foundSet?.get('title') || pack?.name || 'A set that is not on this device'))),
      h('div', { class: 'page history' }, differencesCard(found, () => pack),
        entries.length === 0 ? h('p', {}, 'Nothing has been kept of it since the app keeps a history. What you enter from now on shows here.')
          : h('ol', { class: 'rows' }, ...entries.slice(0, most).map((entry) => row(pack, entry))),
        entries.length > most && more));
    document.title = 'History · Underchassis';
  };
  await refresh();
  return { refresh };
}

function row(pack, entry) {
  const [what, said] = findingWords(pack, entry);
  const past = entry.state !== 'stands';
  return h('li', { class: `entry ${past ? 'past' : ''}` },
    h('div', {}, h('strong', {}, what), h('span', {}, said), h('span', { class: 'fine' }, [whoWhen(entry), STATES[entry.state]].filter(Boolean).join(' · '))),
    past && entry.kind !== 'sets' && h('button', { class: 'button quiet', 'aria-label': `Bring back: ${what}, ${said}`, onclick: () => bringBack(entry, what) }, 'Bring back'));
}

async function bringBack(entry, what) {
  try {
    await letStand(entry);
    notice('history', `${what}: the earlier finding stands again.`);
    window.dispatchEvent(new Event('underchassis-changed'));
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
}
