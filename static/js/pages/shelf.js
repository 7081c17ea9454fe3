/** The shelf: spares and wants by part, and sets of one's own that may be broken for a lot. They join every plan. */
import { _ } from '../language.js';
import { allSets } from '../store/notebook.js';
import { listLots } from '../store/lots.js';
import { prepareFor } from '../store/packs.js';
import { kindName, saleKinds } from '../store/sale_kinds.js';
import { binThing, listShelf } from '../store/shelf.js';
import { h } from '../ui/element.js';
import { clearNotice, notice } from '../ui/notices.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { DonorForm, ThingForm } from '../ui/shelf_form.js';
import { partName, thingName } from '../ui/shelf_words.js';
import { useStyle } from '../ui/style_sheet.js';

const PARTS = {
  spare: () => [_('Spares'), _('Parts in the drawer. A plan may put them into sets of a lot.')],
  want: () => [_('Wants'), _('Parts that sets outside the lot lack. A plan takes them out of what a lot breaks.')],
  donor: () => [_('Donors'), _('Sets of your own that may be broken for a lot.')],
};

/** @param {HTMLElement} main */
export async function showShelf(main) {
  await useStyle('lot');
  const kinds = await saleKinds();
  const form = new ThingForm(kinds);
  const donors = new DonorForm();
  const lists = new Map(Object.keys(PARTS).map((kind) => [kind, h('ul', { class: 'rows' })]));
  const refresh = async () => {
    const [things, sets, lots] = await Promise.all([listShelf(), allSets(), listLots()]);
    const rows = await Promise.all(things.map(async (thing) => [thing.kind, await row(thing, kinds, sets)]));
    for (const [kind, list] of lists) {
      const own = rows.filter(([other]) => other === kind).map(([, element]) => element);
      list.replaceChildren(...own.length > 0 ? own : [h('li', { class: 'fine' }, _('None yet.'))]);
    }
    const inLots = new Set(lots.map((lot) => lot.id));
    const known = new Set(things.map((thing) => thing.set));
    donors.show(sets.filter((foundSet) => !foundSet.base.demo && !inLots.has(foundSet.get('lot')?.lot) && !known.has(foundSet.base.id)));
  };
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Notebook') }, '‹'), h('h1', { tabindex: -1 }, _('My shelf'))),
    h('div', { class: 'page shelf' },
      ...Object.entries(PARTS).map(([kind, words]) => {
        const [heading, help] = words();
        return h('section', {}, h('h2', {}, heading), h('p', { class: 'help' }, help), lists.get(kind), kind === 'donor' ? donors.element : null);
      }),
      form.element));
  document.title = `${_('My shelf')} · Underchassis`;
  window.scrollTo(0, 0);
  await form.fill();
  await refresh();
  return { refresh };
}

async function row(thing, kinds, sets) {
  const donor = thing.kind === 'donor' && sets.find(({ base }) => base.id === thing.set);
  const prepared = thing.kind === 'donor' ? null : await prepareFor(thing.family, thing.model_sheet ?? null).catch(() => null);
  const name = thing.kind === 'donor' ? (donor ? donor.get('title') || donor.base.family : _('A set that is not in the notebook')) : partName(prepared?.pack, thing.part);
  const said = thing.kind === 'donor' ? '' : [kindName(kinds, thing), ...thingName(prepared?.pack, thing)].join(' · ');
  return h('li', { class: 'set-row' },
    h(donor ? 'a' : 'div', { class: 'row-link', ...donor && { href: `#/set/${thing.set}` } }, h('strong', {}, name), h('span', { class: 'fine' }, said)),
    h('button', { class: 'button quiet', 'aria-label': _('Remove {name}', { name }), onclick: () => remove(thing, name) }, _('Remove')));
}

async function remove(thing, name) {
  const again = () => window.dispatchEvent(new Event('underchassis-changed'));
  try {
    await binThing(thing, true);
    notice('removed', _('{name}: off the shelf.', { name }), { actions: [[_('Undo'), () => {
      clearNotice('removed');
      binThing(thing, false).then(again, sayUnsaved);
    }]] });
    again();
    // Its button goes with it.
    /** @type {HTMLElement | null} */ (document.querySelector('.top h1'))?.focus({ preventScroll: true });
  } catch (problem) {
    sayUnsaved(problem);
  }
}
