/**
 * Many photos at once. Each is stored in the tray before its label is read, so a closed tab loses nothing; the
 * batch goes on while other pages are shown.
 */
import { _ } from '../language.js';
import { fileByLabel, rememberOriginal } from './photo_filing.js';
import { preparePhoto } from './photo_intake.js';
import { addPhoto } from './photos.js';

/** Labels read at a time. */
const READERS = 3;

class PhotoBatch extends EventTarget {
  constructor() {
    super();
    this.reset();
    /** @type {{name: string, reason: string}[]} files that could not be kept */
    this.refused = [];
  }

  reset() {
    this.total = 0;
    this.failed = 0;
    this.stored = 0;
    this.waiting = 0;
    this.cancelled = false;
    /** @type {Map<string, number>} photos filed, by set */
    this.filed = new Map();
    /** @type {Set<string>} photos whose label is being read or is about to be */
    this.reading = new Set();
    /** @type {File[]} */
    this.queue = [];
    this.running = false;
  }

  /** How many files are settled, one way or the other. */
  get done() {
    return this.stored - this.reading.size + this.failed;
  }

  /** Takes files in; those given while others are under way join them. @param {File[]} files */
  async take(files) {
    if (!this.running) this.reset();
    this.queue.push(...files);
    this.total += files.length;
    this.tell();
    if (this.running) return;
    this.running = true;
    await this.work();
    this.running = false;
    this.tell();
  }

  async work() {
    /** @type {Set<Promise<void>>} */
    const readers = new Set();
    while (this.queue.length > 0 && !this.cancelled) {
      const id = await this.store(this.queue.shift());
      if (!id) continue;
      if (readers.size >= READERS) await Promise.race(readers);
      const reader = this.file(id).finally(() => readers.delete(reader));
      readers.add(reader);
    }
    this.total -= this.queue.length;
    this.queue = [];
    await Promise.all(readers);
  }

  /** @param {File} file @returns {Promise<string | null>} id of the photo in the tray */
  async store(file) {
    try {
      const { id } = await addPhoto(await preparePhoto(file), { waiting: { why: 'reading' } });
      rememberOriginal(id, file);
      this.reading.add(id);
      this.stored += 1;
      return id;
    } catch (problem) {
      this.refused.push({ name: file.name, reason: problem.full ? _('{name} and those after it were not kept. {why}', { name: file.name, why: problem.message }) : problem.message });
      this.failed += 1;
      if (problem.full) this.cancelled = true;
      return null;
    } finally {
      this.tell();
    }
  }

  /** @param {string} id */
  async file(id) {
    // What cannot be stored now stays in the tray as one that is still to be read.
    const set = await fileByLabel(id).catch(() => null);
    this.reading.delete(id);
    if (set) this.filed.set(set, (this.filed.get(set) ?? 0) + 1);
    else this.waiting += 1;
    this.tell();
  }

  /** Stops after the ones under way; what is filed stays. */
  cancel() {
    this.cancelled = true;
    this.tell();
  }

  /** Takes a refusal off the list. @param {any} entry */
  dismiss(entry) {
    this.refused = this.refused.filter((row) => row !== entry);
    this.tell();
  }

  tell() {
    this.dispatchEvent(new Event('change'));
  }
}

/** The one batch of this tab. */
export const batch = new PhotoBatch();
