/** A seller's page that was scanned: what it is, and the offer to make a copy of its claims. */
import { claims } from '../kernel/claims.js';
import { readFindings } from '../kernel/findings.js';
import { numbers } from '../kernel/numbers.js';
import { _, _n } from '../language.js';
import { askingOf, copyOf, fitted, makeCopy } from '../store/claims.js';
import { readShare } from '../store/share_reading.js';
import { askPersistence } from '../sync/persistence.js';
import { askForPage, isToken, pageOf } from '../sync/shared_page.js';
import { askedWords, asideWords, dayWords } from '../ui/claim_page.js';
import { h } from '../ui/element.js';
import { notice } from '../ui/notices.js';
import { savingMark } from '../ui/saving_mark.js';

/**
 * @param {HTMLElement} main
 * @param {string} token of the page
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showNewClaims(main, token) {
  const card = h('section', { class: 'card' });
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Notebook') }, '‹'), h('h1', {}, _('A seller’s page'))),
    h('div', { class: 'page' }, card));
  document.title = `${_('A seller’s page')} · Underchassis`;
  window.scrollTo(0, 0);
  // Whoever does not want to wait for the server goes elsewhere meanwhile, so nothing waits for it here.
  ask(card, token);
  return { refresh: async () => {} };
}

async function ask(card, token) {
  card.replaceChildren(h('p', { role: 'status' }, _('Asking for the page…')));
  try {
    card.replaceChildren(...(await parts(token)).filter(Boolean));
  } catch (problem) {
    const again = isToken(token) && h('button', { class: 'button', onclick: () => ask(card, token) }, _('Try again'));
    card.replaceChildren(h('p', { role: 'alert' }, problem.message), h('div', { class: 'links' }, again, h('a', { class: 'button', href: '#/' }, _('To the notebook'))));
  }
}

async function parts(token) {
  if (!isToken(token)) throw new Error(_('This link is not whole. Scan the tag once more, or ask the seller for the link.'));
  const from = pageOf(token);
  const copy = await copyOf(from);
  if (copy) return known(copy);
  const share = readShare(await askForPage(token), from);
  return offer(share, await fitted(share));
}

/** The copy that there is. */
function known(copy) {
  return [h('h2', {}, copy.get('title')), h('p', {}, _('You made a copy of this page already, as it was on {day}; your own answers are in it.', { day: dayWords(copy.get('claims').written) })),
    h('a', { class: 'button strong', href: `#/claims/${copy.base.id}` }, _('Open my copy'))];
}

async function offer({ claims: copied, setAside }, tables) {
  const { prepared, note } = tables;
  const { pack } = prepared;
  const { findings: told, setAside: unknown } = readFindings(copied.findings, prepared);
  const empty = readFindings({}, prepared).findings;
  const count = claims(prepared, numbers(prepared, empty), empty, told).claims.length;
  const asking = await askingOf(copied, pack);
  const aside = asideWords([...setAside, ...unknown]);
  const button = h('button', { class: 'button strong', onclick: () => make(copied, tables, button) }, _('Make my copy'));
  return [
    h('h2', {}, copied.title.trim() || pack.name),
    h('p', {}, [copied.title.includes(pack.name) ? '' : `${pack.name}.`, _n('The seller tells of {count} thing.', 'The seller tells of {count} things.', count), _('Written on {day}.', { day: dayWords(copied.written) }), askedWords(copied, pack)].filter(Boolean).join(' ')),
    copied.asked && asking === null && h('p', {}, _('Your notebook reckons in another currency, so the asking price is left for you to type.')),
    note && h('p', {}, note),
    aside && h('p', { class: 'fine' }, aside),
    h('p', { class: 'help' }, _('A copy of what the seller claims goes into your notebook, with none of your own answers yet. The seller’s page stays as it is, and nothing is sent.')),
    button,
  ];
}

/** Makes the copy and opens it once it is on disk. */
async function make(copied, tables, button) {
  button.disabled = true;
  const making = makeCopy(copied, tables);
  savingMark(button, making.then(() => undefined));
  try {
    const id = await making;
    askPersistence();
    // In the place of this page: going back leads to where the tag was scanned.
    location.replace(`#/claims/${id}`);
  } catch (problem) {
    button.disabled = false;
    notice('save', problem.message, { kind: 'bad' });
  }
}
