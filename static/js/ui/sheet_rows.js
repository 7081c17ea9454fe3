/** A model sheet as people read it. Twin of webapp/pages/sheet_rows.py. */
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
    rows.push(row(`${address}.reference`, 'A complete one, as made, untested', [
      reference.median && `${figure(reference.median)} ${currency}.`,
      reference.log_sd && `Known to ${spread(reference.log_sd)}.`,
      reference.market_log_sd !== undefined && `Like sets differ by ${spread(reference.market_log_sd)}.`,
    ], reference, name));
  }
  for (const part of changed) {
    rows.push(row(`${address}.${part.id}`, byId(pack.parts, part.id).label, [part.weight && weight(part), ...trade(part, currency)], part, name));
  }
  for (const part of extra) {
    rows.push(row(part.id, part.label, [
      `Only this type has it. ${weight(part)}`,
      ...trade(part, currency),
      `Gone in ${ofHundred(part.gone_prior)} sets: price ${percent(part.gone_effect)}.`,
      `Looked at: ${byId(pack.stages, part.stage).title}.`,
    ], part, name));
  }
  return rows;
}

/** What a model sheet says of its type. */
function headSays(pack, head, absent) {
  const { coverage_khz: coverage, crystal_khz: crystal, supply_volts: volts, heater_strings: strings = [] } = head;
  return [
    coverage && `Coverage ${figure(coverage[0])} to ${figure(coverage[1])} kHz.`,
    crystal && `Check crystal ${figure(crystal)} kHz.`,
    head.service && `Ordered by: ${head.service}.`,
    head.finish && `Finish: ${head.finish}.`,
    head.book && `Calibration book: ${head.book}.`,
    volts && supply(volts),
    ...strings.map((line) => `Heaters in line: ${names(line.map((tube) => `${figure(tube.volts)} V ${figure(tube.amps)} A`))}.`),
    absent.length > 0 && `Never had: ${names(absent.map((id) => byId(pack.parts, id).label))}.`,
  ];
}
