/** The key as words and as a symbol, shown when asked for, and printed on a sheet. */
import { _ } from '../language.js';
import { localDay } from '../store/found_set.js';
import { wordsOf } from '../sync/key.js';
import { keyPicture } from '../sync/membership.js';
import { h } from './element.js';
import { sayDay } from './sale_words.js';

/** @param {() => Promise<string>} keyNow the key that counts when it is shown */
export function keyPart(keyNow) {
  const place = h('div', { class: 'key-sheet' });
  const button = h('button', { class: 'button', 'aria-expanded': 'false', onclick: async () => {
    const opening = place.childElementCount === 0;
    button.setAttribute('aria-expanded', String(opening));
    button.textContent = opening ? _('Hide the key') : _('Show the key');
    place.replaceChildren(...(opening ? await sheet(await keyNow()) : []));
  } }, _('Show the key'));
  return h('div', {}, button, place);
}

async function sheet(key) {
  const [words, symbol] = await Promise.all([wordsOf(key).catch(() => null), symbolPart()]);
  const today = sayDay(localDay(new Date()));
  return [h('h3', {}, _('Key of an Underchassis notebook')), h('p', {}, _('On {address}, shown on {day}. Once the key is replaced, this sheet opens nothing: throw it away then.', { address: location.origin, day: today })),
    words ? h('ol', { class: 'key-words', 'aria-label': _('Twelve words') }, ...words.map((word) => h('li', {}, word)))
      : h('p', {}, _('The list of words is not on this device yet; it needs a signal once.')),
    symbol,
    h('p', {}, _('On the second device: point its camera at the symbol, or open this address there, choose “Keeping, exporting, about”, then “Second device and backup”, and type the twelve words.')),
    h('p', {}, _('Keep it as you keep a house key. Whoever has it can read and change the notebook, and nobody can make it anew. Who runs the server can read what is kept there, too.')),
    h('button', { class: 'button', onclick: () => window.print() }, _('Print this sheet'))];
}

async function symbolPart() {
  try {
    const address = URL.createObjectURL(new Blob([await keyPicture()], { type: 'image/svg+xml' }));
    return h('img', { class: 'key-symbol', src: address, alt: _('The key as a QR symbol'), onload: () => URL.revokeObjectURL(address) });
  } catch (problem) {
    return h('p', { class: 'fine' }, _('The symbol needs a signal once: {why} The words do as well.', { why: problem.message }));
  }
}
