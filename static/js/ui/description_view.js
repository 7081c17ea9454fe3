/** A description as a page shows it, on the screen and on paper; each sentence leads to what it rests on. */
import { assetUrl } from '../store/packs.js';
import { pictureOf } from '../store/photos.js';
import { h, svg } from './element.js';

/**
 * @param {import('./describing.js').View} view
 * @param {{walk: string, faces: HTMLElement[], photos: import('../store/photos.js').Photo[]}} beside `walk`: address of the set's walk round
 * @returns {HTMLElement[]}
 */
export function descriptionView(view, { walk, faces, photos }) {
  const { pack } = view;
  const { words } = pack;
  const paragraph = (sentences) => h('p', {}, ...sentences.flatMap((sentence, index) => [index > 0 && ' ', sentencePart(pack, sentence, walk)]));
  return [
    h('section', { class: 'card told-short' }, h('h2', {}, words['heading-short']), paragraph(view.short)),
    view.words.trim() && h('section', { class: 'card own-words' }, h('h2', {}, words['heading-own-words']), h('blockquote', {}, view.words), h('p', { class: 'fine' }, words['words-apart'])),
    h('section', { class: 'told-cautions' }, h('h2', {}, words['heading-cautions']), ...view.cautions.map((row) => cautionPart(pack, row))),
    ...view.sections.map(({ id, heading, paragraphs }) => h('section', { class: 'told' }, h('h2', {}, heading), ...paragraphs.map(paragraph),
      ...id === 'holes' ? faces : [], id === 'price' && view.reasons.length > 0 && reasonsPart(view))),
    photos.length > 0 && h('section', { class: 'told' }, h('h2', {}, words['heading-photos']), h('div', { class: 'told-photos' }, ...photos.map((photo) => photoPart(pack, photo)))),
    h('p', { class: 'fine how-made' }, words['how-made']),
  ].filter(Boolean);
}

function sentencePart(pack, { text, about }, walk) {
  const check = about.find((name) => pack.checks.some((row) => row.id === name));
  return check ? h('a', { class: 'told-sentence', href: `${walk}/${check}` }, text) : h('span', {}, text);
}

function cautionPart(pack, { title, look, text, who, sign }) {
  return h('div', { class: 'caution' }, svg('svg', { class: 'sign', role: 'img', 'aria-label': pack.signs[sign].name }, svg('use', { href: `${assetUrl('icons/signs.svg')}#${sign}` })),
    h('div', {}, h('p', {}, h('strong', {}, `${title}.`)), h('p', { class: 'look' }, pack.words['caution-look'].replace('{look}', () => look)), h('p', {}, text), h('p', { class: 'who' }, who)));
}

const reasonsPart = ({ reasons, pack }) => h('table', { class: 'told-reasons' }, h('caption', {}, pack.words['reasons-lead']),
  h('tbody', {}, ...reasons.map(({ label, money }) => h('tr', {}, h('th', { scope: 'row' }, label), h('td', {}, money)))));

/** A photo as large as paper wants it, with what it shows. */
function photoPart(pack, photo) {
  const label = pack.checks.find((check) => photo.about === `check/${check.id}`)?.label ?? pack.words['photo-whole'];
  const image = /** @type {HTMLImageElement} */ (h('img', { alt: label }));
  pictureOf(photo.id).then((blob) => {
    image.src = URL.createObjectURL(blob ?? photo.thumb);
    image.onload = () => URL.revokeObjectURL(image.src);
  });
  return h('figure', {}, h('a', { href: `#/photo/${photo.id}` }, image), h('figcaption', {}, label));
}
