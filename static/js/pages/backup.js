/** Second device and backup: its state, the key, this device's name, and what the server holds. */
import { backupOf } from '../store/backup.js';
import { backupStates } from '../store/backup_states.js';
import { nameDevice, thisDevice } from '../store/device.js';
import { localDay } from '../store/found_set.js';
import { differences } from '../store/history.js';
import { loadPack } from '../store/packs.js';
import { openSet } from '../store/notebook.js';
import { sayBytes } from '../store/photo_intake.js';
import { backupWatch } from '../sync/backup_watch.js';
import { contents, leave, removeFromServer, replaceKey } from '../sync/membership.js';
import { beginParts, joinPart } from '../ui/backup_begin.js';
import { keyPart } from '../ui/backup_key.js';
import { sayState } from '../ui/backup_words.js';
import { confirmed } from '../ui/confirm.js';
import { differencesCard } from '../ui/differences.js';
import { h, setText } from '../ui/element.js';
import { labelled } from '../ui/fields.js';
import { notice } from '../ui/notices.js';
import { countPhotos } from '../ui/photo_words.js';
import { sayDay } from '../ui/sale_words.js';
import { useStyle } from '../ui/style_sheet.js';

const sayProblem = (problem) => notice('backup', problem.message, { kind: 'bad' });

/** @param {HTMLElement} main */
export async function showBackup(main) {
  document.title = 'Second device and backup · Underchassis';
  const body = h('div', { class: 'page backup' });
  const state = new StateCard();
  const draw = async () => {
    const [backup, device, differing] = await Promise.all([backupOf(), thisDevice(), differencesPart(), useStyle('backup')]);
    body.replaceChildren(...(backup
      ? [state.element, differing, keyCard(backup, draw), deviceCard(device), serverCard(backup, draw)]
      : [h('section', { class: 'card' }, h('h2', {}, 'Backup'), ...await beginParts(draw)), differing, deviceCard(device)]).filter(Boolean));
    await state.show();
  };
  const follow = () => state.show();
  backupWatch.addEventListener('change', follow);
  window.addEventListener('hashchange', () => backupWatch.removeEventListener('change', follow), { once: true });
  main.replaceChildren(h('header', { class: 'top' }, h('a', { class: 'back', href: '#/about', 'aria-label': 'Keeping and exporting' }, '‹'), h('h1', {}, 'Second device and backup')), body);
  await draw();
  return { refresh: async () => {
    await state.show();
    const before = body.querySelector('.differs');
    const now = await differencesPart();
    if (before && now) before.replaceWith(now);
    else if (before || now) await draw();
  } };
}

async function differencesPart() {
  const found = await differences();
  const packs = new Map(await Promise.all(found.map(async ({ kind, record }) => {
    const foundSet = kind === 'findings' ? await openSet(record.slice(0, record.indexOf('/'))) : null;
    return [record, foundSet && await loadPack(foundSet.base.family).catch(() => null)];
  })));
  return differencesCard(found, ({ record }) => packs.get(record));
}

/** The state in words, with a bar while pictures travel. */
class StateCard {
  constructor() {
    this.said = h('p', { role: 'status' });
    this.more = h('p', { class: 'fine' });
    this.meter = /** @type {HTMLProgressElement} */ (h('progress', { 'aria-label': 'Photos under way', hidden: true }));
    this.button = h('button', { class: 'button', onclick: () => backupWatch.now() }, 'Back up now');
    this.element = h('section', { class: 'card' }, h('h2', {}, 'Backup'), this.said, this.meter, this.more, this.button);
  }

  async show() {
    const [backup, { all }] = await Promise.all([backupOf(), backupStates()]);
    if (!backup) return;
    const { state } = backupWatch;
    const { progress } = state;
    this.meter.hidden = !progress;
    if (progress) {
      this.meter.max = Math.max(1, progress.of);
      this.meter.value = progress.done;
    }
    setText(this.said, stateWords(backup, state));
    const said = sayState(all, state);
    setText(this.more, said === 'Backed up' ? `Every finding and ${countPhotos(all.photos)} of this device are on ${location.host}.` : said);
  }
}

function stateWords({ done }, { what, why, progress }) {
  if (progress) return `Photos ${progress.way === 'up' ? 'going to the server' : 'coming from another device'}: ${sayBytes(progress.done)} of ${sayBytes(progress.of)}.`;
  // Until the first round has ended, nothing is known to be there.
  if (what === 'working' || what === 'off') return 'Backing up …';
  const last = done ? ` Last complete: ${new Date(done).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })}.` : '';
  if (what === 'failed') return `Could not be backed up: ${why} It is tried again by itself.${last}`;
  return why ? `${why}${last}` : `Backed up.${last}`;
}

function keyCard({ key }, draw) {
  return h('section', { class: 'card key-card' }, h('h2', {}, 'A second device'), h('p', {}, 'A second device takes part with the key of this notebook.'), keyPart(key),
    confirmed('Replace the key', 'Every other device, and every printed sheet, then stops working until it gets the new key. Do so when a device or a sheet was lost.', 'Yes, make a new key',
      () => replaceKey().then(() => notice('backup', 'The key was replaced. Give your other devices the new one.')).then(draw, sayProblem)));
}

function deviceCard({ name }) {
  const input = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', maxlength: 40, value: name }));
  input.addEventListener('input', () => nameDevice(input.value.trim()).catch(sayProblem));
  return h('section', { class: 'card' }, h('h2', {}, 'This device'), labelled('What it is called in the history', input));
}

function serverCard({ key }, draw) {
  const place = h('div', {});
  const look = h('button', { class: 'button', onclick: () => contents(key).then((there) => place.replaceChildren(...heldParts(there)), sayProblem) }, 'See what the server holds');
  return h('section', { class: 'card' }, h('h2', {}, 'The server'), look, place,
    h('details', {}, h('summary', {}, 'Leave, or remove the copy'), ...joinPart(),
      confirmed('Stop on this device', 'Nothing is removed, here or there. This device forgets the key: write it down first if no other device has it.', 'Yes, stop here', () => leave().then(draw, sayProblem)),
      confirmed('Remove the copy on the server', 'The server forgets the whole notebook, for all devices that share it. What is on each device stays there. This cannot be taken back.', 'Yes, remove it for all', () => removeFromServer().then(draw, sayProblem))));
}

function heldParts({ sets, operations, bytes, photos, limits }) {
  const share = (used, most) => `${Math.max(1, Math.ceil(100 * used / most))} %`;
  return [h('p', {}, `${operations} findings and changes (${sayBytes(bytes)}), ${countPhotos(photos.count)} (${sayBytes(photos.bytes)}). ${share(Math.max(bytes / limits.bytes, photos.bytes / limits.photo_bytes, operations / limits.operations), 1)} of its room is used.`),
    h('ul', { class: 'rows held' }, ...sets.slice(0, 200).map((row) => h('li', {}, h('strong', {}, row.title || row.family || 'A set without a name'),
      h('span', { class: 'fine' }, [row.removed && 'removed', `${row.findings} findings`, row.photos > 0 && `${row.photos_held} of ${countPhotos(row.photos)}`, row.changed > 0 && sayDay(localDay(new Date(row.changed)))].filter(Boolean).join(' · '))))),
    sets.length > 200 && h('p', { class: 'fine' }, `And ${sets.length - 200} more.`)].filter(Boolean);
}
