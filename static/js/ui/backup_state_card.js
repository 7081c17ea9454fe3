/** The state of the backup: in words, with a bar while pictures travel, and what to do where nothing goes by itself. */
import { backupOf } from '../store/backup.js';
import { backupStates } from '../store/backup_states.js';
import { sayBytes } from '../store/photo_intake.js';
import { backupWatch } from '../sync/backup_watch.js';
import { begin } from '../sync/membership.js';
import { joinPart } from './backup_begin.js';
import { sayMore } from './backup_words.js';
import { h, setText } from './element.js';
import { dayLocale } from './habits.js';
import { notice } from './notices.js';
import { countPhotos } from './photo_words.js';

export class BackupStateCard {
  constructor() {
    this.said = h('p', { role: 'status' });
    this.more = h('p', { class: 'fine' });
    this.meter = /** @type {HTMLProgressElement} */ (h('progress', { 'aria-label': 'Photos under way', hidden: true }));
    this.button = h('button', { class: 'button', onclick: () => backupWatch.now() }, 'Back up now');
    this.lost = h('div', { hidden: true }, h('h3', {}, 'Go on with the new key'), ...joinPart(),
      h('h3', {}, 'Or begin anew from this device'), h('button', { class: 'button', onclick: () => begin().catch((problem) => notice('backup', problem.message, { kind: 'bad' })) }, 'Begin a new backup'));
    this.element = h('section', { class: 'card' }, h('h2', {}, 'Backup'), this.said, this.meter, this.more, this.button, this.lost);
  }

  /** Shows it as it is now. */
  async show() {
    const [backup, { all }] = await Promise.all([backupOf(), backupStates()]);
    if (!backup) return;
    const { state } = backupWatch;
    const { progress, lost } = state;
    this.meter.hidden = !progress;
    if (progress) {
      this.meter.max = Math.max(1, progress.of);
      this.meter.value = progress.done;
    }
    this.lost.hidden = !lost;
    this.button.hidden = lost;
    setText(this.said, stateWords(backup, state));
    setText(this.more, restWords(all, state));
  }
}

/** What is there, or what still has to go. */
function restWords(all, { what, lost }) {
  const more = sayMore(all);
  const waiting = all.waiting > 0 ? `${all.waiting === 1 ? '1 finding waits' : `${all.waiting} findings wait`} on this device` : '';
  if (all.refused) return `One finding was not taken: ${all.refused}`;
  const rest = [waiting, more].filter(Boolean).join('; ');
  if (rest) return `${rest[0].toUpperCase()}${rest.slice(1)}.`;
  if (lost || what !== 'done') return '';
  return `Every finding${all.photos > 0 ? ` and ${all.photos === 1 ? 'the one photo' : `all ${countPhotos(all.photos)}`}` : ''} of this device ${all.photos > 0 ? 'are' : 'is'} on ${location.host}.`;
}

function stateWords({ done }, { what, why, lost, progress }) {
  if (progress) return `Photos ${progress.way === 'up' ? 'going to the server' : 'coming from another device'}: ${sayBytes(progress.done)} of ${sayBytes(progress.of)}.`;
  // Until the first round has ended, nothing is known to be there.
  if (what === 'working' || what === 'off') return 'Backing up …';
  const last = done ? ` Last complete: ${new Date(done).toLocaleString(dayLocale(), { dateStyle: 'medium', timeStyle: 'short' })}.` : '';
  if (lost) return `No longer backed up: ${why}${last}`;
  if (what === 'failed') return `Could not be backed up: ${why} It is tried again by itself.${last}`;
  return why ? `${why}${last}` : `Backed up.${last}`;
}
