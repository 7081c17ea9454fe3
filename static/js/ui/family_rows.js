/**
 * The rows of one family as people read them. Twin of webapp/pages/family_rows.py. What has not come to this phone
 * yet is left out.
 */
import { calls, checkRows, holeRows } from './check_rows.js';
import { faceRows } from './face_rows.js';
import { figure } from './money.js';
import { partRows } from './part_rows.js';
import { effect, estimate, names, ofHundred, percent, spread, supply } from './rule_figures.js';
import { byId, row, table } from './rule_row.js';
import { sheetRows } from './sheet_rows.js';

/** The tables of a family with its model sheets, in the order of the walk and what follows from it. */
export function familyTables(pack, sheets) {
  const own = Object.keys(sheets).sort().map((key) => sheets[key]).filter(({ sheet }) => sheet.family === pack.family);
  return [
    table('price', 'What it starts from', prices(pack)),
    ...pack.stages.map(({ id, title }) => table(`checks-${id}`, `Checks: ${title}`, checkRows(pack, id))),
    table('holes', 'Added holes', holeRows(pack)),
    table('faces', 'Faces that holes are drawn on', faceRows(pack)),
    table('effects', 'What is compared', effects(pack)),
    table('parts', 'Parts', partRows(pack)),
    table('tasks', 'Work', pack.tasks.filter(({ basis }) => basis).map((task_) => task(pack, task_))),
    table('sheets', 'Model sheets', own.flatMap((sheet_) => sheetRows(pack, sheet_))),
  ];
}

function prices(pack) {
  const money = pack.reference;
  const says = [
    `${figure(money.median)} ${money.currency}, known to ${spread(money.log_sd)}.`,
    `Like sets differ by ${spread(money.market_log_sd)}.`,
    `One sale that you enter tells it to ${spread(money.comparable_log_sd)}, and counts half after ${figure(money.half_life_years)} years.`,
  ];
  const parting = [`${ofHundred(pack.sell_through)} parts find a buyer.`, `Taking it apart: ${estimate(pack.break_hours, 'h')}.`];
  return [
    row('reference', 'A complete one, as made, untested', says, money),
    row('asked', 'Asked prices', [`Against sold ones: ${effect(money.asked)}.`], pack.asked),
    ...pack.states.map((state) => row(`state.${state.id}`, state.label, [`Price ${percent(state.offset)}.`], state)),
    row('breaking', 'Sold in parts', parting, pack.breaking),
  ];
}

function effects(pack) {
  const { effects: found, words } = pack;
  if (!words['reason-coverage']) return [];
  const coverage = [
    `Reaches an amateur band: price ${effect(found.coverage_in_band)}.`,
    `Reaches none: price ${effect(found.coverage_out_of_band)}.`,
    `Not known: ${ofHundred(found.in_band_prior)} sets reach one.`,
  ];
  const rows = [row('coverage', words['reason-coverage'], coverage, found.coverage)];
  for (const [name, key, part] of [
    ['crystal_foreign', 'crystal', found.crystal_part], ['book_foreign', 'serial', found.book_part], ['heaters_misfit', 'heaters', null],
  ]) {
    if (found[key]) {
      rows.push(row(name, words[`reason-${name}`], [
        `Price ${effect(found[name])}.`,
        part && `Looks at the part: ${byId(pack.parts, part).label}.`,
        key === 'heaters' && supply(pack.supply_volts),
      ], found[key]));
    }
  }
  return [
    ...rows,
    row('designation_misfit', words['reason-designation_misfit'], [`Price ${effect(found.designation_misfit)}.`, ...letters(pack)], found.designation),
    row('finish_misfit', words['reason-finish_misfit'], [`Price ${effect(found.finish_misfit)}.`], found.finish),
  ];
}

/** The letters on a plate that name this family. */
function letters(pack) {
  const { sets = [], units = [] } = pack.nomenclature.families?.[pack.family] ?? {};
  return [
    sets.length > 0 && `Sets of this family: ${names(sets)}.`,
    units.length > 0 && `Units of this family: ${names(units)}.`,
  ];
}

function task(pack, found) {
  const { currency } = pack.reference;
  const whole = found.aims.length === pack.aims.length;
  return row(`task.${found.id}`, found.label, [
    work(found.set_up, currency),
    found.each && `For each piece: ${work(found.each, currency)}`,
    whole ? 'For every aim.' : `For: ${names(found.aims.map((id) => byId(pack.aims, id).label))}.`,
    found.after.length > 0 && `After: ${found.after.map((id) => byId(pack.tasks, id).label).join('; ')}.`,
    found.undo === 'partly' ? 'Can be undone in part.' : `${found.undo.charAt(0).toUpperCase()}${found.undo.slice(1)}.`,
    ...calls(pack, { cautions: found.cautions }),
  ], found, byId(pack.plan_stages, found.stage).label);
}

const work = ({ hours, materials }, currency) => `${estimate(hours, 'h')}; materials ${estimate(materials, currency)}.`;
