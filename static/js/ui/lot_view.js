/** A plan in words: what sets and parts are called, who gives what to whom. */
import { numberIn } from '../store/lots.js';
import { moneyWriter } from './money.js';
import { hours } from './words.js';

export const WAYS = { complete: 'Complete', break: 'Break', as_is: 'Keep as it is' };

/** @typedef {number | string} Who place of a set in the plan, or `shelf n` */

export class LotView {
  /** @param {import('../store/lot_reckoning.js').LotReckoning} reckoning @param {any} plan what lotPlan gives */
  constructor(reckoning, plan) {
    Object.assign(this, { reckoning, plan });
    const { pack } = reckoning.members[0].prepared;
    this.money = moneyWriter(reckoning.entries[0].findings.currency, pack);
  }

  /** The same lot with another plan. @param {any} plan */
  with = (plan) => new LotView(this.reckoning, plan);

  /** The sets of the lot with their place in the plan, by number; donors of one's own stand apart. */
  get own() {
    return this.reckoning.members.map((member, index) => ({ ...member, index })).filter(({ owned }) => !owned);
  }

  /** Such as "no. 3", "your Tern B", "your shelf". @param {Who} who */
  name(who) {
    if (typeof who === 'string') return 'your shelf';
    const { foundSet, owned } = this.reckoning.members[who];
    return owned ? `your ${this.title(who)}` : `no. ${numberIn(foundSet)}`;
  }

  /** What a set is called in the notebook. @param {number} who */
  title(who) {
    const { foundSet, prepared } = this.reckoning.members[who];
    return foundSet.get('title') || prepared.pack.name;
  }

  /** A part by its name in the tables of a set that has or takes it. @param {string} part @param {...Who} whose */
  part(part, ...whose) {
    const of = whose.find((who) => typeof who === 'number');
    const thing = this.reckoning.things[Number(String(whose[0]).slice(6))];
    const pack = of !== undefined ? this.reckoning.members[of].prepared.pack : this.reckoning.members.find(({ prepared }) => prepared.pack.family === thing?.family)?.prepared.pack;
    return pack?.parts.find((row) => row.id === part)?.label ?? part.replaceAll('-', ' ');
  }

  /** A move's part in words; one that nobody looked at says so. */
  moved = ({ part, from, to, unchecked }) => `${this.part(part, to, from)}${unchecked ? ' (not looked at yet)' : ''}`;

  /** @param {number} value */
  say = (value) => this.money.say(value);

  /** @param {{low: number, high: number}} range */
  range = ({ low, high }) => `${this.say(low)} to ${this.say(high)}`;

  /** What the work of a set adds an hour; empty for one that stays as it is. @param {any} row of the plan's sets */
  perHour = ({ per_hour: perHour, way }) => (perHour === null ? (way === 'as_is' ? '' : 'no work') : `${this.money.change(perHour)}/h`);

  /** How it was reckoned, in words. */
  get how() {
    const { exact, gap } = this.plan;
    if (exact) return 'The best plan there is, proven.';
    if (gap !== null) return `Found by the server; the best plan is at most ${gap < 0.001 ? 'a tenth of a percent' : `${Math.ceil(gap * 1000) / 10} %`} better.`;
    return 'A quick plan, made on this phone.';
  }

  /** Such as "5 complete, 3 break, 4 keep as they are; about 12 h of work". */
  get summary() {
    const rows = this.own.map(({ index }) => this.plan.sets[index]);
    const count = (way) => rows.filter((row) => row.way === way).length;
    const ways = [['complete', 'to complete'], ['break', 'to break'], ['as_is', 'to keep as they are']].filter(([way]) => count(way) > 0).map(([way, words]) => `${count(way)} ${words}`);
    return `${ways.join(', ')}${this.plan.hours > 0 ? `; ${hours(this.plan.hours)} of work` : '; no work'}`;
  }
}

/** Rows by the value of one key, in the order met. @template T @param {T[]} rows @param {(row: T) => any} key @returns {Map<any, T[]>} */
export function grouped(rows, key) {
  const groups = new Map();
  for (const row of rows) groups.set(key(row), [...groups.get(key(row)) ?? [], row]);
  return groups;
}
