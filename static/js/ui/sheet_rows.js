/** A model sheet as people read it. Twin of webapp/pages/sheet_rows.py. */
import { _ } from '../language.js';
import { figure } from './money.js';
import { trade, weight } from './part_rows.js';
import { names, ofHundred, percent, spread, supply } from './rule_figures.js';
import { byId, row } from './rule_row.js';

/** The rows of a model sheet, given as its document of overrides, on the family of that pack. */
export function sheetRows(pack, { sheet: head, reference, name, about, absent, parts: changed, extra }) {
  const address = `sheet.${head.id}`;
  const { currency } = pack.reference;
  const rows = [row(address, name, [about, ...headSays(pack, head, absent)], head, name)];
  if (reference.basis) {
    rows.push(row(`${address}.reference`, _('A complete one, as made, untested'), [
      reference.median && `${figure(reference.median)} ${currency}.`,
      reference.log_sd && _('Known to {spread}.', { spread: spread(reference.log_sd) }),
      reference.market_log_sd !== undefined && _('Like sets differ by {spread}.', { spread: spread(reference.market_log_sd) }),
    ], reference, name));
  }
  for (const part of changed) {
    rows.push(row(`${address}.${part.id}`, byId(pack.parts, part.id).label, [part.weight && weight(part), ...trade(part, currency)], part, name));
  }
  for (const part of extra) {
    rows.push(row(part.id, part.label, [
      [_('Only this type has it.'), weight(part)].join(' '),
      ...trade(part, currency),
      _('Gone in {share} sets: price {change}.', { share: ofHundred(part.gone_prior), change: percent(part.gone_effect) }),
      _('Looked at: {stage}.', { stage: byId(pack.stages, part.stage).title }),
    ], part, name));
  }
  return rows;
}

const book = (head) => ({
  'by serial': _('Calibration book: by serial.'), 'by model': _('Calibration book: by model.'), none: _('Calibration book: none.'),
})[head.book];

/** What a model sheet says of its type. */
function headSays(pack, head, absent) {
  const { coverage_khz: coverage, crystal_khz: crystal, supply_volts: volts, heater_strings: strings = [] } = head;
  return [
    coverage && _('Coverage {from} to {to} kHz.', { from: figure(coverage[0]), to: figure(coverage[1]) }),
    crystal && _('Check crystal {khz} kHz.', { khz: figure(crystal) }),
    head.service && _('Ordered by: {service}.', { service: head.service }),
    head.finish && _('Finish: {finish}.', { finish: head.finish }),
    book(head),
    volts && supply(volts),
    ...strings.map((line) => _('Heaters in line: {heaters}.', { heaters: names(line.map((tube) => `${figure(tube.volts)} V ${figure(tube.amps)} A`)) })),
    absent.length > 0 && _('Never had: {parts}.', { parts: names(absent.map((id) => byId(pack.parts, id).label)) }),
  ];
}
