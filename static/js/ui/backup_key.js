/** The key as words and as a symbol, shown when asked for, and printed on a sheet. */
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
    button.textContent = opening ? 'Hide the key' : 'Show the key';
    place.replaceChildren(...(opening ? await sheet(await keyNow()) : []));
  } }, 'Show the key');
  return h('div', {}, button, place);
}

async function sheet(key) {
  const [words, symbol] = await Promise.all([wordsOf(key).catch(() => null), symbolPart()]);
  const today = sayDay(localDay(new Date()));
  return [h('h3', {}, 'Key of an Underchassis notebook'), h('p', {}, `On ${location.origin}, shown on ${today}. Once the key is replaced, this sheet opens nothing: throw it away then.`),
    words ? h('ol', { class: 'key-words', 'aria-label': 'Twelve words' }, ...words.map((word) => h('li', {}, word)))
      : h('p', {}, 'The list of words is not on this device yet; it needs a signal once.'),
    symbol,
    h('p', {}, 'On the second device: point its camera at the symbol, or open this address there, choose “Keeping, exporting, about”, then “Second device and backup”, and type the twelve words.'),
    h('p', {}, 'Keep it as you keep a house key. Whoever has it can read and change the notebook, and nobody can make it anew. Who runs the server can read what is kept there, too.'),
    h('button', { class: 'button', onclick: () => window.print() }, 'Print this sheet')];
}

async function symbolPart() {
  try {
    const address = URL.createObjectURL(new Blob([await keyPicture()], { type: 'image/svg+xml' }));
    return h('img', { class: 'key-symbol', src: address, alt: 'The key as a QR symbol', onload: () => URL.revokeObjectURL(address) });
  } catch (problem) {
    return h('p', { class: 'fine' }, `The symbol needs a signal once: ${problem.message} The words do as well.`);
  }
}
