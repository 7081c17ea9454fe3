/**
 * The key that opens a notebook on the server: 128 random bits, made on the device. As words by BIP 39: four bits of
 * SHA-256 follow the key, and each eleven bits are the place of a word in its English list.
 */
import { _, _n } from '../language.js';
import { assetUrl } from '../store/packs.js';

const BYTES = 16;
/** Bits of a word, and letters after which each word of the list is told from all others. */
const [BITS, TELLING] = [11, 4];

const hex = (bytes) => Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
const bytesOf = (key) => Uint8Array.from(key.match(/../g), (digits) => parseInt(digits, 16));

/** A new key, as 32 hexadecimal digits. */
export const newKey = () => hex(crypto.getRandomValues(new Uint8Array(BYTES)));

/** @param {string} text */
export const isKey = (text) => /^[0-9a-f]{32}$/.test(text);

let list = null;

/** @returns {Promise<string[]>} */
async function words() {
  list ??= fetch(assetUrl('key-words.json')).then((answer) => (answer.ok ? answer.json() : Promise.reject(new Error(_('The list of words is not on this phone yet.')))));
  return list.catch((problem) => {
    list = null;
    throw problem;
  });
}

/** @param {Uint8Array} bytes */
async function bitsOf(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  const bits = (of) => Array.from(of, (byte) => byte.toString(2).padStart(8, '0')).join('');
  return bits(bytes) + bits(digest).slice(0, bytes.length / 4);
}

/** The key's twelve words. @param {string} key @returns {Promise<string[]>} */
export async function wordsOf(key) {
  const [all, bits] = await Promise.all([words(), bitsOf(bytesOf(key))]);
  return bits.match(/.{11}/g).map((part) => all[parseInt(part, 2)]);
}

/**
 * The key of typed words, in either case, numbered or not; the first four letters of each will do.
 * @param {string} text
 * @returns {Promise<string>} rejects with a sentence
 */
export async function keyOf(text) {
  const all = await words();
  const typed = text.toLowerCase().match(/[a-z]+/g) ?? [];
  const count = (BYTES * 8 + BYTES / 4) / BITS;
  const places = typed.map((word, index) => {
    const place = all.indexOf(word);
    if (place >= 0) return place;
    const short = word.length >= TELLING ? all.findIndex((other) => other.startsWith(word)) : -1;
    if (short >= 0) return short;
    const near = all.find((other) => other.slice(0, 3) === word.slice(0, 3));
    const unknown = _('Word {place}, "{word}", is not one of the list.', { place: index + 1, word });
    throw new Error(near ? `${unknown} ${_('Was it "{near}"?', { near })}` : unknown);
  });
  if (places.length !== count) throw new Error(_n('A key has {needed} words; here is {count}.', 'A key has {needed} words; here are {count}.', places.length, { needed: count }));
  const bits = places.map((place) => place.toString(2).padStart(BITS, '0')).join('');
  const bytes = Uint8Array.from(bits.slice(0, BYTES * 8).match(/.{8}/g), (byte) => parseInt(byte, 2));
  if (await bitsOf(bytes) !== bits) throw new Error(_('These words do not belong together: one of them was misread, or two changed places. Compare them with the other device.'));
  return hex(bytes);
}
