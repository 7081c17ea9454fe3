/** What a typed text says: a nameplate, an order number, a serial, the stamps; and what sat in a hole. */
import { holeCandidates, sentence, toleranceOf } from '../kernel/hole_candidates.js';
import { orderYear, readNameplate } from '../kernel/nameplate.js';
import { _ } from '../language.js';
import { basisWords } from './basis_words.js';
import { h } from './element.js';

/**
 * What the text in a field says, renewed as it is typed.
 * @param {any} pack
 * @param {string} asks what the check asks for
 * @param {HTMLInputElement} input
 */
export function reading(pack, asks, input) {
  const place = h('div', { class: 'reading', role: 'status' });
  const show = () => place.replaceChildren(...lines(pack, asks, input.value));
  input.addEventListener('input', show);
  show();
  return place;
}

function lines(pack, asks, text) {
  if (text.trim() === '') return [];
  if (asks === 'order') return [h('p', {}, orderYear(pack.nomenclature, text).sentence)];
  if (asks !== 'nameplate') return [];
  const { families, shown } = plateReading(pack.nomenclature, text);
  const other = families.length > 0 && !families.includes(pack.family);
  return other ? [h('p', { class: 'wrong' }, _('This plate names another kind of radio than the one chosen.')), ...shown] : shown;
}

/** A nameplate letter by letter, and the families it names. @returns {{families: string[], shown: Node[]}} */
export function plateReading(nomenclature, text) {
  const plate = readNameplate(nomenclature, text);
  const shown = [
    h('p', {}, plate.sentence),
    plate.lines.length > 0 && h('dl', { class: 'plate' }, ...plate.lines.flatMap((line) => [
      h('dt', {}, line.piece),
      h('dd', {}, line.says, line.period && h('small', {}, ` ${line.period}`), line.note && h('small', {}, ` ${line.note}`),
        line.basis && h('small', { class: 'basis' }, ` ${basisWords(line.basis)}`)),
    ])),
  ].filter(Boolean);
  return { families: plate.families, shown };
}

/** What stamps tell that are met where a check asks for them. */
export function stampReading(pack, checkId) {
  const stamps = pack.nomenclature.stamps.filter((stamp) => stamp.check === checkId);
  return h('details', { class: 'reading' }, h('summary', {}, _('What a stamp tells')),
    h('dl', {}, ...stamps.flatMap(({ label, tells, basis }) => [h('dt', {}, h('strong', {}, label)), h('dd', {}, tells, h('small', {}, ` ${basisWords(basis)}`))])));
}

/** What probably sat in a hole of the list. */
export function holeReading(pack, hole) {
  const table = pack.component_holes;
  // A photo says itself how far off it may be.
  const tolerance = hole.plus_minus_mm ?? (hole.by_eye ? halfClass(pack, hole) : toleranceOf(table, 'tape'));
  return h('p', { class: 'reading' }, sentence(table, hole.diameter_mm, holeCandidates(table, hole.diameter_mm, tolerance)));
}

/** A hole taken by eye lies anywhere in its class. */
function halfClass(pack, hole) {
  const { sizes } = pack.holes.places.find((row) => row.id === hole.place);
  const at = sizes.findIndex((size) => size.up_to_mm === null || hole.diameter_mm <= size.up_to_mm);
  const from = sizes[at - 1]?.up_to_mm ?? 0;
  return Math.abs(hole.diameter_mm - (sizes[at].up_to_mm ?? 2 * hole.diameter_mm - from));
}
