/** Second device and backup: its state, the key, this device's name, and what the server holds. */
import { _ } from '../language.js';
import { backupOf } from '../store/backup.js';
import { nameDevice, thisDevice } from '../store/device.js';
import { differences } from '../store/history.js';
import { backupWatch } from '../sync/backup_watch.js';
import { replaceKey } from '../sync/membership.js';
import { beginParts } from '../ui/backup_begin.js';
import { keyPart } from '../ui/backup_key.js';
import { serverCard } from '../ui/backup_server.js';
import { BackupStateCard } from '../ui/backup_state_card.js';
import { confirmed } from '../ui/confirm.js';
import { differencesCard } from '../ui/differences.js';
import { h } from '../ui/element.js';
import { labelled } from '../ui/fields.js';
import { notice } from '../ui/notices.js';
import { useStyle } from '../ui/style_sheet.js';

const sayProblem = (problem) => notice('backup', problem.message, { kind: 'bad' });
const keyNow = async () => (await backupOf())?.key ?? '';

/** @param {HTMLElement} main */
export async function showBackup(main) {
  document.title = `${_('Second device and backup')} · Underchassis`;
  const body = h('div', { class: 'page backup' });
  const state = new BackupStateCard();
  const differing = h('div', {});
  let shown = '';
  const draw = async () => {
    const [backup, device] = await Promise.all([backupOf(), thisDevice(), useStyle('backup')]);
    shown = backup?.key ?? '';
    body.replaceChildren(...(backup
      ? [state.element, differing, keyCard(draw), deviceCard(device), serverCard(keyNow, draw)]
      : [h('section', { class: 'card' }, h('h2', {}, _('Backup')), ...await beginParts(draw)), differing, deviceCard(device)]));
    await refresh();
  };
  const refresh = async () => {
    // Another tab, or a lost answer that was made up for, may have changed the key.
    if (await keyNow() !== shown) return draw();
    await state.show();
    const card = await differencesCard(await differences(), { named: true });
    differing.replaceChildren(...card ? [card] : []);
    return undefined;
  };
  backupWatch.addEventListener('change', refresh);
  window.addEventListener('hashchange', () => backupWatch.removeEventListener('change', refresh), { once: true });
  main.replaceChildren(h('header', { class: 'top' }, h('a', { class: 'back', href: '#/about', 'aria-label': _('Keeping and exporting') }, '‹'), h('h1', { tabindex: -1 }, _('Second device and backup'))), body);
  await draw();
  return { refresh };
}

function keyCard(draw) {
  const replace = () => replaceKey().then(() => notice('backup', _('The key was replaced. This device goes on; give your other devices the new one.'), { passing: true }), sayProblem).then(draw);
  return h('section', { class: 'card key-card' }, h('h2', {}, _('A second device')), h('p', {}, _('Tap “Show the key” here, and scan it with the other device or type its words there.')), keyPart(keyNow),
    confirmed(_('Replace the key'), _('This device goes on with the new key. Every other device stops until it gets it, and printed sheets open nothing any more: throw them away. Do so when a device or a sheet was lost.'), _('Yes, make a new key'), replace));
}

function deviceCard({ name }) {
  const input = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', maxlength: 40, value: name }));
  input.addEventListener('input', () => nameDevice(input.value.trim()).catch(sayProblem));
  return h('section', { class: 'card' }, h('h2', {}, _('This device')), labelled(_('What it is called in the history'), input));
}
