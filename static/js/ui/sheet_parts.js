/** Parts of a model sheet: those the type never had, those with other money, those beyond its kind. */
import { _ } from '../language.js';
import { mayBeAbsent } from '../store/sheet_rules.js';
import { h, setText } from './element.js';
import { labelled, select } from './fields.js';
import { figure } from './money.js';
import { blankExtra, blankPart } from './sheet_form.js';

/**
 * @typedef {import('./sheet_fields.js').SheetFields} SheetFields
 * @typedef {import('./sheet_form.js').Form} Form
 */

const counted = (words, count) => (count > 0 ? `${words} (${count})` : words);

/** A list to tick. @param {any} pack the family's @param {Form} form @param {SheetFields} fields */
export function absentParts(pack, form, fields) {
  const words = _('Parts it never had');
  const summary = h('summary', {}, counted(words, form.absent.length));
  const ticks = mayBeAbsent(pack).map(({ id, label }) => {
    const tick = /** @type {HTMLInputElement} */ (h('input', { type: 'checkbox', checked: form.absent.includes(id) }));
    tick.addEventListener('change', () => {
      form.absent = tick.checked ? [...form.absent, id] : form.absent.filter((other) => other !== id);
      setText(summary, counted(words, form.absent.length));
      fields.changed();
    });
    return h('label', { class: 'line' }, tick, h('span', {}, label));
  });
  return h('details', {}, summary,
    h('p', { class: 'help' }, _('Nobody is asked for these, and their lack costs nothing.')), fields.sentence('absent'), ...ticks);
}

/** Parts whose figures differ from those of the kind. @param {any} pack @param {Form} form @param {SheetFields} fields */
export function changedParts(pack, form, fields) {
  const summary = h('summary', {}, '');
  const place = h('div', {});
  const draw = () => {
    setText(summary, counted(_('Parts with other money'), form.parts.length));
    const left = pack.parts.filter((part) => !form.parts.some((row) => row.id === part.id));
    const which = select(_('Part'), left.map((part) => [part.id, part.label]));
    const add = h('div', { class: 'fields', hidden: left.length === 0 }, labelled(_('Part'), which), h('button', {
      class: 'button', onclick: () => {
        form.parts.push(blankPart(which.value));
        redraw();
      },
    }, _('Give it other figures')));
    place.replaceChildren(...form.parts.map((row) => partRow(pack, row, form.parts, fields, redraw)), add);
  };
  const redraw = () => {
    draw();
    fields.changed();
    return place;
  };
  draw();
  return h('details', { open: form.parts.length > 0 }, summary,
    h('p', { class: 'help' }, _('What you leave empty stays as it is for this kind; its figures stand there slanted.')), place);
}

function partRow(pack, row, list, fields, redraw) {
  const part = pack.parts.find((one) => one.id === row.id);
  const name = part?.label ?? row.id;
  return h('fieldset', { class: 'card' }, h('legend', {}, name),
    money(pack, row, `part/${row.id}/`, fields, part), takeOff(name, row, list, redraw));
}

/** What a part counts and what it fetches or costs. */
function money({ reference: { currency } }, row, at, fields, usual = {}) {
  const three = (what) => [_('low'), _('likely'), _('high')].map((name, index) => /** @type {any} */ (
    [name, row[what], index, usual[what] ? figure(usual[what][index]) : '']));
  return h('div', {},
    fields.figures(`${at}weight`, [[_('How much it counts for completeness'), row, 'weight', usual.weight ? figure(usual.weight) : '']]),
    h('p', { class: 'why' }, _('What it fetches loose, in {currency}', { currency })), fields.figures(`${at}salvage`, three('salvage')),
    h('p', { class: 'why' }, usual.id ? _('What another one costs, in {currency}; empty when it is as usual', { currency })
      : _('What another one costs, in {currency}; empty when nobody sells it', { currency })),
    fields.figures(`${at}buy`, three('buy')));
}

/** Takes a row off its list; it comes back whole with one tap. */
function takeOff(name, row, list, redraw) {
  return h('button', { class: 'button quiet', 'aria-label': name ? _('Take {part} off the list', { part: name }) : _('Take this part off the list'), onclick: () => {
    const at = list.indexOf(row);
    list.splice(at, 1);
    redraw().append(h('p', { class: 'links', role: 'status' }, name ? _('{part} is off the list.', { part: name }) : _('The part is off the list.'), h('button', {
      class: 'button', onclick: () => {
        list.splice(at, 0, row);
        redraw();
      },
    }, _('Undo'))));
  } }, _('Take it off the list'));
}

/**
 * Parts that this type has beyond its kind.
 * @param {any} pack
 * @param {Form} form
 * @param {SheetFields} fields
 * @param {() => string} newId
 */
export function extraParts(pack, form, fields, newId) {
  const place = h('div', {});
  const draw = () => place.replaceChildren(...form.extra.map((row) => extraRow(pack, row, form.extra, fields, redraw)));
  const redraw = () => {
    draw();
    fields.changed();
    return place;
  };
  draw();
  return h('div', {}, place, h('button', { class: 'button', onclick: () => {
    form.extra.push(blankExtra(`extra-${newId()}`, pack.stages[0].id));
    redraw().lastElementChild.querySelector('input').focus();
  } }, _('Add a part')));
}

function extraRow(pack, row, list, fields, redraw) {
  const at = `extra/${row.id}/`;
  const [most, least] = [Math.max, Math.min].map((pick) => pack.parts.find((part) => part.weight === pick(...pack.parts.map((one) => one.weight))));
  return h('fieldset', { class: 'card' }, h('legend', {}, row.label || _('New part')),
    fields.text(`${at}label`, [_('Name of the part'), row, 'label']),
    fields.choice([_('Where one looks for it'), row, 'stage'], pack.stages.map((stage) => [stage.id, stage.title])),
    fields.figures(`${at}gone`, [[_('Of 100 of this type, how many lack it'), row, 'gone']]),
    fields.figures(`${at}loss`, [[_('How much less the set fetches without it, in %'), row, 'loss']]),
    money(pack, row, at, fields),
    h('p', { class: 'why' }, _('For comparison, in this kind: {most} counts {most_weight}, {least} {least_weight}.',
      { most: most.label, most_weight: figure(most.weight), least: least.label, least_weight: figure(least.weight) })),
    fields.sentence(`${at}missing`, [], 'why still'), takeOff(row.label, row, list, redraw));
}
