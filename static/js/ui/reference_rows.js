/**
 * The tables for plates, holes and tubes as people read them. Twin of webapp/pages/reference_rows.py. A table that
 * has not come to this phone yet stays empty.
 */
import { figure } from './money.js';
import { inches, names } from './rule_figures.js';
import { row, table } from './rule_row.js';

/** What a type designation, a stamp and an order number say. */
export function designationTables({ letters = [], indicators = {}, grammar = [], stamps = [], order }) {
  const orders = order?.basis ? [row('order', 'Order numbers', [
    `The last two digits count as a year from ${order.from_year} to ${order.to_year}.`,
    `Words that stand before it: ${names(order.marks)}.`,
  ], order)] : [];
  return [
    table('letters', 'Type designations: letters', letters.map((found) => row(`letter.${found.id}`, found.letter,
      [`${found.meaning}.`, `When: ${found.period}.`], found, `Place: ${found.place}`))),
    table('indicators', 'Type designations: units', Object.values(indicators).map((found) => row(`indicator.${found.id}`, found.code,
      [`${found.meaning}.`], found))),
    table('grammar', 'Type designations: how they are written', grammar.map((found) => row(`grammar.${found.id}`, found.form,
      [found.meaning, `Such as ${found.example}.`, found.letters && `Letters in their order: ${[...found.letters].join(', ')}.`], found))),
    table('stamps', 'Stamps and order numbers', [
      ...stamps.map((found) => row(`stamp.${found.id}`, found.label, [found.tells], found)), ...orders,
    ]),
  ];
}

/** What sits in a hole, and the charts of screws and drills. */
export function holeTables({ limits, components = [], tolerances = [], reference = {} }) {
  const { clearances = [], screws = [], shop_screws: shopScrews = [], drills = [] } = reference;
  return [
    table('components', 'What sits in a hole', [
      ...components.map(component),
      ...tolerances.map((found) => row(`tolerance.${found.id}`, found.label, [`Up to ${figure(found.mm)} mm off.`], found, 'Measuring')),
      ...(limits ? [row('limits', 'Holes that can be entered', [
        `From ${figure(limits.smallest_mm)} to ${figure(limits.largest_mm)} mm.`, `At most ${limits.named} parts are named.`,
      ], limits, 'Measuring')] : []),
    ]),
    table('clearances', 'Holes for metric screws', clearances.map((found) => row(`clearance.${found.id}`, found.thread,
      [`Fine ${figure(found.fine_mm)}, medium ${figure(found.medium_mm)}, coarse ${figure(found.coarse_mm)} mm.`], found))),
    table('screws', 'Holes for inch screws', screws.map((found) => row(`screw.${found.id}`, found.screw, [
      `Close ${figure(found.close_mm)}, normal ${figure(found.normal_mm)}, loose ${figure(found.loose_mm)} mm; the screw itself ${inches(found.major_inch)}.`,
    ], found))),
    table('shop-screws', 'Inch screws, an older chart', shopScrews.map((found) => row(`shop-screw.${found.id}`, found.screw, [
      `Close: drill ${found.close_drill}, ${inches(found.close_inch)}.`, `Free: drill ${found.free_drill}, ${inches(found.free_inch)}.`,
    ], found))),
    table('drills', 'Drills by number, letter and fraction', drills.map((found) => row(`drill.${found.id}`, `Drill ${found.name}`,
      [`${inches(found.inch)}.`], found))),
  ];
}

function component(found) {
  const { from_mm: low, to_mm: high } = found;
  return row(`component.${found.id}`, found.label, [
    low === high ? `${figure(low)} mm.` : `${figure(low)} to ${figure(high)} mm.`, found.extra, found.hint,
  ], found, `Kind: ${found.kind}`);
}

/** What a tube number says of the heater. */
export function tubeRows({ leads, not_used: unused, cathode_ray: ray, suffixes, older, industrial, power_classes: classes, letters, serials }) {
  if (!leads) return [];
  const later = 'Numbers with letters';
  const power = 'Numbers of 1942 to 1944';
  return [
    ...leads.map(lead),
    row('tube.not-used', `Not used: ${unused.letters}`, [], unused, later),
    row('tube.cathode-ray', `Second letter ${ray.letter}`, ['A cathode-ray tube.'], ray, later),
    ...suffixes.map((found) => row(`tube.${found.id}`, `Ending ${found.suffix}`, [`${found.label}.`], found, 'Endings')),
    row('tube.older', 'Older, numerical types', [`${older.fewest_figures} to ${older.most_figures} figures.`], older, 'Numbers alone'),
    row('tube.industrial', 'Industrial types', [`From ${industrial.first} up.`], industrial, 'Numbers alone'),
    ...classes.map((found) => row(`tube.${found.id}`, `First figure ${found.digit}`, [`${found.label}.`], found, power)),
    ...letters.map((found) => row(`tube.${found.id}`, `Letter ${found.letter}`, [`${found.label}.`], found, power)),
    row('tube.serials', 'Serial figures', [`From ${serials.first} up.`], serials, power),
  ];
}

function lead(found) {
  const volts = found.volts.map(figure);
  return row(`tube.${found.id}`, `First number ${found.lead}`,
    [volts.length > 0 ? `Heater ${names(volts, 'or')} V.` : 'No heater.', found.note], found, 'First number');
}
