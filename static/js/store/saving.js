/** Every write goes through here: nothing is reported as saved before the database says `complete`. */
import { _ } from '../language.js';
import { afterFrame } from './after_frame.js';
import { openDatabase } from './database.js';

/** @type {Set<Promise<void>>} */
const pending = new Set();
const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel('underchassis') : null;

/**
 * Writes in one transaction, then tells the other tabs.
 * @param {Parameters<import('./database.js').Database['change']>[0]} write
 * @param {string} [about] id of the set it concerns
 * @returns {Promise<void>} rejects with a SaveProblem
 */
export function save(write, about = '') {
  // The tap's answer comes first on the screen, then on the disk; its mark stays until it is on both.
  const saving = afterFrame()
    .then(openDatabase)
    .then((database) => database.change(write))
    .then(() => {
      tellTabs(about);
      for (const tell of told) tell();
    })
    .catch((reason) => {
      throw new SaveProblem(reason);
    });
  pending.add(saving);
  const done = () => pending.delete(saving);
  saving.then(done, done);
  return saving;
}

/** Resolves when everything entered in this tab is stored; rejects when some of it could not be. */
export async function settle() {
  await Promise.all(pending);
}

/** Tells the other tabs that something was stored. @param {string} about id of the set it concerns */
export const tellTabs = (about) => channel?.postMessage({ set: about });

/** @type {(() => void)[]} */
const told = [];

/** Calls back when this tab stored something. @param {() => void} tell */
export function onSaved(tell) {
  told.push(tell);
}

/**
 * Calls back when another tab changed something.
 * @param {(set: string) => void} tell
 */
export function onOtherTab(tell) {
  channel?.addEventListener('message', (event) => tell(event.data.set));
}

/** What the browser refused to store, in words for the person. */
export class SaveProblem extends Error {
  /** @param {any} reason */
  constructor(reason) {
    const full = reason?.name === 'QuotaExceededError';
    const why = reason?.message || reason?.name || _('no reason given');
    super(full
      ? _('This phone has no space left for the app. Free some space, then try again; export what is here first.')
      : _('The browser could not save it ({why}). Try again; if it fails once more, export the notebook before you close this page.', { why }));
    this.name = 'SaveProblem';
    this.full = full;
  }
}
