/** The history of a set, a lot, a sale or a model sheet: who found what and when, with what stood before. */
import { _ } from '../language.js';
import { letStand } from '../store/choosing.js';
import { differences, historyOf, historyOfRow } from '../store/history.js';
import { openSet } from '../store/notebook.js';
import { prepareFor } from '../store/packs.js';
import { differencesCard } from '../ui/differences.js';
import { h } from '../ui/element.js';
import { findingWords, whoWhen } from '../ui/finding_words.js';
import { notice } from '../ui/notices.js';
import { useStyle } from '../ui/style_sheet.js';

/** Rows shown at a time. */
const PAGE = 100;
/** Pages of the kinds whose address is another word. */
const BACK = { sheets: 'sheet', lots: 'lot' };
const STATES = { stands: () => '', replaced: () => _('replaced since'), differs: () => _('another device found otherwise') };

/**
 * @param {HTMLElement} main
 * @param {string[]} words id of a set; or the kind of another row, and the id of a row
 */
export async function showHistory(main, [first, second]) {
  const kind = second ? first : 'sets';
  const id = second ?? first;
  let most = PAGE;
  const refresh = async () => {
    const ofSet = kind === 'sets';
    const [foundSet, entries, found] = await Promise.all([ofSet ? openSet(id) : null, ofSet ? historyOf(id) : historyOfRow(kind, id), differences(), useStyle('backup')]);
    const pack = foundSet && (await prepareFor(foundSet.base.family, foundSet.base.model_sheet).catch(() => null))?.pack;
    const card = await differencesCard(found.filter((difference) => (ofSet ? difference.set === id : difference.record === id)), { linked: false });
    const more = h('button', { class: 'button', onclick: () => {
      most += PAGE;
      refresh();
    } }, _('Show earlier ones'));
    const name = ofSet ? foundSet?.get('title') || pack?.name || _('A set that is not in the notebook') : entries.length > 0 ? findingWords(null, entries[0])[0] : '';
    main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: ofSet ? `#/set/${id}` : `#/${BACK[kind] ?? kind}/${id}`, 'aria-label': _('Back') }, '‹'),
        h('div', {}, h('h1', { tabindex: -1 }, _('History')), h('p', { class: 'sub' }, name))),
      h('div', { class: 'page history' }, card,
        entries.length === 0 ? h('p', {}, foundSet ? _('Nothing was kept of it since the app keeps a history. What you enter from now on shows here.') : _('There is nothing of it on this device.'))
          : h('ol', { class: 'rows' }, ...entries.slice(0, most).map((entry, index) => row(pack, entry, entries[index + 1]))),
        entries.length > most && more));
    document.title = `${_('History')} · Underchassis`;
  };
  await refresh();
  return { refresh };
}

function row(pack, entry, before) {
  const [what, said] = findingWords(pack, entry, before?.record === entry.record ? [before] : []);
  const past = entry.state !== 'stands';
  return h('li', { class: `entry ${past ? 'past' : ''}` },
    h('div', {}, h('strong', {}, what), h('span', {}, said), h('span', { class: 'fine' }, [whoWhen(entry), STATES[entry.state]()].filter(Boolean).join(' · '))),
    past && entry.kind !== 'sets' && h('button', { class: 'button quiet', 'aria-label': _('Bring back: {what}, {said}', { what, said }), onclick: () => bringBack(entry, what) }, _('Bring back')));
}

async function bringBack(entry, what) {
  try {
    await letStand(entry);
    notice('history', _('{what}: the earlier finding stands again.', { what }), { passing: true });
    window.dispatchEvent(new Event('underchassis-changed'));
    setTimeout(() => /** @type {HTMLElement | null} */ (document.querySelector('.top h1'))?.focus(), 300);
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
}
