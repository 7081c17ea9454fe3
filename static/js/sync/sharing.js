/**
 * Sharing a description by a link that can be taken back. The page stands on the server where the notebook is backed up.
 *
 * @typedef {Object} Share the finding `share` of a set
 * @property {string} token of the page's address: 128 random bits
 * @property {string} origin of the server
 * @property {string} published the day on which its content was sent last
 * @property {string} digest of that content, but for the day of writing
 * @property {string | null} expires last day of the link
 * @property {boolean} withdrawn
 */
import { backupOf } from '../store/backup.js';
import { sha256Of } from '../store/digest.js';
import { openDatabase } from '../store/database.js';
import { save } from '../store/saving.js';
import { backupWatch } from './backup_watch.js';
import { newKey } from './key.js';
import { begin } from './membership.js';
import { ask } from './server.js';

/** The public address. @param {Share} share */
export const addressOf = ({ origin, token }) => `${origin}/d/${token}`;

/** What tells whether a page says what the phone says now. @param {any} document @param {boolean} found */
export async function digestOf(document, found) {
  const { written, findings: { today, ...findings }, ...rest } = document;
  return sha256Of(new Blob([JSON.stringify({ ...rest, findings, found })]));
}

/** Whether this notebook has a place on the server, which a link needs. */
export const hasPlace = async () => Boolean((await backupOf())?.key);

/**
 * Publishes a description, under the link that the set has or under a new one.
 * @param {import('../store/found_set.js').FoundSet} foundSet
 * @param {any} document
 * @param {{found: boolean, expires: string | null}} wishes
 * @returns {Promise<Share>} once the link is kept here; rejects with Unreachable, Refusal or SaveProblem
 */
export async function publish(foundSet, document, { found, expires }) {
  if (!await hasPlace()) await begin();
  const { key } = await backupOf();
  const before = foundSet.get('share');
  // A link is kept before the server makes it, so that one that was made can always be taken back.
  const token = before && !before.withdrawn ? before.token : newKey();
  const share = { token, origin: location.origin, published: '', digest: '', expires, withdrawn: false };
  await foundSet.put('share', before?.token === token ? before : share);
  await ask(key, `/shares/${token}`, { method: 'PUT', json: { document, expires, found } });
  const published = { ...share, published: document.written, digest: await digestOf(document, found) };
  await foundSet.put('share', published);
  // Photos that the page shows go to the server with the next round.
  backupWatch.now();
  await tagOf(published).catch(() => undefined);
  return published;
}

/** Takes a link back for good. @param {import('../store/found_set.js').FoundSet} foundSet */
export async function withdraw(foundSet) {
  const share = foundSet.get('share');
  const { key = '' } = await backupOf() ?? {};
  await ask(key, `/shares/${share.token}`, { method: 'DELETE' }).catch((problem) => {
    // A link whose making never reached the server opens nothing either.
    if (problem.code !== 'not-known') throw problem;
  });
  await foundSet.put('share', { ...share, withdrawn: true });
}

/** The tag to tape on the set, drawn by the server once and kept. @param {Share} share @returns {Promise<string>} SVG */
export async function tagOf({ token, origin }) {
  const database = await openDatabase();
  const kept = (await database.get('meta', `tag/${token}`))?.value;
  if (kept) return kept;
  const { key = '' } = await backupOf() ?? {};
  const svg = await (await ask(key, `/shares/${token}/tag?address=${encodeURIComponent(origin)}`)).text();
  await save(({ put }) => put('meta', { key: `tag/${token}`, value: svg }));
  return svg;
}
