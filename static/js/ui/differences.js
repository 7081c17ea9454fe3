/** What two devices found differently without knowing of each other: both are shown, and one tap chooses. */
import { _ } from '../language.js';
import { letStand } from '../store/choosing.js';
import { openSet } from '../store/notebook.js';
import { prepareFor } from '../store/packs.js';
import { h } from './element.js';
import { findingWords, whoWhen } from './finding_words.js';
import { notice } from './notices.js';

/**
 * @param {import('../store/history.js').Difference[]} found
 * @param {{named?: boolean, linked?: boolean}} [more] `named` says which set each is of, `linked` leads to its history
 * @returns {Promise<HTMLElement | null>}
 */
export async function differencesCard(found, { named = false, linked = true } = {}) {
  if (found.length === 0) return null;
  const parts = await Promise.all(found.map((difference) => onePart(difference, named, linked)));
  return h('section', { class: 'card differs', 'aria-label': _('Two devices differ') },
    h('h2', { tabindex: -1 }, found.length === 1 ? _('Two devices differ') : _('Two devices differ in {count} places', { count: found.length })),
    h('p', { class: 'help' }, _('Each was found without knowing of the other. The later one counts until you choose; the other stays in the history.')), ...parts);
}

async function onePart({ kind, record, set, heads }, named, linked) {
  const foundSet = set ? await openSet(set) : null;
  const pack = foundSet && (await prepareFor(foundSet.base.family, foundSet.base.model_sheet).catch(() => null))?.pack;
  const [what] = findingWords(pack, heads[0]);
  const address = set ? set : `${kind}/${record}`;
  const title = named && set ? foundSet?.get('title') || pack?.name || _('A set that is not here') : '';
  return h('div', { class: 'difference', role: 'group', 'aria-label': [title, what].filter(Boolean).join(', ') },
    h('h3', {}, title && h('a', { href: `#/set/${set}` }, title), title && ': ', what),
    ...heads.map((operation, index) => oneHead(operation, heads, pack, what, index === 0)),
    linked && h('a', { class: 'fine', href: `#/history/${address}` }, _('History')));
}

function oneHead(operation, heads, pack, what, standing) {
  const said = findingWords(pack, operation, heads)[1];
  return h('div', { class: 'head-choice' },
    h('p', {}, h('strong', {}, said), h('span', { class: 'fine' }, [whoWhen(operation), standing && _('counts now')].filter(Boolean).join(' · '))),
    h('button', { class: 'button', 'aria-label': _('{what}: let “{said}” stand', { what, said }), onclick: () => choose(operation, `${what}: ${said}`) }, _('Let this stand')));
}

async function choose(operation, said) {
  try {
    await letStand(operation);
    notice('differs', _('{what} stands now.', { what: said }), { passing: true });
    window.dispatchEvent(new Event('underchassis-changed'));
    // The next one, or the page itself once there is none.
    setTimeout(() => /** @type {HTMLElement | null} */ (document.querySelector('.differs h2') ?? document.querySelector('.top h1'))?.focus(), 300);
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
}
