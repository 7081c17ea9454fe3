/**
 * A pack made ready for arithmetic: every sum that does not depend on findings, taken once.
 * Twin of webapp/appraisal/prepared.py.
 *
 * @typedef {Object} Option one answer of a check; mean, variance, factor while it is open, own… once answered
 * @property {string} id
 * @property {number} prior
 * @property {number} state
 * @property {number} mean
 * @property {number} variance
 * @property {number} factor
 * @property {number} ownMean
 * @property {number} ownVariance
 * @property {number} ownFactor
 * @property {boolean} fixable
 * @property {number} kept
 * @property {number[]} tasks
 * @property {number[]} opens
 *
 * @typedef {{options: number[][], open: [number, number][]}} Calls
 * @typedef {{inAim: boolean[], ownFactors: number[][], optionFactors: number[][], factors: number[], calls: Calls[], mendCalls: Calls[]}} AimView
 * @typedef {[number, number]} Estimate mean and variance
 */

/**
 * Mean and variance of a (low, likely, high) estimate. Source: Malcolm, Roseboom, Clark and Fazar 1959.
 * @param {number[]} triple
 * @returns {Estimate}
 */
export function threePoint([low, likely, high]) {
  const sd = (high - low) / 6;
  return [(low + 4 * likely + high) / 6, sd * sd];
}

/**
 * The pack with its sums taken.
 * @param {any} pack a document of the compiler
 */
export function prepare(pack) {
  const checkIndex = indexOf(pack.checks);
  const partIndex = indexOf(pack.parts);
  const taskIndex = indexOf(pack.tasks);
  const parents = pack.checks.map((check) => (check.shown_if ? checkIndex.get(check.shown_if.check) : -1));
  const openedBy = opened(pack, parents);
  const checks = pack.checks.map((raw, index) =>
    prepareCheck(raw, parents[index], openedBy[index], partIndex, taskIndex));
  const covering = (part) => (partIndex.has(part) ? checks.findIndex((check) => check.part === partIndex.get(part)) : -1);
  const prepared = {
    pack,
    checks,
    checkIndex,
    parentsLast: parentsLast(parents),
    alwaysShown: parents.flatMap((parent, index) => (parent < 0 ? [index] : [])),
    holeCheck: pack.checks.findIndex((check) => check.asks_holes),
    crystalCheck: covering(pack.effects.crystal_part),
    bookCheck: covering(pack.effects.book_part),
    comparable: pack.checks.flatMap(({ asks }, index) => (asks === 'service' || asks === 'finish' ? [[asks, index]] : [])),
    parts: prepareParts(pack, checks),
    tasks: pack.tasks.map(prepareTask),
    taskIndex,
    breakHoursMean: threePoint(pack.break_hours)[0],
    /** @type {Map<string, AimView>} */
    aims: new Map(),
  };
  for (const aim of pack.aims) prepared.aims.set(aim.id, aimView(prepared, aim.id));
  return prepared;
}

/** @param {{id: string}[]} rows @returns {Map<string, number>} */
function indexOf(rows) {
  return new Map(rows.map((row, index) => [row.id, index]));
}

/** For each check and option, the follow-ups it opens. */
function opened(pack, parents) {
  const lists = pack.checks.map((check) => check.options.map(() => /** @type {number[]} */ ([])));
  pack.checks.forEach((check, index) => {
    if (parents[index] < 0) return;
    pack.checks[parents[index]].options.forEach((option, number) => {
      if (check.shown_if.options.includes(option.id)) lists[parents[index]][number].push(index);
    });
  });
  return lists;
}

/** Check indices, deepest follow-ups first. */
function parentsLast(parents) {
  const depths = [];
  for (const start of parents) {
    let depth = 0;
    for (let parent = start; parent >= 0; parent = parents[parent]) depth += 1;
    depths.push(depth);
  }
  return parents.map((_, index) => index).sort((a, b) => depths[b] - depths[a] || a - b);
}

function prepareCheck(raw, parent, opens, partIndex, taskIndex) {
  const options = raw.options.map((option, number) => prepareOption(option, opens[number], taskIndex));
  const sum = (/** @type {(o: Option) => number} */ of) =>
    options.reduce((total, option) => total + option.prior * of(option), 0);
  const mean = sum((o) => o.mean);
  const states = options.map((o) => o.state);
  const kept = options.map((o) => o.kept);
  return {
    id: raw.id,
    seconds: raw.seconds,
    part: raw.part === null ? -1 : partIndex.get(raw.part),
    parent,
    options,
    indexOf: indexOf(options),
    mean,
    variance: sum((o) => o.variance + o.mean * o.mean) - mean * mean,
    factor: sum((o) => o.factor),
    spread: sum((o) => o.mean * o.mean) - mean * mean,
    state: sum((o) => o.state),
    stateSquare: sum((o) => o.state * o.state),
    worstState: Math.min(...states),
    bestState: Math.max(...states),
    kept: sum((o) => o.kept),
    worstKept: Math.min(...kept),
    bestKept: Math.max(...kept),
  };
}

/** @returns {Option} */
function prepareOption(raw, opens, taskIndex) {
  const [mean, sd] = raw.log_effect;
  const [ownMean, ownSd] = raw.log_effect_open ?? raw.log_effect;
  const ownFactor = Math.exp(ownMean + (ownSd * ownSd) / 2);
  return {
    id: raw.id,
    prior: raw.prior,
    state: raw.state ?? 0,
    mean,
    variance: sd * sd,
    factor: raw.mean_factor ?? ownFactor,
    ownMean,
    ownVariance: ownSd * ownSd,
    ownFactor,
    fixable: raw.fixable,
    kept: 1 - raw.originality,
    tasks: raw.tasks.map((task) => taskIndex.get(task)),
    opens,
  };
}

function prepareParts(pack, checks) {
  const covering = new Map(checks.map((check, index) => [check.part, index]));
  return pack.parts.map((raw, index) => {
    const [salvageMean, salvageVariance] = threePoint(raw.salvage);
    const { id, weight, calibration } = raw;
    return { id, weight, calibration, salvageMean, salvageVariance, check: covering.get(index) };
  });
}

function prepareTask(raw) {
  const each = raw.each ?? { hours: [0, 0, 0], materials: [0, 0, 0] };
  return {
    id: raw.id,
    aims: new Set(raw.aims),
    hours: threePoint(raw.set_up.hours),
    materials: threePoint(raw.set_up.materials),
    eachHours: threePoint(each.hours),
    eachMaterials: threePoint(each.materials),
  };
}

/** @returns {AimView} what the work mends, and which tasks it takes (contract §4, §7) */
function aimView(prepared, aim) {
  const inAim = prepared.tasks.map((task) => task.aims.has(aim));
  /** @type {AimView} */
  const view = { inAim, ownFactors: [], optionFactors: [], factors: [], calls: [], mendCalls: [] };
  for (const check of prepared.checks) {
    const mended = check.options.map((o) => o.fixable && o.tasks.every((task) => inAim[task]));
    view.ownFactors.push(check.options.map((o, number) => (mended[number] ? 1 : o.ownFactor)));
    const factors = check.options.map((o, number) => (mended[number] ? 1 : o.factor));
    view.optionFactors.push(factors);
    view.factors.push(check.options.reduce((sum, o, number) => sum + o.prior * factors[number], 0));
    view.calls.push(calls(check, check.options.map((o) => o.tasks.filter((task) => inAim[task]))));
    view.mendCalls.push(calls(check, check.options.map((o, number) => (mended[number] ? o.tasks : []))));
  }
  return view;
}

/** @returns {Calls} per option the tasks, and per task the prior weight of the options that call it */
function calls(check, byOption) {
  const options = byOption.map((tasks) => [...new Set(tasks)]);
  const weights = new Map();
  options.forEach((tasks, number) => {
    for (const task of tasks) weights.set(task, (weights.get(task) ?? 0) + check.options[number].prior);
  });
  const open = [...weights].map(([task, weight]) => [task, Math.min(1, weight)]);
  return { options, open: open.sort((a, b) => a[0] - b[0]) };
}
