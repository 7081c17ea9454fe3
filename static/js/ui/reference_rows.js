/**
 * The tables for plates, holes and tubes as people read them. Twin of webapp/pages/reference_rows.py. A table that
 * has not come to this phone yet stays empty.
 */
import { _ } from '../language.js';
import { figure } from './money.js';
import { inches, names } from './rule_figures.js';
import { row, table } from './rule_row.js';

/** What a type designation, a stamp and an order number say. */
export function designationTables({ letters = [], indicators = {}, grammar = [], stamps = [], order }) {
  const orders = order?.basis ? [row('order', _('Order numbers'), [
    _('The last two digits count as a year from {from} to {to}.', { from: order.from_year, to: order.to_year }),
    _('Words that stand before it: {words}.', { words: names(order.marks) }),
  ], order)] : [];
  return [
    table('letters', _('Type designations: letters'), letters.map((found) => row(`letter.${found.id}`, found.letter,
      [`${found.meaning}.`, _('When: {period}.', { period: found.period })], found, letterPlace(found)))),
    table('indicators', _('Type designations: units'), Object.values(indicators).map((found) => row(`indicator.${found.id}`, found.code,
      [`${found.meaning}.`], found))),
    table('grammar', _('Type designations: how they are written'), grammar.map((found) => row(`grammar.${found.id}`, found.form,
      [found.meaning, _('Such as {example}.', { example: found.example }), found.letters && _('Letters in their order: {letters}.', { letters: [...found.letters].join(', ') })], found))),
    table('stamps', _('Stamps and order numbers'), [
      ...stamps.map((found) => row(`stamp.${found.id}`, found.label, [found.tells], found)), ...orders,
    ]),
  ];
}

const letterPlace = (found) => ({
  installation: _('Place: installation'), equipment: _('Place: equipment'), purpose: _('Place: purpose'),
})[found.place];

/** What sits in a hole, and the charts of screws and drills. */
export function holeTables({ limits, components = [], tolerances = [], reference = {} }) {
  const { clearances = [], screws = [], shop_screws: shopScrews = [], drills = [] } = reference;
  return [
    table('components', _('What sits in a hole'), [
      ...components.map(component),
      ...tolerances.map((found) => row(`tolerance.${found.id}`, found.label, [_('Up to {mm} mm off.', { mm: figure(found.mm) })], found, _('Measuring'))),
      ...(limits ? [row('limits', _('Holes that can be entered'), [
        _('From {from} to {to} mm.', { from: figure(limits.smallest_mm), to: figure(limits.largest_mm) }), _('At most {count} parts are named.', { count: limits.named }),
      ], limits, _('Measuring'))] : []),
    ]),
    table('clearances', _('Holes for metric screws'), clearances.map((found) => row(`clearance.${found.id}`, found.thread,
      [_('Fine {fine}, medium {medium}, coarse {coarse} mm.', { fine: figure(found.fine_mm), medium: figure(found.medium_mm), coarse: figure(found.coarse_mm) })], found))),
    table('screws', _('Holes for inch screws'), screws.map((found) => row(`screw.${found.id}`, found.screw, [
      _('Close {close}, normal {normal}, loose {loose} mm; the screw itself {major}.',
        { close: figure(found.close_mm), normal: figure(found.normal_mm), loose: figure(found.loose_mm), major: inches(found.major_inch) }),
    ], found))),
    table('shop-screws', _('Inch screws, an older chart'), shopScrews.map((found) => row(`shop-screw.${found.id}`, found.screw, [
      _('Close: drill {drill}, {size}.', { drill: found.close_drill, size: inches(found.close_inch) }), _('Free: drill {drill}, {size}.', { drill: found.free_drill, size: inches(found.free_inch) }),
    ], found))),
    table('drills', _('Drills by number, letter and fraction'), drills.map((found) => row(`drill.${found.id}`, _('Drill {name}', { name: found.name }),
      [`${inches(found.inch)}.`], found))),
  ];
}

function component(found) {
  const { from_mm: low, to_mm: high } = found;
  return row(`component.${found.id}`, found.label, [
    low === high ? `${figure(low)} mm.` : _('{from} to {to} mm.', { from: figure(low), to: figure(high) }), found.extra, found.hint,
  ], found, componentKind(found));
}

const componentKind = (found) => ({
  jack: _('Kind: jack'), switch: _('Kind: switch'), control: _('Kind: control'), 'coaxial socket': _('Kind: coaxial socket'), 'tube socket': _('Kind: tube socket'),
  meter: _('Kind: meter'), 'fuse holder': _('Kind: fuse holder'), lamp: _('Kind: lamp'), grommet: _('Kind: grommet'), screw: _('Kind: screw'),
})[found.kind];

/** What a tube number says of the heater. */
export function tubeRows({ leads, not_used: unused, cathode_ray: ray, suffixes, older, industrial, power_classes: classes, letters, serials }) {
  if (!leads) return [];
  const later = _('Numbers with letters');
  const power = _('Numbers of 1942 to 1944');
  return [
    ...leads.map(lead),
    row('tube.not-used', _('Not used: {letters}', { letters: unused.letters }), [], unused, later),
    row('tube.cathode-ray', _('Second letter {letter}', { letter: ray.letter }), [_('A cathode-ray tube.')], ray, later),
    ...suffixes.map((found) => row(`tube.${found.id}`, _('Ending {ending}', { ending: found.suffix }), [`${found.label}.`], found, _('Endings'))),
    row('tube.older', _('Older, numerical types'), [_('{fewest} to {most} figures.', { fewest: older.fewest_figures, most: older.most_figures })], older, _('Numbers alone')),
    row('tube.industrial', _('Industrial types'), [_('From {first} up.', { first: industrial.first })], industrial, _('Numbers alone')),
    ...classes.map((found) => row(`tube.${found.id}`, _('First figure {figure}', { figure: found.digit }), [`${found.label}.`], found, power)),
    ...letters.map((found) => row(`tube.${found.id}`, _('Letter {letter}', { letter: found.letter }), [`${found.label}.`], found, power)),
    row('tube.serials', _('Serial figures'), [_('From {first} up.', { first: serials.first })], serials, power),
  ];
}

function lead(found) {
  const volts = found.volts.map(figure);
  return row(`tube.${found.id}`, _('First number {number}', { number: found.lead }),
    [volts.length > 0 ? _('Heater {volts} V.', { volts: names(volts, 'or') }) : _('No heater.'), found.note], found, _('First number'));
}
