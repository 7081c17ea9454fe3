/** The checks of a family and its added holes as people read them. Twin of webapp/pages/check_rows.py. */
import { _ } from '../language.js';
import { figure } from './money.js';
import { effect, names, ofHundred, ofWhole, percent } from './rule_figures.js';
import { byId, row } from './rule_row.js';

const askedFor = (what) => ({
  book: _('Asks for the number in the book.'),
  coverage: _('Asks for the coverage.'),
  crystal: _('Asks for the crystal\'s figure.'),
  finish: _('Asks for the finish.'),
  heaters: _('Asks for the heater strings.'),
  holes: _('Asks for the list of holes.'),
  nameplate: _('Asks for the text of the plate.'),
  order: _('Asks for the order number.'),
  serial: _('Asks for the serial number.'),
  service: _('Asks for the service.'),
  stamp: _('Asks for the stamp.'),
})[what];

/** The checks of one stage, each before its options. @param {any} pack @param {string} stage */
export function checkRows(pack, stage) {
  return pack.checks.filter((check) => check.stage === stage).flatMap((check) => [
    row(check.id, check.label, asks(pack, check), check, check.label),
    ...check.options.map((option_) => row(`${check.id}/${option_.id}`, option_.label, option(pack, option_), option_, check.label)),
  ]);
}

function asks(pack, check) {
  const says = [check.help, _('Takes {seconds} s.', { seconds: figure(check.seconds) })];
  if (check.shown_if) {
    const parent = byId(pack.checks, check.shown_if.check);
    const labels = check.shown_if.options.map((id) => byId(parent.options, id).label);
    says.push(_('Asked only after {check}: {answers}.', { check: parent.label, answers: names(labels, 'or') }));
  }
  if (check.part) says.push(_('Looks at the part: {part}.', { part: byId(pack.parts, check.part).label }));
  if (check.asks) says.push(askedFor(check.asks));
  return says;
}

function option(pack, found) {
  return [
    _('Met in {share}.', { share: ofHundred(found.prior) }),
    _('Price {change}.', { change: effect(found.log_effect_open ?? found.log_effect) }),
    found.state !== null && _('Leaves {share} of the part.', { share: ofWhole(found.state) }),
    found.originality && _('Takes {share} off originality.', { share: ofWhole(found.originality) }),
    found.as_made && _('As made.'),
    found.fixable && _('Can be mended.'),
    ...calls(pack, found),
  ];
}

/** The tasks and cautions that a row calls. */
export function calls(pack, { tasks = [], cautions }) {
  // The labels of tasks may not have come to this phone yet.
  const labels = tasks.map((id) => byId(pack.tasks, id).label).filter(Boolean);
  return [
    labels.length > 0 && _('Work: {tasks}.', { tasks: labels.join('; ') }),
    cautions.length > 0 && _('Caution: {cautions}.', { cautions: cautions.map((id) => byId(pack.cautions, id).title).join('; ') }),
  ];
}

/** The law of added holes, then their sizes by place. @param {any} pack */
export function holeRows(pack) {
  const law = pack.holes;
  const says = _('The log price falls by {a} · ln(1 + S/{b}), S being all severities together, give or take {c} of that.', { a: figure(law.a), b: figure(law.b), c: figure(law.c) });
  const sizes = law.places.flatMap((place) => place.sizes.map((size, index) => row(`hole.${place.id}.${index + 1}`, size.label, [
    sizeOf(place.sizes, index),
    severity(law, size),
    size.task && [_('{share} of it can be mended.', { share: ofWhole(size.fixable) }), ...calls(pack, { tasks: [size.task], cautions: [] })].filter(Boolean).join(' '),
  ], size, place.label)));
  return [row('holes', _('What holes take off'), [says], law), ...sizes];
}

function sizeOf(sizes, index) {
  const upTo = sizes[index].up_to_mm;
  if (upTo !== null) return _('To {mm} mm.', { mm: figure(upTo) });
  return index > 0 ? _('Over {mm} mm.', { mm: figure(sizes[index - 1].up_to_mm) }) : _('Of any size.');
}

function severity({ a, b }, size) {
  const alone = (value) => percent(-a * Math.log(1 + value / b));
  const { severity: open, severity_plugged: plugged } = size;
  return _('Open: severity {open}, alone {open_alone}. Plugged: severity {plugged}, alone {plugged_alone}.',
    { open: figure(open), open_alone: alone(open), plugged: figure(plugged), plugged_alone: alone(plugged) });
}
