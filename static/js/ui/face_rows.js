/** The faces that holes are drawn on, as people read them. Twin of webapp/pages/face_rows.py. */
import { figure } from './money.js';
import { byId, row } from './rule_row.js';

/** One row for each face: its size and what it carries from the works; none before they came to this phone. @param {any} pack */
export const faceRows = (pack) => (pack.faces.drawn ?? []).map((found) => face(pack, found));

function face(pack, found) {
  const size = `${figure(found.width_mm)} by ${figure(found.height_mm)} mm`;
  const { label } = byId(pack.holes.places, found.id);
  return row(`face.${found.id}`, label.charAt(0).toUpperCase() + label.slice(1), [
    found.twice ? `${size}, drawn twice: ${found.twice.join(', ')}.` : `${size}.`,
    `From the works: ${found.features.map(feature).join('; ')}.`,
  ], found);
}

function feature({ label, round_mm: round, box_mm: box }) {
  return round ? `${label}, ${figure(round)} mm` : `${label}, ${figure(box[0])} by ${figure(box[1])} mm`;
}
