/** Backs up by itself: after each change, on start, when a signal comes back; after a failure with growing pauses. */
import { onOtherTab, onSaved } from '../store/saving.js';
import { round } from './round.js';
import { Unreachable } from './server.js';

/** Pauses in milliseconds: after a change, so that a row of taps goes as one; after failures; and between looks for news. */
const [AFTER_CHANGE, FIRST, LONGEST, NEWS] = [1500, 5_000, 600_000, 300_000];

/**
 * @typedef {Object} State
 * @property {'off' | 'working' | 'done' | 'failed'} what
 * @property {string} why it failed, or what was left
 * @property {boolean} lost the key opens nothing any more: trying again mends nothing
 * @property {{way: 'up' | 'down', done: number, of: number} | null} progress of pictures
 */

/** Tells `change` on each new state, and `taken` with what other devices changed. */
class BackupWatch extends EventTarget {
  constructor() {
    super();
    /** @type {State} */
    this.state = { what: 'off', why: '', lost: false, progress: null };
    this.watching = false;
    this.failures = 0;
    this.timer = 0;
    /** @type {Promise<void> | null} */
    this.running = null;
    this.again = false;
  }

  /** Begins to watch; the first round starts at once. */
  begin() {
    if (this.watching) return this.now();
    this.watching = true;
    onSaved(() => this.soon(AFTER_CHANGE));
    onOtherTab(() => this.soon(AFTER_CHANGE));
    window.addEventListener('online', () => this.now());
    document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && this.now());
    return this.now();
  }

  /** One round now, or one more once the running one ends. @returns {Promise<void>} never rejects */
  now() {
    clearTimeout(this.timer);
    this.again = Boolean(this.running);
    this.running ??= this.turn().finally(() => {
      this.running = null;
      if (this.again) this.now();
    });
    return this.running;
  }

  /** @param {number} pause */
  soon(pause) {
    if (this.state.what === 'off') return;
    // While the server cannot be reached, each tap would ask it in vain.
    if (this.failures > 0 || this.running) {
      this.again = Boolean(this.running);
      return;
    }
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.now(), pause);
  }

  async turn() {
    this.again = false;
    this.show({ what: 'working' });
    try {
      const why = await round({
        taken: (taken) => this.dispatchEvent(new CustomEvent('taken', { detail: taken })),
        carried: (progress) => this.show({ what: 'working', progress }),
      });
      this.failures = 0;
      this.show(why === null ? { what: 'off' } : { what: 'done', why });
      if (why !== null) this.timer = setTimeout(() => this.now(), NEWS);
    } catch (problem) {
      this.show({ what: 'failed', why: problem.message, lost: ['key-unknown', 'key-replaced'].includes(problem.code) });
      const pause = Math.max(Math.min(FIRST * 2 ** this.failures, LONGEST), problem instanceof Unreachable ? problem.seconds * 1000 : LONGEST);
      this.failures += 1;
      this.timer = setTimeout(() => this.now(), pause);
    }
  }

  /** @param {Partial<State>} state */
  show(state) {
    this.state = { what: 'working', why: '', lost: false, progress: null, ...state };
    this.dispatchEvent(new Event('change'));
  }
}

export const backupWatch = new BackupWatch();
