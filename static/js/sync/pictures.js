/** Pictures travel one by one beside the findings, each in parts, and go on where they were cut off. */
import { _ } from '../language.js';
import { keepPicture, pictureSent, picturesToSend, picturesWanted } from '../store/backup.js';
import { sha256Of } from '../store/digest.js';
import { thumbOf } from '../store/photo_intake.js';
import { pictureOf, refuseWithoutRoom } from '../store/photos.js';
import { ask, Refusal } from './server.js';

const PART = 256 * 1024;
const MOST_ASKED = 500;

/**
 * @param {string} key
 * @param {(progress: {way: 'up' | 'down', done: number, of: number}) => void} tell after each part
 * @returns {Promise<string>} why some were left; empty when all are there
 */
export async function carryPictures(key, tell) {
  return await sendAll(key, tell) || fetchAll(key, tell);
}

async function sendAll(key, tell) {
  const photos = await picturesToSend();
  const there = await heldOf(key, photos.map(({ sha256 }) => sha256));
  const of = photos.reduce((sum, { bytes }) => sum + bytes, 0);
  let done = 0;
  let left = '';
  for (const { id, sha256, bytes } of photos) {
    const before = done;
    try {
      await send(key, id, sha256, there.get(sha256) ?? 0, (sent) => tell({ way: 'up', done: before + sent, of }));
    } catch (problem) {
      // One that the server refuses holds up no other.
      if (!(problem instanceof Refusal) || problem.code === 'notebook-full' || problem.code === 'server-full') throw problem;
      left ||= problem.message;
    }
    done += bytes;
    tell({ way: 'up', done, of });
  }
  return left;
}

/** How many bytes of each picture are there; infinitely many of a whole one. */
async function heldOf(key, hashes) {
  const there = new Map();
  for (let at = 0; at < hashes.length; at += MOST_ASKED) {
    const { held, whole } = await (await ask(key, '/pictures/held', { method: 'POST', json: { hashes: hashes.slice(at, at + MOST_ASKED) } })).json();
    for (const [hash, bytes] of Object.entries(held)) there.set(hash, bytes);
    for (const hash of whole) there.set(hash, Infinity);
  }
  return there;
}

async function send(key, id, hash, held, tell) {
  const picture = await pictureOf(id);
  if (!picture) return;
  const total = picture.size;
  for (let at = held; at < total;) {
    const end = Math.min(at + PART, total);
    const range = { 'Content-Range': `bytes ${at}-${end - 1}/${total}`, 'Content-Type': 'application/octet-stream' };
    try {
      const answer = await (await ask(key, `/pictures/${hash}`, { method: 'PUT', body: picture.slice(at, end), headers: range })).json();
      at = answer.whole ? total : answer.held;
    } catch (problem) {
      // Another tab or device sent the same picture meanwhile.
      if (problem.code !== 'part-does-not-follow' || problem.more.held === at) throw problem;
      at = problem.more.held;
    }
    tell(Math.min(at, total));
  }
  await pictureSent(id);
}

async function fetchAll(key, tell) {
  const photos = await picturesWanted();
  const of = photos.reduce((sum, { bytes }) => sum + bytes, 0);
  let done = 0;
  let left = '';
  for (const { id, sha256, bytes } of photos) {
    try {
      left = await fetchOne(key, id, sha256) || left;
    } catch (problem) {
      if (!problem.full) throw problem;
      return _('Findings are backed up, but photos of another device find no room on this one. Free some space; they come by themselves then.');
    }
    done += bytes;
    tell({ way: 'down', done, of });
  }
  return left;
}

/** @returns {Promise<string>} why it stays where it is */
async function fetchOne(key, id, hash) {
  let picture;
  try {
    picture = await (await ask(key, `/pictures/${hash}`)).blob();
  } catch (problem) {
    if (problem instanceof Refusal) return _('A photo is still on the device that took it.');
    throw problem;
  }
  const bitmap = await sha256Of(picture) === hash && await createImageBitmap(picture).catch(() => null);
  if (!bitmap) return _('A photo came damaged. It is fetched again next time.');
  const thumb = await thumbOf(bitmap);
  bitmap.close();
  await refuseWithoutRoom(picture.size);
  await keepPicture(id, new Blob([picture], { type: 'image/jpeg' }), thumb);
  return '';
}
