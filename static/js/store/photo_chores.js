/** What is done for photos after each start, when nobody waits: the bin's old ones go, the demo's come. */
import { openDatabase } from './database.js';
import { assetUrl } from './packs.js';
import { purgeOld } from './photo_bin.js';
import { thumbOf } from './photo_intake.js';
import { refuseWithoutRoom } from './photos.js';
import { save } from './saving.js';

/** @param {boolean} demo whether this server has a demo */
export async function photoChores(demo) {
  await purgeOld();
  if (demo) await fetchDemoPhotos();
}

/** Brings the demo's photos that are not here; without a signal they come at a later start. */
async function fetchDemoPhotos() {
  const database = await openDatabase();
  const sets = new Set((await database.all('sets')).filter((base) => base.demo && !base.removed).map((base) => base.id));
  const wanted = [...sets].sort().join(' ');
  if (sets.size === 0 || (await database.get('meta', 'demo-photos'))?.value === wanted) return;
  for (const entry of await (await fetched('photos.json')).json()) {
    const id = `demo-${entry.file}`;
    if (sets.has(entry.set) && !await database.get('photos', id)) await keepDemoPhoto(id, entry);
  }
  await save(({ put }) => put('meta', { key: 'demo-photos', value: wanted }));
}

async function fetched(name) {
  const answer = await fetch(assetUrl(`demo/${name}`));
  if (!answer.ok) throw new Error(`The demo photo ${name} is not there.`);
  return answer;
}

/** As it is, to the pixel: what is said about its holes holds for these pixels. */
async function keepDemoPhoto(id, { file, set, about }) {
  const blob = await (await fetched(file)).blob();
  const bitmap = await createImageBitmap(blob);
  const { width, height } = bitmap;
  const thumb = await thumbOf(bitmap);
  bitmap.close();
  await refuseWithoutRoom(blob.size);
  const now = new Date().toISOString();
  await save(({ put }) => {
    put('photos', { id, set, about, taken: now, changed: now, width, height, bytes: blob.size, thumb, demo: true });
    put('photo_files', { id, blob });
  }, set);
}
