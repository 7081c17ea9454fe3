/** What was found on each check, sorted by what it is told among. Twin of seen.py. */
import { lasting, mends } from '../mends.js';
import { reasons } from '../reasons.js';
import { blank } from './sentences.js';

export const THERE = 'there';
export const MISSING = 'missing';
export const ALTERED = 'altered';
export const CONDITION = 'condition';
export const WHAT_IS_IT = 'what-is-it';
export const WITH_IT = 'with-it';
export const STORY = 'story';
export const HOLES = 'holes';
export const CALIBRATION = 'calibration';

/** What was found, ready to be told. */
export function seen(prepared, findings, now) {
  const rows = reasons(prepared, now.standing, findings, now.found, now.market);
  const mended = mends(prepared, findings, now, rows);
  const told = allTold(prepared, now);
  return {
    prepared,
    pack: prepared.pack,
    findings,
    now,
    rows,
    mends: new Map(mended.map((mend) => [mend.what, mend])),
    lasting: new Set(lasting(rows, mended).map((row) => row.what)),
    told,
    of: (name) => told.filter((one) => one.section === name),
  };
}

function allTold(prepared, now) {
  return prepared.checks.flatMap((check, index) => {
    const chosen = now.standing.chosen[index];
    if (chosen < 0) return [];
    const row = prepared.pack.checks[index];
    const option = row.options[chosen];
    const listed = index === prepared.holeCheck && now.standing.drilled;
    const effect = listed ? now.found.mean[index] : check.options[chosen].ownMean;
    const aspect = aspectOf(option, effect);
    return [{ check: row, option, aspect, section: sectionOf(prepared, index, aspect), what: listed ? 'holes' : check.id, effect }];
  });
}

function sectionOf(prepared, index, aspect) {
  const { part } = prepared.checks[index];
  const { stage } = prepared.pack.checks[index];
  if (index === prepared.holeCheck) return HOLES;
  if (part >= 0 && prepared.parts[part].calibration) return CALIBRATION;
  return [WHAT_IS_IT, WITH_IT, STORY].includes(stage) ? stage : aspect;
}

/** What an option is told among: as its row says, else by its state, its originality and its effect. */
export function aspectOf({ aspect, state, originality }, effect) {
  if (aspect) return aspect;
  if (state === 0) return MISSING;
  if (originality > 0) return ALTERED;
  return (state !== null && state < 1) || effect < 0 ? CONDITION : THERE;
}

/** The sentence of an answer: its row's own, or check and answer. */
export const tell = ({ pack }, { check, option, what }) =>
  ({ words: optionWords(pack, check, option), blanks: {}, of: [what], about: [...new Set([what, check.id])] });

/** What an option says of the set to a stranger. Braces in it are no blanks. */
export function optionWords(pack, check, { tell: own, label }) {
  if (own) return plain(own);
  const answer = label.charAt(0).toLowerCase() + label.slice(1);
  return pack.words['tell-answer'].replace('{check}', () => plain(check.label)).replace('{answer}', () => plain(answer));
}

const plain = (text) => text.replaceAll('{', '(').replaceAll('}', ')');

/** Whether honesty calls it damaged: drilled, or one finding on the set itself that takes much off. */
export function damaged({ pack, told }) {
  const least = Math.log(1 - pack.model.damaged_share);
  return told.some(({ section, effect }) => [HOLES, MISSING, ALTERED, CONDITION].includes(section)
    && (effect <= least || (section === HOLES && effect < 0)));
}

/** Whether a part is gone, of the set itself or of what belongs to it; spares do not belong to it. */
export const lacks = ({ section, aspect, option }) => section === MISSING || (aspect === MISSING && option.state !== null);

/** Hours and materials of a mend, as blanks. */
export const mendBlanks = ({ hours, materials }) => ({ hours: blank('hours', hours.p50), materials: blank('money', materials.p50) });
