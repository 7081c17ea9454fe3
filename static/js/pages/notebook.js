/** The Notebook screen: lots and sets on this phone, search, a new set in two taps. */
import { fairRange, numbers } from '../kernel/numbers.js';
import { readFindings } from '../kernel/findings.js';
import { _ } from '../language.js';
import { openDatabase } from '../store/database.js';
import { allSets, binSets, comparablesOf, newSet, openDemo, salesLog } from '../store/notebook.js';
import { assetUrl, lateTables, loadReasons, packIndex, prepareFor } from '../store/packs.js';
import { h } from '../ui/element.js';
import { labelled } from '../ui/fields.js';
import { setStateWords } from '../ui/backup_words.js';
import { keepingLine } from '../ui/keeping.js';
import { moneyWriter } from '../ui/money.js';
import { clearNotice, notice } from '../ui/notices.js';

/** @param {HTMLElement} main */
export async function showNotebook(main) {
  const list = h('div', { class: 'sets' });
  const keeping = h('div', {});
  const search = /** @type {HTMLInputElement} */ (h('input', { type: 'search', 'aria-label': _('Search the notebook'), placeholder: _('Search') }));
  const chooser = h('section', { class: 'card chooser', hidden: true });
  const start = h('button', { class: 'button strong', 'aria-expanded': 'false', onclick: () => openChooser(chooser, start) }, _('New found set'));
  const refresh = async () => {
    const log = salesLog();
    const stateOf = await setStateWords();
    const sets = await allSets();
    const lots = await lotsOf(sets);
    const singles = sets.filter(({ base }) => !lots.taken.has(base.id));
    const rows = [...lots.rows, ...await Promise.all(singles.map((foundSet) => setRow(foundSet, log, stateOf(foundSet.base))))];
    const demos = sets.filter(({ base }) => base.demo);
    // Most notebooks hold none, and a first visit pays for every file.
    const demo = demos.length === 0 ? [] : [(await import('../ui/demo_part.js')).demoPart(demos, lots.taken, () => remove(demos, _('The demo')))];
    const filter = () => {
      const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
      const hits = rows.filter((row) => words.every((word) => row.text.includes(word)));
      const none = rows.length === 0 ? emptyPart(refresh) : h('p', {}, _('No set holds these words.'));
      list.replaceChildren(...demo, ...(hits.length > 0 ? hits.map((row) => row.element) : [none]));
    };
    keeping.replaceChildren(await keepingLine());
    search.oninput = filter;
    search.hidden = rows.length + lots.taken.size < 4;
    filter();
  };
  main.replaceChildren(
    h('header', { class: 'top' }, h('div', {}, h('h1', {}, _('Notebook')), h('p', { class: 'sub' }, _('What is it, what is missing, what is it worth?'))), h('a', { class: 'button', href: '#/sales' }, _('Sales log'))),
    h('div', { class: 'page notebook' }, start, h('button', { class: 'button', onclick: startLot }, _('New lot')), chooser, search, list,
      h('a', { class: 'row-link', href: '#/photos' }, _('Many photos at once, labels ›')), keeping));
  await refresh();
  return { refresh };
}

/** Lots and the sets that show under them. */
async function lotsOf(sets) {
  const lots = await (await openDatabase()).all('lots');
  // Most people have none, and a first visit pays for every file.
  return lots.length === 0 ? { rows: [], taken: new Set() } : (await import('../ui/lot_rows.js')).lotRows(lots, sets);
}

function startLot() {
  import('../ui/lot_rows.js').then(({ beginLot }) => beginLot()).catch((problem) => notice('save', problem.message, { kind: 'bad' }));
}

async function openChooser(chooser, start) {
  const opening = chooser.hidden;
  chooser.hidden = !opening;
  start.setAttribute('aria-expanded', String(opening));
  if (!opening) return;
  const [{ families, sheets }, sets, own] = await Promise.all([packIndex(), allSets(), ownSheets()]);
  // What one met last is likely what one meets next.
  const lately = [...new Set(sets.map((foundSet) => foundSet.base.family)), ...families.map((family) => family.id)];
  const parts = families.toSorted((a, b) => lately.indexOf(a.id) - lately.indexOf(b.id)).map((family) => [family.id,
    h('section', {}, h('h2', {}, family.name), h('p', { class: 'help' }, family.about),
      h('div', { class: 'options' },
        ...Object.entries(sheets).filter(([, sheet]) => sheet.sheet.family === family.id)
          .map(([id, sheet]) => choice(sheet.name, family.id, id)),
        ...own.filter((row) => row.family === family.id && row.name).map((row) => choice(row.name, family.id, row.id)),
        choice(_('Type not known'), family.id, null)),
      sheetLinks(own, family.id))]);
  chooser.replaceChildren(plateField(parts), ...parts.map(([, part]) => part));
}

/** The model sheets made on this phone; one without a name is a draft. */
async function ownSheets() {
  // Most people have none, and a first visit pays for every file.
  if ((await (await openDatabase()).all('sheets')).length === 0) return [];
  const { listSheets, sheetName } = await import('../store/sheets.js');
  return (await listSheets()).map((sheet) => ({ id: sheet.id, family: sheet.family, name: sheetName(sheet) }));
}

function sheetLinks(own, family) {
  const link = (name, text) => h('a', { class: 'button quiet', href: `#/sheet/${name}` }, text);
  return h('p', { class: 'links' }, ...own.filter((row) => row.family === family)
    .map((row) => link(row.id, row.name ? _('Edit {name}', { name: row.name }) : _('Go on with a draft'))), link(`new/${family}`, _('Make a model sheet')));
}

/** A field for the plate's text: it says what the letters mean and shows the kinds that they name. */
function plateField(parts) {
  const input = /** @type {HTMLInputElement} */ (h('input', {
    autocomplete: 'off', autocapitalize: 'characters', maxlength: 400, placeholder: _('AN/… or leave empty'),
  }));
  const said = h('div', { class: 'reading', role: 'status' });
  input.addEventListener('input', async () => {
    const [{ plateReading }, tables] = await Promise.all([import('../ui/readings.js'), lateTables()]).catch(() => [{}, null]);
    if (!tables) {
      said.textContent = _('The table of letters is not on this phone yet.');
      return;
    }
    const { families, shown } = plateReading(tables.nomenclature, input.value);
    const named = parts.filter(([, part]) => namesOne(part, input.value)).map(([id]) => id);
    said.replaceChildren(...(named.length > 0 ? [_('A type of that name is below.')] : input.value.trim() ? shown : []));
    const wanted = named.length > 0 ? named : families;
    for (const [id, part] of parts) part.hidden = wanted.length > 0 && !wanted.includes(id);
  });
  return h('div', {}, labelled(_('What the nameplate says'), input), said);
}

/** Whether a plate's text names one of the types that stand in a part of the chooser. */
function namesOne(part, text) {
  const plain = (words) => ` ${words.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()} `;
  return [...part.querySelectorAll('.option:not(:last-child)')].some((option) => plain(text).includes(plain(option.textContent)));
}

function choice(label, family, sheet) {
  return h('button', { class: 'option', onclick: async (event) => {
    try {
      // What was typed off the plate is the new set's first finding.
      const plate = event.target.closest('.chooser').querySelector('input').value;
      location.hash = `#/set/${await newSet(family, sheet, plate)}`;
    } catch (problem) {
      notice('save', problem.message, { kind: 'bad' });
    }
  } }, label);
}

/** One line of the list, with its range; a set whose tables are not on the phone says so. */
async function setRow(foundSet, log, state) {
  const { base } = foundSet;
  const title = foundSet.get('title') || base.model_sheet || base.family;
  const text = [title, foundSet.get('place'), foundSet.get('note'), foundSet.get('label'), foundSet.found('serial').text].filter(Boolean).join(' ').toLowerCase();
  let range = _('the rule tables for it are not on this phone yet');
  try {
    const prepared = await prepareFor(base.family, base.model_sheet);
    const sales = await comparablesOf(base, log);
    if (sales.length > 0) await loadReasons(base.family).catch(() => undefined);
    const { findings } = readFindings(foundSet.findings(prepared, sales), prepared);
    const fair = fairRange(prepared, numbers(prepared, findings));
    const money = moneyWriter(findings.currency, prepared.pack);
    const outcome = foundSet.get('outcome');
    const asks = findings.asking === null ? '' : _('they ask {price}', { price: money.say(findings.asking) });
    const last = outcome ? (await import('../ui/outcome_words.js')).outcomeWords(outcome) : asks;
    range = [_('{low} to {high}', { low: money.say(fair.low), high: money.say(fair.high) }), last].filter(Boolean).join(' · ');
  } catch {
    // Said in the line itself.
  }
  const element = h('div', { class: 'set-row' },
    h('a', { class: 'row-link', href: `#/set/${base.id}` },
      h('strong', {}, title, base.demo ? h('span', { class: 'tag' }, _('Demo')) : ''),
      h('span', { class: 'sub' }, [foundSet.get('place'), foundSet.get('label'), foundSet.get('claims') && _('copy of a seller’s page')].filter(Boolean).join(' · ')), h('span', {}, range), state && h('span', { class: 'fine', 'data-state': base.id }, state)),
    h('button', { class: 'button quiet', 'aria-label': _('Remove {name}', { name: title }), onclick: () => remove([foundSet], title) }, _('Remove')));
  return { element, text };
}

/** Puts sets in the bin; the undo stays on screen until it is closed. */
async function remove(sets, what) {
  const bases = sets.map((foundSet) => foundSet.base);
  const redraw = () => window.dispatchEvent(new Event('underchassis-changed'));
  try {
    await binSets(bases, true);
    notice('removed', _('{name} removed.', { name: what }), { actions: [[_('Undo'), async () => {
      clearNotice('removed');
      await binSets(bases, false);
      redraw();
    }]] });
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
  redraw();
}

function emptyPart(refresh) {
  return h('section', { class: 'card' },
    h('p', {}, _('No sets yet. Start one when you stand before it, or look at three invented ones first.')),
    h('button', { class: 'button', onclick: async () => {
      try {
        await openDemo(assetUrl('demo.json'));
        await refresh();
      } catch (problem) {
        notice('demo', problem.message, { kind: 'bad' });
      }
    } }, _('Open the demo notebook')));
}
