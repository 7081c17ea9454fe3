/** The state of the backup: in words, with a bar while pictures travel, and what to do where nothing goes by itself. */
import { _, _n } from '../language.js';
import { backupOf } from '../store/backup.js';
import { backupStates } from '../store/backup_states.js';
import { sayBytes } from '../store/photo_intake.js';
import { backupWatch } from '../sync/backup_watch.js';
import { begin } from '../sync/membership.js';
import { joinPart } from './backup_begin.js';
import { sayMore } from './backup_state_words.js';
import { h, setText } from './element.js';
import { dayLocale } from './habits.js';
import { notice } from './notices.js';

export class BackupStateCard {
  constructor() {
    this.said = h('p', { role: 'status' });
    this.more = h('p', { class: 'fine' });
    this.meter = /** @type {HTMLProgressElement} */ (h('progress', { 'aria-label': _('Photos under way'), hidden: true }));
    this.button = h('button', { class: 'button', onclick: () => backupWatch.now() }, _('Back up now'));
    this.lost = h('div', { hidden: true }, h('h3', {}, _('Go on with the new key')), ...joinPart(),
      h('h3', {}, _('Or begin anew from this device')), h('button', { class: 'button', onclick: () => begin().catch((problem) => notice('backup', problem.message, { kind: 'bad' })) }, _('Begin a new backup')));
    this.element = h('section', { class: 'card' }, h('h2', {}, _('Backup')), this.said, this.meter, this.more, this.button, this.lost);
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
  const waiting = all.waiting > 0 ? _n('{count} finding waits on this device', '{count} findings wait on this device', all.waiting) : '';
  if (all.refused) return _('One finding was not taken: {why}', { why: all.refused });
  const rest = [waiting, more].filter(Boolean).join('; ');
  if (rest) return `${rest[0].toUpperCase()}${rest.slice(1)}.`;
  if (lost || what !== 'done') return '';
  const { host } = location;
  if (all.photos === 0) return _('Every finding of this device is on {host}.', { host });
  return _n('Every finding and the one photo of this device are on {host}.', 'Every finding and all {count} photos of this device are on {host}.', all.photos, { host });
}

function stateWords({ done }, { what, why, lost, progress }) {
  if (progress) {
    const sums = { done: sayBytes(progress.done), all: sayBytes(progress.of) };
    return progress.way === 'up' ? _('Photos going to the server: {done} of {all}.', sums) : _('Photos coming from another device: {done} of {all}.', sums);
  }
  // Until the first round has ended, nothing is known to be there.
  if (what === 'working' || what === 'off') return _('Backing up …');
  const time = done && new Date(done).toLocaleString(dayLocale(), { dateStyle: 'medium', timeStyle: 'short' });
  return [nowWords(what, why, lost), time && _('Last complete: {time}.', { time })].filter(Boolean).join(' ');
}

function nowWords(what, why, lost) {
  if (lost) return _('No longer backed up: {why}', { why });
  if (what === 'failed') return _('Could not be backed up: {why} It is tried again by itself.', { why });
  return why || _('Backed up.');
}
