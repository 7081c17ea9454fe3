/** One round of backing up: findings both ways until nothing is left, then pictures. */
import { backupOf, beginAnew, countWaiting, keepBackup, nextToSend, takeAnswer } from '../store/backup.js';
import { carryPictures } from './pictures.js';
import { ask, Refusal } from './server.js';

/** One tab at a time, and never while the key changes. @template T @param {() => Promise<T>} work @returns {Promise<T>} */
export const alone = (work) => navigator.locks.request('underchassis-backup', work);

/**
 * @param {{taken: (taken: {records: [string, string][], removed: string[]}) => void, carried: (progress: any) => void}} tell
 * @returns {Promise<string | null>} why something was left; empty when all is there, null when nothing is backed up. Rejects with Unreachable, Refusal or SaveProblem
 */
export const round = (tell) => alone(async () => {
  if (!await backupOf()) return null;
  await settleKey();
  await exchangeAll(tell.taken);
  const left = await carryPictures((await backupOf()).key, tell.carried);
  await keepBackup({ done: new Date().toISOString() });
  return left;
});

/** A replacement of the key whose answer was lost: the one that opens the notebook counts. */
async function settleKey() {
  const { next } = await backupOf();
  if (!next) return;
  try {
    await ask(next, '/contents');
    await keepBackup({ key: next, next: undefined });
  } catch (problem) {
    if (!(problem instanceof Refusal)) throw problem;
    await keepBackup({ next: undefined });
  }
}

async function exchangeAll(taken) {
  for (let more = true; more;) {
    const { key, generation, cursor } = await backupOf();
    const operations = await nextToSend();
    try {
      const answer = await (await ask(key, '/exchange', { method: 'POST', json: { generation, since: cursor, operations } })).json();
      const { records, removed } = await takeAnswer(operations, answer);
      if (records.length > 0) taken({ records, removed });
      more = answer.more || await countWaiting() > 0;
    } catch (problem) {
      if (problem.code !== 'other-generation') throw problem;
      await beginAnew();
    }
  }
}
