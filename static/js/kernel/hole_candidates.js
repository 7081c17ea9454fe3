/** What may have sat in a round hole, by its diameter. Twin of webapp/appraisal/hole_candidates.py. */

/** How far off a diameter measured in that way may be, in mm; the widest when the way is not known. */
export function toleranceOf(table, way) {
  const known = table.tolerances.find((row) => row.id === way);
  return known ? known.mm : Math.max(...table.tolerances.map((row) => row.mm));
}

/**
 * The parts whose range, widened by the tolerance, holds the diameter; the nearest first.
 * @param {any} table
 * @param {number} diameterMm
 * @param {number} toleranceMm
 * @returns {{id: string, label: string, distance_mm: number, extra: string | null, hint: string | null}[]}
 */
export function holeCandidates(table, diameterMm, toleranceMm) {
  if (!isHole(table, diameterMm)) return [];
  const found = [];
  for (const { id, label, from_mm: low, to_mm: high, extra = null, hint = null } of table.components) {
    if (low - toleranceMm <= diameterMm && diameterMm <= high + toleranceMm) {
      const distance = Math.max(low - diameterMm, diameterMm - high, 0);
      const middle = Math.abs(diameterMm - (low + high) / 2);
      found.push({ middle, part: { id, label, distance_mm: distance, extra, hint } });
    }
  }
  // Sorting keeps the order of the table where all else is equal.
  found.sort((a, b) => a.part.distance_mm - b.part.distance_mm || a.middle - b.middle);
  return found.map(({ part }) => part);
}

/** The candidates in words; those equally near stand together as most likely. */
export function sentence(table, diameterMm, candidates) {
  const { words, limits } = table;
  if (!isHole(table, diameterMm)) {
    return filled(words['no-hole'], { smallest: figure(limits.smallest_mm), largest: figure(limits.largest_mm) });
  }
  const diameter = figure(diameterMm);
  const count = candidates.length;
  if (!count) return filled(words.none, { diameter });
  if (count > limits.named) return filled(words.many, { diameter, count });
  const near = (part) => part.distance_mm === candidates[0].distance_mm;
  const listed = (parts) => parts.map((part) => part.label).join(words.or);
  const first = listed(candidates.filter(near));
  const others = listed(candidates.filter((part) => !near(part)));
  return filled(words[others ? 'some' : 'first-only'], { diameter, first, others });
}

function isHole({ limits }, mm) {
  return limits.smallest_mm <= mm && mm <= limits.largest_mm;
}

/** Millimetres as people read them: two decimals at most, halves upward. */
function figure(mm) {
  return String(Math.floor(mm * 100 + 0.5) / 100);
}

function filled(text, blanks) {
  return text.replace(/\{(\w+)\}/g, (_, name) => blanks[name]);
}
