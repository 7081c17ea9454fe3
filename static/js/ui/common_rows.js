/**
 * The rows that belong to no family as people read them. Twin of webapp/pages/common_rows.py. A table that has not
 * come to this phone yet stays empty.
 */
import { _ } from '../language.js';
import { figure } from './money.js';
import { designationTables, holeTables, tubeRows } from './reference_rows.js';
import { names } from './rule_figures.js';
import { row, table } from './rule_row.js';

/** The tables that every pack carries alike. @param {any} pack */
export function commonTables(pack) {
  return [
    table('cautions', _('Cautions'), pack.cautions.filter(({ basis }) => basis).map((found) => caution(pack, found))),
    table('signs', _('Safety signs'), Object.values(pack.signs).map((sign) => row(`sign.${sign.id}`, sign.id, [`${sign.name}.`], sign))),
    table('services', _('Services and their finishes'), pack.services.map((found) => service(pack, found))),
    table('bands', _('Amateur bands'), Object.values(pack.band_rows).map(band)),
    table('index', _('What money bought, by year'), indexRows(pack)),
    ...designationTables(pack.nomenclature),
    ...holeTables(pack.component_holes),
    table('scale', _('Things of known size'), scaleRows(pack.scale_objects)),
    table('measuring', _('Measuring in photos'), Object.values(pack.measuring.rows ?? {}).map((found) => constant(found, 'measuring'))),
    table('tubes', _('Tube numbers'), tubeRows(pack.tube_numbers)),
    table('constants', _('Fixed numbers of the arithmetic'), Object.values(pack.constant_rows).map((found) => constant(found, 'constant'))),
  ];
}

function caution(pack, found) {
  return row(`caution.${found.id}`, found.title, [
    _('Look for: {signs}', { signs: found.look }), found.text, found.who, _('Sign {sign}: {name}.', { sign: found.sign, name: pack.signs[found.sign].name }),
    found.standing && _('Shown before the first check.'),
  ], found);
}

function service(pack, found) {
  const finishes = found.finishes.map((id) => pack.finishes.find((finish) => finish.id === id));
  return row(`service.${found.id}`, found.label, [
    _('Ordered: {finishes}.', { finishes: names(finishes.map((finish) => finish.label)) }),
    found.words.length > 0 && _('Also called: {words}.', { words: names(found.words) }),
    ...finishes.map(({ label, words }) => words.length > 0 && _('{finish}: also {words}.', { finish: label, words: names(words) })),
  ], found);
}

function band(found) {
  return row(`band.${found.id}`, found.name, [_('{from} to {to} kHz.', { from: figure(found.from_khz), to: figure(found.to_khz) })], found, _('Region {region}', { region: found.region }));
}

function indexRows({ index_series: series, index, index_years: years }) {
  const months = Object.entries(index);
  return [
    ...(series.basis ? [row('index', _('The index'), [`${series.name}.`, _('Used for {currency} only.', { currency: series.currency })], series)] : []),
    ...Object.values(years).map((year) => {
      const values = months.filter(([month]) => month.startsWith(`${year.id}-`)).map(([month, value]) => `${month.slice(5)}: ${figure(value)}`);
      return row(`year.${year.id}`, year.id, [_('By month: {values}.', { values: values.join(', ') })], year, _('Years'));
    }),
  ];
}

function scaleRows({ cards = [], coins = [] }) {
  return [
    ...cards.map((card) => row(`card.${card.id}`, card.label, [
      _('{width} by {height} mm.', { width: figure(card.width_mm), height: figure(card.height_mm) }),
      _('{thick} mm thick, corners rounded to {corner} mm.', { thick: figure(card.thick_mm), corner: figure(card.corner_mm) }),
    ], card)),
    ...coins.map((coin) => row(`coin.${coin.id}`, coin.label, [`${figure(coin.diameter_mm)} mm.`], coin)),
  ];
}

function constant(found, name) {
  return row(`${name}.${found.id}`, found.id.replaceAll('_', ' '), [`${figure(found.value)}.`], found);
}
