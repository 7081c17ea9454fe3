/** The plan of a lot as a file for spreadsheets. */
import { writeCsv } from './csv.js';
import { download } from './exporting.js';
import { numberIn } from './lots.js';
import { guarded } from './sale_cells.js';
import { today } from './sale_rules.js';

const COLUMNS = ['number', 'label', 'name', 'type', 'way', 'worth', 'low', 'high', 'as it is', 'completed', 'in parts', 'hours', 'materials', 'per hour', 'checks open', 'takes', 'buys', 'gives', 'sells', 'currency'];

/** Money to the cent, and nothing for what is not known. */
const figure = (value) => (value === null || value === undefined ? '' : Number(value.toFixed(2)));

/** @param {import('../ui/lot_view.js').LotView} view @returns {string} lines as RFC 4180 has them */
export function lotCsv(view) {
  return writeCsv([COLUMNS, ...view.own.map((set) => cells(view, set))]);
}

function cells(view, { foundSet, prepared, index }) {
  const { moves, buys, salvage, sets } = view.plan;
  const row = sets[index];
  const list = (rows, words) => guarded(rows.map(words).join('; '));
  return [
    guarded(numberIn(foundSet)), guarded(foundSet.get('label') ?? ''), guarded(view.title(index)), guarded(prepared.pack.name), row.way.replace('_', ' '),
    ...[row.value, row.low, row.high, row.as_is, row.complete, row.parts, row.hours, row.materials, row.per_hour].map(figure), row.open,
    list(moves.filter(({ to }) => to === index), (move) => `${partOf(view, move)} from ${nameOf(view, move.from)}`), list(buys.filter((buy) => buy.for === index), ({ part }) => view.part(part, index)),
    list(moves.filter(({ from }) => from === index), (move) => `${partOf(view, move)} to ${nameOf(view, move.to)}`), list(salvage.filter(({ from }) => from === index), ({ part }) => view.part(part, index)),
    view.reckoning.entries[index].findings.currency,
  ];
}

/** A part that is given; like the columns, the words of a file are the same in every language. */
const partOf = (view, { part, from, to, unchecked }) => view.part(part, to, from) + (unchecked ? ' (not looked at yet)' : '');

/** Who gives or takes it. */
function nameOf(view, who) {
  if (typeof who === 'string') return 'your shelf';
  const { foundSet, owned } = view.reckoning.members[who];
  return owned ? `your ${view.title(who)}` : `no. ${numberIn(foundSet)}`;
}

/** Hands the plan to the browser as a file. @param {import('../ui/lot_view.js').LotView} view */
export function downloadLot(view) {
  const name = view.reckoning.lot.name.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'lot';
  // Spreadsheets take a file for UTF-8 only when it begins with this mark.
  download(`underchassis-${name}-${today()}.csv`, 'text/csv', `\ufeff${lotCsv(view)}`);
}
