/**
 * What the work takes: three-point estimates over the tasks that the findings call (contract §7).
 * Twin of webapp/appraisal/effort.py. Source: Malcolm, Roseboom, Clark and Fazar 1959 (PERT).
 *
 * @typedef {{product: Float64Array, zeros: Int32Array, items: Map<number, number>}} Called
 */

/** Which tasks the shown checks and the listed holes (task → items) call. @returns {Called} */
export function called(prepared, standing, calls, holes) {
  const result = {
    product: new Float64Array(prepared.tasks.length).fill(1),
    zeros: new Int32Array(prepared.tasks.length),
    items: holes,
  };
  for (let index = 0; index < calls.length; index += 1) {
    if (!standing.shown[index]) continue;
    if (index === prepared.holeCheck && standing.drilled) continue;
    const chosen = standing.chosen[index];
    if (chosen >= 0) {
      for (const task of calls[index].options[chosen]) result.zeros[task] += 1;
      continue;
    }
    for (const [task, weight] of calls[index].open) {
      const factor = 1 - weight;
      if (factor > 0) result.product[task] *= factor;
      else result.zeros[task] += 1;
    }
  }
  for (const task of holes.keys()) result.zeros[task] += 1;
  return result;
}

/** q, the probability that the task is called. */
export function probability(calls, task) {
  return calls.zeros[task] > 0 ? 1 : 1 - calls.product[task];
}

/** Hours and materials of a task with n items, each as [mean, variance]: set-up plus n times each. */
export function taskEstimate(task, items) {
  const n = Math.max(1, items);
  return {
    hours: [task.hours[0] + n * task.eachHours[0], task.hours[1] + n * task.eachHours[1]],
    materials: [
      task.materials[0] + n * task.eachMaterials[0], task.materials[1] + n * task.eachMaterials[1]],
  };
}

const NO_HOLES = new Map();

/** Hours and materials for the user's aim; materials in the appraisal's currency. */
export function effort(prepared, standing, findings) {
  const view = prepared.aims.get(findings.aim);
  const calls = called(prepared, standing, view.calls, standing.drilled ? standing.drilled.tasks : NO_HOLES);
  const { rate } = findings;
  const totals = [0, 0, 0, 0];
  const lines = [];
  for (let index = 0; index < prepared.tasks.length; index += 1) {
    const q = probability(calls, index);
    if (!view.inAim[index] || q <= 0) continue;
    const items = calls.items.get(index) ?? 0;
    const { hours, materials: own } = taskEstimate(prepared.tasks[index], items);
    const materials = [own[0] * rate, own[1] * rate * rate];
    totals[0] += q * hours[0];
    totals[1] += q * (hours[1] + hours[0] * hours[0]) - (q * hours[0]) * (q * hours[0]);
    totals[2] += q * materials[0];
    totals[3] += q * (materials[1] + materials[0] * materials[0]) - (q * materials[0]) * (q * materials[0]);
    lines.push({ task: index, probability: q, items: Math.max(1, items), hours, materials });
  }
  return { hours: totals.slice(0, 2), materials: totals.slice(2), lines };
}

/** The 90 % point of a total given as [mean, variance], by the normal law. */
export function p90([mean, variance], z90) {
  return mean + z90 * Math.sqrt(Math.max(0, variance));
}
