/** Sets come into a lot: by their label in a photo, by a number typed, or many of a kind at once. */
import { _, _n } from '../language.js';
import { nextNumber, placesFrom, taken } from '../store/lot_places.js';
import { addSets, joinLot, listLots, setsOfLot } from '../store/lots.js';
import { allSets } from '../store/notebook.js';
import { kindName, saleKinds } from '../store/sale_kinds.js';
import { askPersistence } from '../sync/persistence.js';
import { h, setText } from '../ui/element.js';
import { labelled } from '../ui/fields.js';
import { labelsFrom } from '../ui/label_field.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { countSets } from '../ui/lot_rows.js';
import { photoPick } from '../ui/photo_pick.js';
import { whatSelect } from '../ui/sale_what.js';
import { savingMark } from '../ui/saving_mark.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot */
export async function showAdd(main, lot) {
  const [kinds, sets] = await Promise.all([saleKinds(), allSets()]);
  const page = new AddPage(lot, kinds, (await setsOfLot(lot.id)).at(-1) ?? sets[0]);
  main.replaceChildren(page.head, page.element);
  await page.refresh();
  return { refresh: () => page.refresh() };
}

class AddPage {
  /** @param {import('../store/lots.js').Lot} lot @param {import('../store/sale_kinds.js').Kinds} kinds @param {any} [last] the set whose kind comes first */
  constructor(lot, kinds, last) {
    Object.assign(this, { lot, kinds });
    this.what = whatSelect(kinds, last ? `${last.base.family}/${last.base.model_sheet ?? ''}` : '');
    if (this.what.selectedIndex < 0) this.what.selectedIndex = 0;
    this.head = lotHead(lot, `#/lot/${lot.id}`, _('Add sets'), '');
    this.said = h('p', { class: 'lot-said', role: 'status' });
    this.wrong = h('p', { class: 'wrong', role: 'alert' });
    this.one = field({ autocapitalize: 'characters', name: 'one' });
    this.first = field({ autocapitalize: 'characters', name: 'first' });
    this.many = field({ inputmode: 'numeric', name: 'many', maxlength: 3, value: 12 });
    const scan = photoPick(_('the labels'), (files) => this.doing(() => this.scan(files)), _('Read labels from photos'));
    this.element = h('div', { class: 'page lot-add' }, this.said, this.wrong,
      labelled(_('What they are'), this.what),
      h('form', { class: 'card', 'aria-label': _('One set'), onsubmit: (event) => this.submitted(event, () => this.addOne()) },
        h('h2', {}, _('One set')), h('div', { class: 'fields' }, labelled(_('Number or label'), this.one), h('button', { class: 'button strong', type: 'submit' }, _('Add it'))), scan),
      h('form', { class: 'card', 'aria-label': _('Many of a kind'), onsubmit: (event) => this.submitted(event, () => this.addMany()) },
        h('h2', {}, _('Many of a kind')), h('div', { class: 'fields' }, labelled(_('How many'), this.many), labelled(_('First number or label'), this.first)),
        h('button', { class: 'button strong', type: 'submit' }, _('Add them all'))),
      h('div', { class: 'links' }, h('a', { class: 'button', href: `#/lot/${lot.id}/round` }, _('Quick round')), h('a', { class: 'button', href: `#/lot/${lot.id}` }, _('To the lot'))));
    this.submits = [...this.element.querySelectorAll('button[type=submit]')];
  }

  /** Shows how many there are, and which number comes next. */
  async refresh() {
    this.members = await setsOfLot(this.lot.id);
    setText(this.head.querySelector('.sub'), `${lotName(this.lot)} · ${this.members.length === 0 ? _('no sets yet') : countSets(this.members.length)}`);
    const next = nextNumber(this.members);
    for (const input of [this.one, this.first]) if (document.activeElement !== input) input.value = next;
  }

  submitted(event, act) {
    event.preventDefault();
    return this.doing(act);
  }

  /** Does something, with the reason on the screen when it cannot be done. */
  async doing(act) {
    if (this.busy) return;
    this.busy = true;
    setText(this.wrong, '');
    for (const button of this.submits) button.disabled = true;
    try {
      const saving = act();
      savingMark(this.element, saving);
      setText(this.said, await saving);
      document.activeElement?.closest('input')?.blur();
      await this.refresh();
      askPersistence();
    } catch (problem) {
      setText(this.wrong, problem.message);
      window.scrollTo(0, 0);
    }
    for (const button of this.submits) button.disabled = false;
    this.busy = false;
  }

  kind() {
    const [family, type] = this.what.value.split('/');
    const kind = { family, model_sheet: type || null };
    return { ...kind, title: kindName(this.kinds, kind) };
  }

  addOne() {
    return this.place(placesFrom(this.one.value, 1));
  }

  addMany() {
    return this.place(placesFrom(this.first.value, Number(this.many.value.trim() || NaN)));
  }

  /** Takes places; a label that one set of the notebook carries brings that set into the lot. @returns {Promise<string>} what was done */
  async place({ places, wrong }) {
    if (wrong) throw new Error(wrong);
    const [all, members] = [await allSets(), await setsOfLot(this.lot.id)];
    if (places.length === 1 && places[0].label) {
      const [{ label }] = places;
      const labelledSets = all.filter((foundSet) => foundSet.get('label') === label);
      if (labelledSets.length === 1) return this.take(labelledSets[0], places[0].number, members);
    }
    const clash = taken(places, members, all);
    if (clash) throw new Error(clash);
    const kind = this.kind();
    await addSets(this.lot, kind, places);
    const [first, last] = [places[0], places.at(-1)].map((place) => place.label ?? place.number);
    if (places.length === 1) return _('No. {number} is in the lot: {kind}.', { number: places[0].number, kind: kind.title });
    return _n('{count} set added, {first} to {last}: {kind}.', '{count} sets added, {first} to {last}: {kind}.', places.length, { first, last, kind: kind.title });
  }

  async take(foundSet, number, members) {
    const name = foundSet.get('title') || foundSet.base.family;
    if (members.some(({ base }) => base.id === foundSet.base.id)) throw new Error(_('{label} is in this lot already: {name}.', { label: foundSet.get('label'), name }));
    const other = (await listLots()).find((lot) => lot.id === foundSet.get('lot')?.lot);
    if (other) throw new Error(_('{label} is in another lot: {lot}. Take it out there first.', { label: foundSet.get('label'), lot: lotName(other) }));
    const free = members.some((member) => member.get('lot').number === number) ? nextNumber(members) : number;
    await joinLot(foundSet, this.lot, free);
    return _('{name} was in the notebook already; now it is no. {number} of this lot.', { name, number: free });
  }

  /** Each label in the photos becomes a set; one that cannot says why, and keeps no other out. */
  async scan(files) {
    setText(this.said, _('Reading …'));
    const labels = new Set();
    for (const file of files) for (const label of await labelsFrom(file)) labels.add(label);
    if (labels.size === 0) throw new Error(_('No label was found. Come closer, so that the square fills a third of the photo, or type the label.'));
    const done = [];
    for (const label of [...labels].sort()) done.push(await this.place(placesFrom(label, 1)).catch((problem) => problem.message));
    return done.join(' ');
  }
}

/** A field that proposes something: whoever taps it to type another means instead of it. */
const field = (props) => /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', maxlength: 20, onfocus: ({ target }) => target.select(), ...props }));
