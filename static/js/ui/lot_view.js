/** A plan in words: what sets and parts are called, who gives what to whom. */
import { _ } from '../language.js';
import { numberIn } from '../store/lots.js';
import { figure, moneyWriter } from './money.js';
import { hours } from './words.js';

/** Ways of use in words, in the order in which a list goes through them. */
export const WAYS = {
  get complete() { return _('Complete'); },
  get break() { return _('Break'); },
  get as_is() { return _('Keep as it is'); },
};

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
    if (typeof who === 'string') return _('your shelf');
    const { foundSet, owned } = this.reckoning.members[who];
    return owned ? _('your {set}', { set: this.title(who) }) : _('no. {number}', { number: numberIn(foundSet) });
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
  moved = ({ part: id, from, to, unchecked }) => {
    const part = this.part(id, to, from);
    return unchecked ? _('{part} (not looked at yet)', { part }) : part;
  };

  /** @param {number} value */
  say = (value) => this.money.say(value);

  /** @param {{low: number, high: number}} range */
  range = ({ low, high }) => _('{low} to {high}', { low: this.say(low), high: this.say(high) });

  /** What the work of a set adds an hour; empty for one that stays as it is. @param {any} row of the plan's sets */
  perHour = ({ per_hour: perHour, way }) => (perHour === null ? (way === 'as_is' ? '' : _('no work')) : _('{amount}/h', { amount: this.money.change(perHour) }));

  /** How it was reckoned, in words. */
  get how() {
    const { exact, gap } = this.plan;
    if (exact) return _('The best plan there is, proven.');
    if (gap !== null && gap < 0.001) return _('Found by the server; the best plan is at most a tenth of a percent better.');
    if (gap !== null) return _('Found by the server; the best plan is at most {share} % better.', { share: figure(Math.ceil(gap * 1000) / 10) });
    return _('A quick plan, made on this phone.');
  }

  /** Such as "5 complete, 3 break, 4 keep as they are; about 12 h of work". */
  get summary() {
    const rows = this.own.map(({ index }) => this.plan.sets[index]);
    const count = (way) => rows.filter((row) => row.way === way).length;
    const [complete, broken, kept] = ['complete', 'break', 'as_is'].map(count);
    const ways = [complete > 0 && _('{count} to complete', { count: complete }), broken > 0 && _('{count} to break', { count: broken }),
      kept > 0 && _('{count} to keep as they are', { count: kept })].filter(Boolean).join(', ');
    return this.plan.hours > 0 ? _('{ways}; {hours} of work', { ways, hours: hours(this.plan.hours) }) : _('{ways}; no work', { ways });
  }
}

/** Rows by the value of one key, in the order met. @template T @param {T[]} rows @param {(row: T) => any} key @returns {Map<any, T[]>} */
export function grouped(rows, key) {
  const groups = new Map();
  for (const row of rows) groups.set(key(row), [...groups.get(key(row)) ?? [], row]);
  return groups;
}
