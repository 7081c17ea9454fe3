/** The cards of a model sheet: what it is, how it left the works, what it fetches, its heaters. */
import { _ } from '../language.js';
import { h } from './element.js';
import { heaterEditor } from './heaters.js';
import { figure } from './money.js';

const books = () => [
  ['', _('not known')], ['by serial', _('one each, by serial number')], ['by model', _('one for all of the model')], ['none', _('it had none')],
];
const sure = () => [
  ['', _('as sure as the tables')], ['well', _('I know well what they fetch')], ['guess', _('a guess, or one sale')],
];

const card = (title, ...children) => h('section', { class: 'card' }, h('h2', {}, title), ...children);
const asks = (pack, what) => pack.checks.some((check) => check.asks === what);

/**
 * The cards of a family; what means nothing to it is left out.
 * @param {any} pack the family's
 * @param {import('./sheet_form.js').Form} form
 * @param {import('./sheet_fields.js').SheetFields} fields
 * @returns {Node[]}
 */
export function sheetCards(pack, form, fields) {
  const cards = [what(pack, form, fields), works(pack, form, fields), price(pack, form, fields)];
  if (asks(pack, 'heaters') || pack.supply_volts) cards.push(heating(pack, form, fields));
  return cards;
}

function what(pack, form, fields) {
  return card(_('What it is'),
    h('p', { class: 'help' }, _('A type of this kind: {kind}. What you leave empty stays as it is for the kind.', { kind: pack.name })),
    fields.text('name', [_('Name of the type'), form, 'name'], { maxlength: 120 }),
    fields.lines([_('About it'), form, 'about', _('Who built it, for whom, how one tells it')]));
}

function works(pack, form, fields) {
  const named = (rows) => [['', _('not known')], ...rows.map((row) => [row.id, row.label])];
  return card(_('As it left the works'),
    (asks(pack, 'coverage') || form.coverage.some(Boolean))
      && fields.figures('coverage', [[_('Dial from, kHz'), form.coverage, 0], [_('to, kHz'), form.coverage, 1]]),
    (asks(pack, 'crystal') || form.crystal !== '') && fields.figures('crystal', [[_('Check crystal, kHz'), form, 'crystal']]),
    fields.choice([_('Ordered by'), form, 'service'], named(pack.services)),
    fields.choice([_('Finish as built'), form, 'finish'], named(pack.finishes)),
    pack.effects.book_part && fields.choice([_('Calibration book'), form, 'book'], books()), fields.sentence('book'));
}

function price({ reference: { currency, median } }, form, fields) {
  return card(_('What a complete one fetches'),
    h('p', { class: 'help' }, _('Complete, as made, untested; before what its coverage adds or takes off. Half of them fetch more, half less.')),
    fields.figures('median', [[_('Price in {currency}', { currency }), form, 'median', figure(median)]]),
    fields.choice([_('How sure you are of it'), form, 'sure'], sure()));
}

function heating(pack, form, fields) {
  const [low, high] = (pack.supply_volts ?? []).map(figure);
  return card(_('Heaters and supply'),
    fields.figures('supply', [[_('Supply from, V'), form.supply, 0, low], [_('to, V'), form.supply, 1, high]]),
    heaterEditor(pack, form.heater_strings, (strings) => {
      form.heater_strings = strings;
      fields.changed();
    }));
}
