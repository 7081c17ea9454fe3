/** A face with its holes to scale, to be looked at and printed: numbered, with a legend. */
import { _, _n } from '../language.js';
import { h, svg } from './element.js';
import { faceParts, faceWords, holeParts, scalePart } from './face_parts.js';
import { faceSize } from './hole_view.js';
import { leftWord, measuredWords, placeLabel, sizeWords, spotWords } from './hole_words.js';

/** How wide a drawing is on the smallest screen, in pixels; letters are sized for it. */
const SMALLEST = 320;

/**
 * The faces on which holes were placed, each with its legend, and the holes that were not placed in words.
 * @param {any} pack with the reasons laid over it
 * @param {import('../store/hole_list.js').Hole[]} holes
 * @returns {HTMLElement[]} none when no hole was placed
 */
export function faceDrawings(pack, holes) {
  const listed = holes.map((hole, index) => ({ hole, number: index + 1 }));
  const placed = listed.filter(({ hole }) => hole.x_mm !== undefined);
  const faces = pack.faces.drawn.map((face) => ({ face, on: placed.filter(({ hole }) => hole.place === face.id) })).filter(({ on }) => on.length > 0);
  const rest = listed.filter((row) => !faces.some(({ on }) => on.includes(row)));
  return faces.length === 0 ? [] : [...faces.map(({ face, on }) => faceFigure(pack, face, on)), ...notPlaced(pack, rest)];
}

/** The same in words, for a text. @param {any} pack @param {import('../store/hole_list.js').Hole[]} holes @returns {{label: string, rows: string[]}[]} */
export function facesInWords(pack, holes) {
  return pack.faces.drawn.map((face) => ({ face, on: holes.filter((hole) => hole.place === face.id && hole.x_mm !== undefined) }))
    .filter(({ on }) => on.length > 0)
    .map(({ face, on }) => ({ label: placeLabel(pack, face.id), rows: on.map((hole) => `${sizeWords(hole)}${leftWords(hole) || ', open'}; ${spotWords(face, hole)}`) }));
}

function faceFigure(pack, face, on) {
  const label = placeLabel(pack, face.id);
  return h('figure', { class: 'face-figure' },
    h('figcaption', {}, h('strong', {}, `${label.charAt(0).toUpperCase()}${label.slice(1)}`), h('span', { class: 'fine' }, ' ', _('as drawn, {size}', { size: faceWords(face) }))),
    still(face, on, label),
    h('ul', { class: 'face-legend' }, ...on.map(({ hole, number }) => h('li', {}, h('strong', {}, `${number}`), h('span', {},
      `${sizeWords(hole)}, ${leftWord(hole)}, ${measuredWords(hole)}; ${spotWords(face, hole)}`)))));
}

function still(face, on, label) {
  const { width, height } = faceSize(face);
  const pixel = Math.max(width / SMALLEST, 0.3);
  const [margin, below] = [8 * pixel, 26 * pixel];
  const above = face.twice ? 20 * pixel : margin;
  return svg('svg', {
    class: 'face-still', viewBox: `${-margin} ${-above} ${width + 2 * margin} ${height + above + below}`, role: 'img',
    'aria-label': _n('{place} with {count} hole to scale; the list below has each.', '{place} with {count} holes to scale; the list below has each.', on.length, { place: label }),
  }, ...faceParts(face, pixel), ...on.flatMap(({ hole, number }) => holeParts(hole, number, pixel)),
  scalePart(0, height + below - 8 * pixel, width / 3, pixel));
}

function notPlaced(pack, rest) {
  const holes = rest.map(({ hole, number }) => _('hole {number} ({size}, {place})', { number, size: sizeWords(hole), place: placeLabel(pack, hole.place) })).join('; ');
  return rest.length > 0 ? [h('p', { class: 'fine' }, _('Not on the drawing: {holes}.', { holes }))] : [];
}
