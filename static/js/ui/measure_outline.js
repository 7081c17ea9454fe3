/** The outline that a person places around the thing of known size: where its handles begin, and in which order they count. */
import { _ } from '../language.js';

/** @typedef {[number, number]} Point @typedef {{kind: string, id?: string, side_mm?: number}} Choice */

/** Points on a coin's rim. */
const RIM = 6;

/**
 * Where handles begin: in the middle of the photo, large enough to take hold of.
 * @param {string} kind @param {number} width @param {number} height of the photo @returns {Point[]}
 */
export function firstHandles(kind, width, height) {
  const side = 0.32 * Math.min(width, height);
  const [x, y] = [width / 2, height / 2];
  if (kind === 'coin') return [...Array.from({ length: RIM }, (none, k) => onCircle(x, y, side / 2, k)), [x, y]];
  const half = kind === 'card' ? 0.8 * side : side / 2;
  return [[x - half, y - side / 2], [x + half, y - side / 2], [x + half, y + side / 2], [x - half, y + side / 2]];
}

const onCircle = (x, y, radius, k) => /** @type {Point} */ ([x + radius * Math.cos(2 * Math.PI * k / RIM), y + radius * Math.sin(2 * Math.PI * k / RIM)]);

/** What each handle is, for who cannot see it. @param {string} kind @returns {string[]} */
export const handleNames = (kind) => (kind === 'coin'
  ? [...Array.from({ length: RIM }, (none, k) => _('Rim point {number} of {all}', { number: k + 1, all: RIM })), _('The whole coin')]
  : [1, 2, 3, 4].map((number) => _('Corner {number} of 4', { number })));

/**
 * Handles after one was moved: the middle one of a coin takes the others along, and always lies amid them.
 * @param {string} kind @param {Point[]} handles @param {number} index @param {Point} to
 * @returns {Point[]}
 */
export function movedHandle(kind, handles, index, to) {
  if (kind !== 'coin') return handles.with(index, to);
  const [dx, dy] = [to[0] - handles[index][0], to[1] - handles[index][1]];
  if (index === RIM) return handles.map(([x, y]) => [x + dx, y + dy]);
  const rim = handles.slice(0, RIM).with(index, to);
  return [...rim, middleOf(rim)];
}

/** The points that count: a coin's rim; corners going round, those of a card beginning with a long side. @param {string} kind @param {Point[]} handles @returns {Point[]} */
export function countingPoints(kind, handles) {
  if (kind === 'coin') return handles.slice(0, RIM);
  const [x, y] = middleOf(handles);
  const round = [...handles].sort((one, other) => Math.atan2(one[1] - y, one[0] - x) - Math.atan2(other[1] - y, other[0] - x));
  return kind === 'card' && side(round, 0) + side(round, 2) < side(round, 1) + side(round, 3) ? [...round.slice(1), round[0]] : round;
}

/** Handles as they lie on an outline that was kept. @param {string} kind @param {Point[]} points @returns {Point[]} */
export const handlesOf = (kind, points) => (kind === 'coin' ? [...points, middleOf(points)] : points);

const side = (corners, i) => Math.hypot(corners[i][0] - corners[(i + 1) % 4][0], corners[i][1] - corners[(i + 1) % 4][1]);

/** @param {Point[]} points @returns {Point} */
export const middleOf = (points) => [0, 1].map((axis) => points.reduce((sum, point) => sum + point[axis], 0) / points.length);

/**
 * What a choice measures, in millimetres; null while it is not said whole.
 * @param {Choice} choice @param {any} objects the table of things of known size @param {Record<string, number>} settings
 * @returns {{size_mm: [number, number], thick_mm: number} | null}
 */
export function sizeOf(choice, { cards, coins }, settings) {
  const { kind, id, side_mm: sideMm } = choice;
  const card = kind === 'card' && cards.find((row) => row.id === id);
  if (card) return { size_mm: [card.width_mm, card.height_mm], thick_mm: card.thick_mm };
  const coin = kind === 'coin' && coins.find((row) => row.id === id);
  if (coin) return { size_mm: [coin.diameter_mm, coin.diameter_mm], thick_mm: settings.coin_thick_mm };
  return kind === 'label' && sideMm ? { size_mm: [sideMm, sideMm], thick_mm: 0 } : null;
}
