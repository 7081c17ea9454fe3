/** The faces that holes are drawn on, as people read them. Twin of webapp/pages/face_rows.py. */
import { _ } from '../language.js';
import { figure } from './money.js';
import { byId, row } from './rule_row.js';

/** One row for each face: its size and what it carries from the works; none before they came to this phone. @param {any} pack */
export const faceRows = (pack) => (pack.faces.drawn ?? []).map((found) => face(pack, found));

function face(pack, found) {
  const [width, height] = [figure(found.width_mm), figure(found.height_mm)];
  const { label } = byId(pack.holes.places, found.id);
  return row(`face.${found.id}`, label.charAt(0).toUpperCase() + label.slice(1), [
    found.twice ? _('{width} by {height} mm, drawn twice: {names}.', { width, height, names: found.twice.join(', ') }) : _('{width} by {height} mm.', { width, height }),
    _('From the works: {features}.', { features: found.features.map(feature).join('; ') }),
  ], found);
}

function feature({ label, round_mm: round, box_mm: box }) {
  return round ? `${label}, ${figure(round)} mm` : _('{feature}, {width} by {height} mm', { feature: label, width: figure(box[0]), height: figure(box[1]) });
}
