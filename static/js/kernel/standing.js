/**
 * Where the findings stand: which checks are shown, what was answered, what the holes amount to.
 * Twin of webapp/appraisal/standing.py.
 */
import { matches } from './matching.js';

/**
 * @param {any} prepared
 * @param {import('./findings.js').Findings} findings
 */
export function stand(prepared, findings) {
  const given = new Array(prepared.checks.length).fill(-1);
  for (const check in findings.answers) {
    const index = prepared.checkIndex.get(check);
    given[index] = prepared.checks[index].indexOf.get(findings.answers[check]);
  }
  let drilled = null;
  if (findings.holes.length > 0) {
    given[prepared.holeCheck] = prepared.checks[prepared.holeCheck].indexOf.get('some');
    drilled = sumHoles(prepared, findings);
  }
  const coverage = findings.coverage_khz ?? prepared.pack.sheet?.coverage_khz ?? null;
  const shown = shownChecks(prepared, given);
  const chosen = given.map((option, index) => (shown[index] ? option : -1));
  const said = {};
  for (const [asked, index] of prepared.comparable) {
    if (chosen[index] >= 0) said[asked] = prepared.checks[index].options[chosen[index]].id;
  }
  return {
    chosen,
    shown,
    drilled,
    coverage,
    overlap: overlapKhz(prepared.pack, coverage, findings.region),
    said,
    matches: matches(prepared.pack, findings, coverage, said),
  };
}

/** A follow-up counts only while its condition is met by an actual answer, recursively. */
function shownChecks(prepared, chosen) {
  const shown = new Array(chosen.length).fill(false);
  const order = prepared.parentsLast;
  for (let at = order.length - 1; at >= 0; at -= 1) {
    const index = order[at];
    const { parent } = prepared.checks[index];
    if (parent < 0) shown[index] = true;
    else if (shown[parent] && chosen[parent] >= 0) {
      shown[index] = prepared.checks[parent].options[chosen[parent]].opens.includes(index);
    }
  }
  return shown;
}

/** The size row that a hole falls under: the first of its place with diameter ≤ up_to_mm. */
export function holeSize(pack, hole) {
  const place = pack.holes.places.find((row) => row.id === hole.place);
  return place.sizes.find((size) => size.up_to_mm === null || hole.diameter_mm <= size.up_to_mm);
}

/** Severity of one hole: open, plugged, or (enlarged) a share of that of an open one. */
export function holeSeverity(pack, hole) {
  const size = holeSize(pack, hole);
  if (hole.as_found === 'plugged') return size.severity_plugged;
  return size.severity * (hole.as_found === 'enlarged' ? pack.model.enlarged_share : 1);
}

function sumHoles(prepared, findings) {
  const { inAim } = prepared.aims.get(findings.aim);
  let severity = 0;
  let restoredSeverity = 0;
  const tasks = new Map();
  const mendedTasks = new Map();
  for (const hole of findings.holes) {
    const size = holeSize(prepared.pack, hole);
    let found = holeSeverity(prepared.pack, hole);
    severity += found;
    const task = size.task === null ? -1 : prepared.taskIndex.get(size.task);
    if (task >= 0 && inAim[task]) {
      tasks.set(task, (tasks.get(task) ?? 0) + 1);
      if (size.fixable > 0) {
        found *= 1 - size.fixable;
        mendedTasks.set(task, (mendedTasks.get(task) ?? 0) + 1);
      }
    }
    restoredSeverity += found;
  }
  return { severity, restoredSeverity, tasks, mendedTasks };
}

/** Log effect of a total severity S and its variance: −a·ln(1 + S/b), (c·m)². */
export function holeEffect(pack, severity) {
  const { a, b, c } = pack.holes;
  const mean = -a * Math.log(1 + severity / b);
  return [mean, (c * mean) * (c * mean)];
}

/** The widest piece of one amateur band inside the coverage, in kHz; null when either is not known. */
export function overlapKhz(pack, coverage, region) {
  if (coverage === null || region === null) return null;
  let widest = -Infinity;
  for (const [low, high] of pack.bands[region] ?? []) {
    widest = Math.max(widest, Math.min(coverage[1], high) - Math.max(coverage[0], low));
  }
  return widest === -Infinity ? 0 : widest;
}
