/** The plan of a lot: made on the phone at once, and proven by the server when there is a signal. A proven one is kept until the lot changes. */
import { lotPlan } from '../kernel/lot/plan.js';
import { problemDocument } from '../kernel/lot/problem.js';
import { _ } from '../language.js';
import { solveLot } from '../sync/lot_solving.js';
import { openDatabase } from './database.js';
import { sha256Of } from './digest.js';
import { Refused } from './photo_server.js';
import { save } from './saving.js';

/** @typedef {import('./lot_reckoning.js').LotReckoning} LotReckoning */

export class LotPlanning {
  /** @param {LotReckoning} reckoning */
  constructor(reckoning) {
    this.reckoning = reckoning;
    this.document = problemDocument(reckoning.problem);
    this.text = JSON.stringify([this.document, reckoning.lot.hours_limit]);
  }

  /** What the plan is of, in short: of something else it is another plan. */
  async about() {
    this.known ??= await sha256Of(new Blob([this.text])) ?? this.text;
    return this.known;
  }

  /** The plan that stands: the proven one, where the lot has not changed since, or else the phone's own. */
  async plan() {
    const kept = await (await openDatabase()).get('meta', this.row);
    if (kept && kept.value.about === await this.about()) return this.of(kept.value.choice, kept.value.proof);
    return this.of(await choiceFor(this.text, this.reckoning));
  }

  /** The plan under a choice of ways. @param {number[]} choice @param {import('../sync/lot_solving.js').Proof} [proof] */
  of(choice, proof) {
    return lotPlan(this.reckoning.problem, choice, { ...this.reckoning.lot, proof });
  }

  /** The exact plan; it is kept. Rejects as solveLot does. @param {Parameters<typeof solveLot>[2]} more */
  async exact(more) {
    const { choice, proof } = await solveLot(this.document, this.reckoning.lot.hours_limit, more);
    const plan = this.of(choice, proof);
    // Kept, it would stand until the lot changes.
    if (!Number.isFinite(plan.total) || !(plan.gap === null || plan.gap >= 0)) throw new Refused(_('The plan that the server sent does not fit this lot. The one made here stands.'));
    const about = await this.about();
    await save(({ put }) => put('meta', { key: this.row, value: { about, choice, proof } }));
    return plan;
  }

  get row() {
    return `lot-plan/${this.reckoning.lot.id}`;
  }
}

/** Of the problem asked about last, so that going from page to page makes no plan anew. @type {{key: string, choice: Promise<number[]>} | null} */
let last = null;

function choiceFor(key, { problem, lot }) {
  if (last?.key !== key) {
    last = { key, choice: greedyBeside(problem, lot.hours_limit) };
    last.choice.catch(() => {
      last = null;
    });
  }
  return last.choice;
}

/** @returns {Promise<number[]>} */
function greedyBeside(problem, hoursLimit) {
  const worker = new Worker(new URL('./lot_worker.js', import.meta.url), { type: 'module' });
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }) => (data.choice ? resolve(data.choice) : reject(new Error(data.problem)));
    worker.onerror = (event) => {
      event.preventDefault();
      reject(new Error(_('This browser could not start the planning. Load the page again.')));
    };
    // What its figures rest on stays here: the choice needs none of it.
    worker.postMessage({ problem: { ...problem, figures: [] }, hoursLimit });
  }).finally(() => worker.terminate());
}
