/** The checks of a family and its added holes as people read them. Twin of webapp/pages/check_rows.py. */
import { figure } from './money.js';
import { effect, names, ofHundred, ofWhole, percent } from './rule_figures.js';
import { byId, row } from './rule_row.js';

const ASKED_FOR = {
  book: 'the number in the book',
  crystal: "the crystal's figure",
  heaters: 'the heater strings',
  holes: 'the list of holes',
  nameplate: 'the text of the plate',
  order: 'the order number',
  serial: 'the serial number',
};

/** The checks of one stage, each before its options. @param {any} pack @param {string} stage */
export function checkRows(pack, stage) {
  return pack.checks.filter((check) => check.stage === stage).flatMap((check) => [
    row(check.id, check.label, asks(pack, check), check, check.label),
    ...check.options.map((option_) => row(`${check.id}/${option_.id}`, option_.label, option(pack, option_), option_, check.label)),
  ]);
}

function asks(pack, check) {
  const says = [check.help, `Takes ${figure(check.seconds)} s.`];
  if (check.shown_if) {
    const parent = byId(pack.checks, check.shown_if.check);
    const labels = check.shown_if.options.map((id) => byId(parent.options, id).label);
    says.push(`Asked only after ${parent.label}: ${names(labels, 'or')}.`);
  }
  if (check.part) says.push(`Looks at the part: ${byId(pack.parts, check.part).label}.`);
  if (check.asks) says.push(`Asks for ${ASKED_FOR[check.asks] ?? `the ${check.asks}`}.`);
  return says;
}

function option(pack, found) {
  return [
    `Met in ${ofHundred(found.prior)}.`,
    `Price ${effect(found.log_effect_open ?? found.log_effect)}.`,
    found.state !== null && `Leaves ${ofWhole(found.state)} of the part.`,
    found.originality && `Takes ${ofWhole(found.originality)} off originality.`,
    found.as_made && 'As made.',
    found.fixable && 'Can be mended.',
    ...calls(pack, found),
  ];
}

/** The tasks and cautions that a row calls. */
export function calls(pack, { tasks = [], cautions }) {
  // The labels of tasks may not have come to this phone yet.
  const labels = tasks.map((id) => byId(pack.tasks, id).label).filter(Boolean);
  return [
    labels.length > 0 && `Work: ${labels.join('; ')}.`,
    cautions.length > 0 && `Caution: ${cautions.map((id) => byId(pack.cautions, id).title).join('; ')}.`,
  ];
}

/** The law of added holes, then their sizes by place. @param {any} pack */
export function holeRows(pack) {
  const law = pack.holes;
  const says = `The log price falls by ${figure(law.a)} · ln(1 + S/${figure(law.b)}), S being all severities together, give or take ${figure(law.c)} of that.`;
  const sizes = law.places.flatMap((place) => place.sizes.map((size, index) => row(`hole.${place.id}.${index + 1}`, size.label, [
    sizeOf(place.sizes, index),
    severity(law, size),
    size.task && [`${ofWhole(size.fixable)} of it can be mended.`, ...calls(pack, { tasks: [size.task], cautions: [] })].filter(Boolean).join(' '),
  ], size, place.label)));
  return [row('holes', 'What holes take off', [says], law), ...sizes];
}

function sizeOf(sizes, index) {
  const upTo = sizes[index].up_to_mm;
  if (upTo !== null) return `To ${figure(upTo)} mm.`;
  return index > 0 ? `Over ${figure(sizes[index - 1].up_to_mm)} mm.` : 'Of any size.';
}

function severity({ a, b }, size) {
  const alone = (value) => `severity ${figure(value)}, alone ${percent(-a * Math.log(1 + value / b))}`;
  return `Open: ${alone(size.severity)}. Plugged: ${alone(size.severity_plugged)}.`;
}
