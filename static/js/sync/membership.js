/** Beginning a backup, taking part in one, replacing its key, leaving it. */
import { backupOf, beginBackup, endBackup, keepBackup } from '../store/backup.js';
import { tellTabs } from '../store/saving.js';
import { backupWatch } from './backup_watch.js';
import { newKey } from './key.js';
import { alone } from './round.js';
import { ask } from './server.js';

/** Makes a key and a notebook on the server, and begins to send. @returns {Promise<void>} rejects with Unreachable or Refusal */
export async function begin() {
  await join(newKey());
}

/** Takes part in the notebook that a key opens, or makes it. Everything here goes there, and everything there comes here. @param {string} key */
export async function join(key) {
  await ask(key, '', { method: 'PUT', json: {} });
  await alone(() => beginBackup(key));
  tellTabs('');
  window.dispatchEvent(new Event('underchassis-backup'));
}

/** What the notebook of a key holds on the server. @param {string} key @returns {Promise<any>} rejects with Unreachable or Refusal */
export const contents = async (key) => (await ask(key, '/contents')).json();

/** A new key in place of this one, which opens nothing from then on. */
export const replaceKey = () => alone(async () => {
  const { key } = await backupOf();
  const next = newKey();
  // Should the answer be lost, the next round finds out which of the two counts.
  await keepBackup({ next });
  await ask(key, '/key', { method: 'POST', json: { key: next } });
  await keepBackup({ key: next, next: undefined });
});

/** Stops backing up from this device; what is here stays here, and what is there stays there. */
export async function leave() {
  await alone(endBackup);
  await backupWatch.now();
}

/** Removes the notebook from the server, for every device; what is here stays. */
export async function removeFromServer() {
  await ask((await backupOf()).key, '', { method: 'DELETE' });
  await leave();
}

/** The key as a picture that a camera reads; drawn by the server once, then kept. @returns {Promise<string>} SVG */
export async function keyPicture() {
  const { key, picture } = await backupOf();
  if (picture?.key === key) return picture.svg;
  const svg = await (await ask(key, '/key/code', { method: 'POST', json: { address: location.origin } })).text();
  await keepBackup({ picture: { key, svg } });
  return svg;
}
