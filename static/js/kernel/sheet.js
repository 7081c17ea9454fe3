/**
 * A model sheet laid over its family's pack, also one made on this phone. Twin of apply_sheet in
 * webapp/rulebook/sheets.py.
 */

/**
 * @param {any} pack a family's pack
 * @param {any} overrides the sheet's document
 * @returns {any} the pack of that model sheet
 */
export function applySheet(pack, overrides) {
  const { sheet, name, about, reference } = overrides;
  const effects = { ...pack.effects };
  const absent = new Set(overrides.absent);
  if (sheet.book === 'none' && effects.book_part) absent.add(effects.book_part);
  for (const key of ['crystal_part', 'book_part']) {
    if (absent.has(effects[key])) effects[key] = null;
  }
  const parts = pack.parts.filter((part) => !absent.has(part.id)).map((part) => changed(part, overrides.parts.find((row) => row.id === part.id) ?? {}));
  const checks = without(pack.checks, absent);
  const tasks = [...pack.tasks];
  for (const extra of overrides.extra) {
    parts.push(extraPart(extra));
    putInStage(checks, extraCheck(pack, extra));
    if (extra.buy) putInStage(tasks, extraTask(pack, extra));
  }
  return {
    ...pack, name, about, sheet, effects, parts, checks, tasks,
    reference: changed(pack.reference, reference),
    supply_volts: sheet.supply_volts ?? pack.supply_volts,
  };
}

/** Puts a row behind the last of its stage, or behind all. */
function putInStage(rows, row) {
  const last = rows.findLastIndex((other) => other.stage === row.stage);
  rows.splice(last + 1 || rows.length, 0, row);
}

/** The row with some keys new; then its old source says nothing any more. */
function changed(row, changes) {
  if (Object.keys(changes).length === 0) return row;
  const { source, ...rest } = row;
  return { ...rest, ...changes };
}

/** The checks but those on absent parts, and the follow-ups that only they open. */
function without(checks, absent) {
  const gone = new Set(checks.filter((check) => absent.has(check.part)).map((check) => check.id));
  for (let size = -1; size !== gone.size;) {
    size = gone.size;
    for (const check of checks) if (gone.has(check.shown_if?.check)) gone.add(check.id);
  }
  return checks.filter((check) => !gone.has(check.id));
}

function grounds({ basis, source, why }) {
  return { basis, why, ...(source ? { source } : {}) };
}

function extraPart(extra) {
  const { id, label, weight, salvage, buy } = extra;
  return {
    id, label, weight, salvage, buy, calibration: false, fits_family: false, find: 'takes patience', ...grounds(extra),
  };
}

function extraCheck({ model, extra_words: words }, extra) {
  const { id, stage, label, buy, gone_prior: gone } = extra;
  const common = { log_effect_open: null, mean_factor: null, originality: 0, cautions: [], ...grounds(extra) };
  return {
    id, stage, label, part: id, shown_if: null, asks_holes: false, seconds: model.extra_seconds,
    help: words.help.replace('{part}', () => label),
    options: [{
      id: 'there', label: words.there, prior: 1 - gone, state: 1, log_effect: [0, model.extra_spread],
      fixable: false, tasks: [], as_made: true, ...common,
    }, {
      id: 'gone', label: words.gone, prior: gone, state: 0, log_effect: [extra.gone_effect, model.extra_spread],
      fixable: buy !== null, tasks: buy ? [taskId(extra)] : [], as_made: false, ...common,
    }],
    ...grounds(extra),
  };
}

const taskId = (extra) => `find-and-fit-${extra.id}`;

function extraTask({ model, extra_words: words, aims }, extra) {
  return {
    id: taskId(extra),
    label: words.find.replace('{part}', () => extra.label),
    part: extra.id,
    stage: 'parts',
    aims: aims.map((aim) => aim.id),
    after: [],
    set_up: { hours: [model.fit_hours_low, model.fit_hours_likely, model.fit_hours_high], materials: extra.buy },
    each: null,
    undo: 'can be undone',
    cautions: [],
    ...grounds(extra),
  };
}
