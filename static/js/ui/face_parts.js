/** The pieces of a drawn face: its outline, what it carries from the works, its holes, a scale. One unit is a millimetre. */
import { _ } from '../language.js';
import { svg } from './element.js';
import { length, lengthFigure, unitInMm } from './habits.js';
import { faceSize, roundLength } from './hole_view.js';

/** Of letters on the screen, in pixels. */
const LETTERS = 11;
/** A letter's usual width as a share of its height. */
const LETTER = 0.56;

/**
 * The face as it left the works.
 * @param {any} face
 * @param {number} pixel its size in mm
 */
export function faceParts(face, pixel) {
  const { width, height } = faceSize(face);
  const both = face.features.flatMap((feature) => [
    feature, ...(face.twice ? [{ ...feature, at_mm: [width - feature.at_mm[0], feature.at_mm[1]] }] : []),
  ]);
  return [
    svg('rect', { class: 'face-sheet', width, height, rx: 2 }),
    face.twice && svg('path', { class: 'face-fold', d: `M${face.width_mm} 0V${height}` }),
    ...both.map((feature) => featurePart(feature, pixel)),
    ...(face.twice ?? []).map((words, index) => svg('text', {
      class: 'face-words', x: face.width_mm * (index + 0.5), y: -4 * pixel, 'font-size': (LETTERS + 1) * pixel,
    }, words)),
  ].filter(Boolean);
}

function featurePart({ label, at_mm: [x, y], round_mm: round, box_mm: box }, pixel) {
  const [width, height] = box ?? [round, round];
  const shape = round ? svg('circle', { cx: x, cy: y, r: round / 2 })
    : svg('rect', { x: x - width / 2, y: y - height / 2, width, height, rx: Math.min(width, height) / 10 });
  const size = LETTERS * pixel;
  const lines = fitted(label, round ? width * 0.86 : width * 0.96, height * (round ? 0.7 : 1), size);
  return svg('g', { class: 'face-feature' }, svg('title', {}, label), shape, ...lines.map((line, index) => svg('text', {
    class: 'face-words', x, y: y + (index - (lines.length - 1) / 2) * size * 1.1 + size * 0.35, 'font-size': size,
  }, line)));
}

/** A label in lines that fit, or none when it would not be read. */
function fitted(label, width, height, size) {
  const fits = (line) => line.length * LETTER * size <= width;
  const lines = [];
  for (const word of label.split(' ')) {
    const longer = `${lines.at(-1) ?? ''} ${word}`.trim();
    if (lines.length > 0 && fits(longer)) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines.every(fits) && lines.length * size * 1.1 <= height ? lines : [];
}

/**
 * A hole to scale, with its number beside it; one too small to be seen has a ring.
 * @param {{x_mm: number, y_mm: number, diameter_mm?: number, as_found?: string}} hole
 * @param {number | string} number
 * @param {number} pixel
 */
export function holeParts({ x_mm: x, y_mm: y, diameter_mm: diameter = 0, as_found: found }, number, pixel) {
  const r = diameter / 2;
  const ring = Math.max(r, 5 * pixel);
  return [
    svg('circle', { class: `hole-mark ${found ?? ''}`, cx: x, cy: y, r: Math.max(r, pixel) }),
    r < 5 * pixel && svg('circle', { class: 'hole-ring', cx: x, cy: y, r: ring }),
    found === 'plugged' && svg('path', { class: 'hole-cross', d: cross(x, y, Math.max(r, 3 * pixel) * 0.7) }),
    found === 'enlarged' && svg('circle', { class: 'hole-ring', cx: x, cy: y, r: ring + 3 * pixel }),
    svg('text', { class: 'hole-number', x: x + ring * 0.75 + 3 * pixel, y: y - ring * 0.75 - pixel, 'font-size': 14 * pixel }, String(number)),
  ].filter(Boolean);
}

const cross = (x, y, r) => `M${x - r} ${y - r}L${x + r} ${y + r}M${x - r} ${y + r}L${x + r} ${y - r}`;

/** How large the face is drawn, to the left of a point. @param {any} face @param {number} x @param {number} y @param {number} pixel */
export const sizePart = (face, x, y, pixel) => svg('text', { class: 'face-size', x, y, 'font-size': (LETTERS + 1) * pixel }, faceWords(face));

/** The size of a face in words. @param {any} face */
export function faceWords(face) {
  const { width_mm: width, height_mm: height, twice } = face;
  const size = `${lengthFigure(width)} × ${length(height)}`;
  return twice ? _('each {size}', { size }) : size;
}

/** A length to hold against it, from its left end. @param {number} x @param {number} y @param {number} most the longest that fits @param {number} pixel */
export function scalePart(x, y, most, pixel) {
  const long = roundLength(most / unitInMm()) * unitInMm();
  const tick = 4 * pixel;
  return svg('g', { class: 'face-scale' },
    svg('path', { d: `M${x} ${y - tick}V${y}H${x + long}V${y - tick}` }),
    svg('text', { class: 'face-words', x: x + long + 5 * pixel, y, 'font-size': (LETTERS + 1) * pixel }, length(long)));
}
