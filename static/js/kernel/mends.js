/** What if a finding were mended: what that adds and takes (contract §7, §11). Twin of mends.py. */
import { p90, taskEstimate } from './effort.js';
import { asPoint } from './haggling.js';
import { moneyScale } from './reasons.js';
import { holeEffect, holeSeverity, holeSize } from './standing.js';
import { partsQuantile } from './worth.js';

/** Effects of a part that belongs to another radio, and the part that would have to be found. */
const FOREIGN = { crystal_foreign: 'crystal_part', book_foreign: 'book_part' };

/** Every finding that lowers the price and that some work mends, the best gain an hour first. */
export function mends(prepared, findings, now, rows) {
  const works = rows.map((row) => [row, work(prepared, findings, now, row)]).filter(([, found]) => found);
  const callers = works.flatMap(([, { items }]) => [...items.keys()]);
  const rank = (mend) => mend.per_hour ?? Infinity;
  return works.map(([row, found]) => mended(prepared, findings, now, row, found, callers))
    .sort((a, b) => (rank(a) === rank(b) ? 0 : rank(b) - rank(a)));
}

/** What no work of the tables takes back; with the gains of the mends it is all that lowers the price. */
export function lasting(rows, found) {
  const gains = new Map(found.map((mend) => [mend.what, mend.gain]));
  const left = rows.filter((row) => row.what !== 'not checked')
    .map((row) => ({ ...asPoint(row), amount: row.amount + (gains.get(row.what) ?? 0), least: 1e-9 * Math.abs(row.amount) }));
  // A mend that leaves nothing leaves no noise either.
  return left.filter(({ amount, least }) => amount < -least).map(asPoint);
}

/** What a mend takes away from the log price and its variance, and the items of each task. */
function work(prepared, findings, now, row) {
  if (row.amount >= 0 || row.what === 'not checked') return null;
  if (row.what === 'holes' && now.standing.drilled) return filled(prepared, findings, now.standing.drilled.severity);
  const { effects, tasks } = prepared.pack;
  if (row.what in FOREIGN) {
    const items = once(tasks.flatMap((task, index) => (task.part === effects[FOREIGN[row.what]] ? [index] : [])));
    const sd = effects[row.what][1];
    return items.size > 0 ? { effect: row.logEffect, variance: sd * sd, items } : null;
  }
  const check = prepared.checks[prepared.checkIndex.get(row.what)];
  const option = check?.options[check.indexOf.get(row.option)];
  return option?.fixable ? { effect: option.ownMean, variance: option.ownVariance, items: once(option.tasks) } : null;
}

const once = (tasks) => new Map(tasks.map((task) => [task, 1]));

/** All holes that can be filled, filled, whatever the aim. */
function filled({ pack, taskIndex }, findings, nowSeverity) {
  let severity = 0;
  const items = new Map();
  for (const hole of findings.holes) {
    const { fixable, task } = holeSize(pack, hole);
    if (fixable > 0) items.set(taskIndex.get(task), (items.get(taskIndex.get(task)) ?? 0) + 1);
    severity += holeSeverity(pack, hole) * (1 - fixable);
  }
  const [before, variance] = holeEffect(pack, nowSeverity);
  const [after, kept] = holeEffect(pack, severity);
  return items.size > 0 ? { effect: before - after, variance: variance - kept, items } : null;
}

function mended(prepared, findings, now, row, { effect, variance, items }, callers) {
  const { z90 } = prepared.pack.model;
  const hours = [0, 0];
  const materials = [0, 0];
  for (const [task, count] of items) {
    const estimate = taskEstimate(prepared.tasks[task], count);
    for (const at of [0, 1]) {
      hours[at] += estimate.hours[at];
      materials[at] += estimate.materials[at] * findings.rate ** (at + 1);
    }
  }
  const gain = -effect * moneyScale(now.market);
  const kept = gain - materials[0];
  const median = now.market.logMedian - effect;
  const reach = z90 * Math.sqrt(Math.max(0, now.market.variance - variance));
  const both = (estimate) => ({ p50: estimate[0], p90: p90(estimate, z90) });
  const { inAim } = prepared.aims.get(findings.aim);
  return {
    what: row.what,
    option: row.option,
    gain,
    hours: both(hours),
    materials: both(materials),
    tasks: [...items.keys()].map((task) => prepared.tasks[task].id),
    in_aim: [...items.keys()].every((task) => inAim[task]),
    shared: [...items.keys()].some((task) => callers.filter((other) => other === task).length > 1),
    net: kept - findings.hour_rate * hours[0],
    per_hour: hours[0] > 0 ? kept / hours[0] : null,
    then: {
      p10: Math.max(Math.exp(median - reach), partsQuantile(now.parts, -z90)),
      p50: Math.max(Math.exp(median), partsQuantile(now.parts, 0)),
      p90: Math.max(Math.exp(median + reach), partsQuantile(now.parts, z90)),
    },
  };
}
