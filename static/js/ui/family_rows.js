/**
 * The rows of one family as people read them. Twin of webapp/pages/family_rows.py. What has not come to this phone
 * yet is left out.
 */
import { _ } from '../language.js';
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
    table('price', _('What it starts from'), prices(pack)),
    ...pack.stages.map(({ id, title }) => table(`checks-${id}`, _('Checks: {stage}', { stage: title }), checkRows(pack, id))),
    table('holes', _('Added holes'), holeRows(pack)),
    table('faces', _('Faces that holes are drawn on'), faceRows(pack)),
    table('effects', _('What is compared'), effects(pack)),
    table('parts', _('Parts'), partRows(pack)),
    table('tasks', _('Work'), pack.tasks.filter(({ basis }) => basis).map((task_) => task(pack, task_))),
    table('sheets', _('Model sheets'), own.flatMap((sheet_) => sheetRows(pack, sheet_))),
  ];
}

function prices(pack) {
  const money = pack.reference;
  const says = [
    _('{price} {currency}, known to {spread}.', { price: figure(money.median), currency: money.currency, spread: spread(money.log_sd) }),
    _('Like sets differ by {spread}.', { spread: spread(money.market_log_sd) }),
    _('One sale that you enter tells it to {spread}, and counts half after {years} years.', { spread: spread(money.comparable_log_sd), years: figure(money.half_life_years) }),
  ];
  const parting = [_('{share} parts find a buyer.', { share: ofHundred(pack.sell_through) }), _('Taking it apart: {hours}.', { hours: estimate(pack.break_hours, 'h') })];
  return [
    row('reference', _('A complete one, as made, untested'), says, money),
    row('asked', _('Asked prices'), [_('Against sold ones: {change}.', { change: effect(money.asked) })], pack.asked),
    ...pack.states.map((state) => row(`state.${state.id}`, state.label, [_('Price {change}.', { change: percent(state.offset) })], state)),
    row('breaking', _('Sold in parts'), parting, pack.breaking),
  ];
}

function effects(pack) {
  const { effects: found, words } = pack;
  if (!words['reason-coverage']) return [];
  const coverage = [
    _('Reaches an amateur band: price {change}.', { change: effect(found.coverage_in_band) }),
    _('Reaches none: price {change}.', { change: effect(found.coverage_out_of_band) }),
    _('Not known: {share} sets reach one.', { share: ofHundred(found.in_band_prior) }),
  ];
  const rows = [row('coverage', words['reason-coverage'], coverage, found.coverage)];
  for (const [name, key, part] of [
    ['crystal_foreign', 'crystal', found.crystal_part], ['book_foreign', 'serial', found.book_part], ['heaters_misfit', 'heaters', null],
  ]) {
    if (found[key]) {
      rows.push(row(name, words[`reason-${name}`], [
        _('Price {change}.', { change: effect(found[name]) }),
        part && _('Looks at the part: {part}.', { part: byId(pack.parts, part).label }),
        key === 'heaters' && supply(pack.supply_volts),
      ], found[key]));
    }
  }
  return [
    ...rows,
    row('designation_misfit', words['reason-designation_misfit'], [_('Price {change}.', { change: effect(found.designation_misfit) }), ...letters(pack)], found.designation),
    row('finish_misfit', words['reason-finish_misfit'], [_('Price {change}.', { change: effect(found.finish_misfit) })], found.finish),
  ];
}

/** The letters on a plate that name this family. */
function letters(pack) {
  const { sets = [], units = [] } = pack.nomenclature.families?.[pack.family] ?? {};
  return [
    sets.length > 0 && _('Sets of this family: {letters}.', { letters: names(sets) }),
    units.length > 0 && _('Units of this family: {letters}.', { letters: names(units) }),
  ];
}

function task(pack, found) {
  const { currency } = pack.reference;
  const whole = found.aims.length === pack.aims.length;
  return row(`task.${found.id}`, found.label, [
    work(found.set_up, currency),
    found.each && _('For each piece: {work}', { work: work(found.each, currency) }),
    whole ? _('For every aim.') : _('For: {aims}.', { aims: names(found.aims.map((id) => byId(pack.aims, id).label)) }),
    found.after.length > 0 && _('After: {tasks}.', { tasks: found.after.map((id) => byId(pack.tasks, id).label).join('; ') }),
    undo(found),
    ...calls(pack, { cautions: found.cautions }),
  ], found, byId(pack.plan_stages, found.stage).label);
}

const undo = (found) => ({ 'can be undone': _('Can be undone.'), partly: _('Can be undone in part.'), 'cannot be undone': _('Cannot be undone.') })[found.undo];

const work = ({ hours, materials }, currency) => _('{hours}; materials {money}.', { hours: estimate(hours, 'h'), money: estimate(materials, currency) });
