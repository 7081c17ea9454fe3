/** The app's entry: shows the page that the address names, and watches versions and other tabs. */
import { _, loadLanguage } from './language.js';
import { openDatabase } from './store/database.js';
import { demoWasShown, openDemo } from './store/notebook.js';
import { assetUrl } from './store/packs.js';
import { onOtherTab, settle } from './store/saving.js';
import { showNotebook } from './pages/notebook.js';
import { showSet } from './pages/set.js';
import { takeOver, watchVersion } from './sync/version.js';
import { h } from './ui/element.js';
import { clearNotice, notice, noticeRegion } from './ui/notices.js';
import { setOfflineState } from './ui/offline_state.js';
import { ignoreBounces } from './ui/taps.js';

const main = h('main', { id: 'main' });
/** @type {{refresh: () => Promise<void>, photosChanged?: () => Promise<void>} | null} */
let page = null;
/** @type {Map<string, number>} */
const scrolled = new Map();
let shown = '';
/** The key that was scanned. */
let offered = '';

/** Pages by the first word of the address after `#/`. */
async function open([name, ...words]) {
  const [id, check] = words;
  if (name === 'set' && id) return showSet(main, id, check ?? null);
  if (name === 'verdict' && id) return (await import('./pages/verdict.js')).showVerdict(main, id);
  if (name === 'mends' && id) return (await import('./pages/mends.js')).showMends(main, id);
  if (name === 'reference' && id) return (await import('./pages/reference.js')).showReference(main, id);
  if (name === 'trust' && id) return (await import('./pages/trust.js')).showTrust(main, id);
  if (name === 'description' && id) return (await import('./pages/description.js')).showDescription(main, id);
  if (name === 'plan' && id) return (await import('./pages/plan.js')).showPlan(main, id);
  if (name === 'record') return (await import('./pages/record.js')).showRecord(main);
  if (name === 'rules') return (await import('./pages/rules.js')).showRules(main, words, shown);
  if (name === 'holes' && id) return (await import('./pages/holes.js')).showHoles(main, id, words[1] ?? null);
  if (name === 'photos') return (await import('./pages/photos.js')).showPhotos(main);
  if (name === 'photo' && id) return (await import('./pages/photo.js')).showPhoto(main, id);
  if (name === 'measure' && id === 'new') return (await import('./pages/measure_new.js')).showNewMeasure(main, check);
  if (name === 'measure' && id) return (await import('./pages/measure.js')).showMeasure(main, id);
  if (name === 'sheet' && id) return (await import('./pages/sheet.js')).showSheet(main, words);
  if (name === 'sales' && id === 'import') return (await import('./pages/sales_import.js')).showSalesImport(main);
  if (name === 'sales' && id) return (await import('./pages/sale.js')).showSale(main, words);
  if (name === 'sales') return (await import('./pages/sales.js')).showSales(main);
  if (name === 'claims' && id) return (await import('./pages/claims.js')).showClaims(main, words);
  if (name === 'lot' && id) return (await import('./pages/lot.js')).showLot(main, words);
  if (name === 'shelf') return (await import('./pages/shelf.js')).showShelf(main);
  if (name === 'backup') return (await import('./pages/backup.js')).showBackup(main);
  if (name === 'join') return (await import('./pages/join.js')).showJoin(main, offered);
  if (name === 'history' && id) return (await import('./pages/history.js')).showHistory(main, words);
  if (name === 'bin') return (await import('./pages/bin.js')).showBin(main);
  if (name === 'about') return (await import('./pages/about.js')).showAbout(main);
  return showNotebook(main);
}

/** Takes a key off the address before anybody looks over a shoulder, or back. @param {string} address */
function withoutKey(address) {
  if (!address.startsWith('join/')) return address;
  offered = address.slice('join/'.length);
  history.replaceState(null, '', '#/join');
  return 'join';
}

async function route() {
  const address = location.hash.startsWith('#/') ? withoutKey(location.hash.slice(2)) : '';
  scrolled.set(shown, window.scrollY);
  document.title = 'Underchassis';
  let words = [''];
  try {
    words = address.split('/').map(decodeURIComponent);
    page = await open(words);
  } catch (problem) {
    main.replaceChildren(h('div', { class: 'page' }, h('h1', {}, _('This page could not be opened')), h('p', {}, problem.message),
      h('a', { class: 'button', href: '#/' }, _('To the notebook'))));
    page = null;
  }
  shown = address;
  // A verdict is read from its sentence on, and a sale begins with its price; elsewhere one goes on where one was.
  if (words.length < 3) window.scrollTo(0, /^(verdict|sales\/)/.test(address) ? 0 : scrolled.get(address) ?? 0);
  main.dataset.page = words[0] || 'notebook';
}

async function refresh() {
  await page?.refresh();
}

function watch() {
  watchVersion({
    onReady: () => setOfflineState('ready'),
    onUnavailable: setOfflineState,
    onWaiting: () => notice('news', _('A new version of the app is ready. Your findings stay as they are.'), {
      actions: [[_('Use it now'), () => takeOver(settle).catch(sayUnsaved)]],
    }),
    settle,
    onUnsaved: sayUnsaved,
  });
}

function sayUnsaved(problem) {
  notice('save', _('The new version waits: {why}', { why: problem.message }), { kind: 'bad' });
}

/** Says when nothing will be kept, and puts the demo into a notebook that never had it. */
async function prepareNotebook() {
  const database = await openDatabase();
  if (!database.kept) {
    const lost = _('Nothing you enter here will be kept: this browser gives no storage, as private windows often do. Export before you close the page.');
    const toExport = () => {
      location.hash = '#/about';
      clearNotice('memory');
    };
    notice('memory', lost, { kind: 'bad', actions: [[_('Export'), toExport]] });
  }
  if (document.documentElement.dataset.demo === 'yes' && !await demoWasShown()) {
    await openDemo(assetUrl('demo.json'));
  }
}

/** Photos that no first screen waits for: those of the demo come, those long in the bin go. */
async function photoChores() {
  const demo = document.documentElement.dataset.demo === 'yes';
  if (!demo && await (await openDatabase()).count('photos') === 0) return;
  await (await import('./store/photo_chores.js')).photoChores(demo);
  await page?.photosChanged?.();
}

/** Backs up by itself, where a backup was begun. @param {boolean} [now] one round at once */
async function keepBackedUp(now = false) {
  if (!(await (await openDatabase()).get('meta', 'backup'))?.value) return;
  await (await import('./ui/backup_news.js')).followBackup(refresh, now);
}

async function begin() {
  history.scrollRestoration = 'manual';
  await loadLanguage();
  document.body.append(noticeRegion(), main);
  ignoreBounces(main);
  // Without its demo or its database the app still opens; the page itself says what is missing.
  await prepareNotebook().catch(() => undefined);
  await route();
  window.addEventListener('hashchange', route);
  window.addEventListener('underchassis-changed', refresh);
  window.addEventListener('underchassis-backup', () => keepBackedUp(true));
  onOtherTab(() => {
    refresh();
    // It may be there that a backup was begun.
    keepBackedUp();
  });
  watch();
  (window.requestIdleCallback ?? setTimeout)(() => photoChores().catch(() => undefined).then(() => keepBackedUp()).catch(() => undefined));
}

begin();
