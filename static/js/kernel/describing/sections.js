/** What is there, missing, altered and worn, each finding once. Twin of sections.py. */
import { ALTERED, CALIBRATION, CONDITION, HOLES, lacks, mendBlanks, MISSING, tell, THERE } from './seen.js';
import { blank, section, spoken } from './sentences.js';

const FIND = ['easy', 'takes patience', 'hard', 'not to be had'];

/** What is there, what is missing, and what was altered. */
export const kinds = (seen) => [
  section(seen.pack, 'there', byStage(seen, THERE)),
  section(seen.pack, 'missing', missing(seen)),
  section(seen.pack, 'altered', altered(seen)),
];

/** What is worn, dirty or broken. */
export const condition = (seen) => section(seen.pack, 'condition', byStage(seen, CONDITION));

/** What comes with it, or its story, as answered. */
export const beside = (seen, stage) => section(seen.pack, stage, [seen.of(stage).map((one) => tell(seen, one))]);

/** The parts that it needs to read true, what fits of them, and how hard the missing are to find. */
export function calibration(seen, agreeing) {
  const told = seen.of(CALIBRATION);
  const gone = told.filter((one) => one.aspect === MISSING);
  return section(seen.pack, CALIBRATION, [told.map((one) => tell(seen, one)), agreeing, hunt(seen, gone)]);
}

/** A paragraph for each stage of the walk. */
const byStage = (seen, aspect) => seen.pack.stages.map((stage) =>
  seen.of(aspect).filter((one) => one.check.stage === stage.id).map((one) => tell(seen, one)));

function missing(seen) {
  const gone = seen.of(MISSING);
  if (gone.length > 0) return [gone.map((one) => tell(seen, one)), hunt(seen, gone)];
  return seen.told.some(lacks) ? [] : [none(seen, 'tell-none-missing')];
}

/** That nothing of a kind was found, where anything was looked at. */
const none = ({ pack, told }, word) => (told.length > 0 ? [spoken(pack, word, told.map((one) => one.check.id))] : []);

/** How hard the parts that are gone are to find, a sentence for each step. */
function hunt({ pack }, gone) {
  const part = (one) => pack.parts.find((row) => row.id === one.check.part);
  return FIND.flatMap((step) => {
    const at = gone.filter((one) => part(one)?.find === step);
    const labels = at.map((one) => part(one).label);
    return at.length > 0 ? [spoken(pack, `tell-find-${step.replaceAll(' ', '-')}`, at.map((one) => one.what), { parts: blank('list', labels) })] : [];
  });
}

function altered(seen) {
  const changed = seen.of(ALTERED);
  if (changed.length > 0) return [changed.map((one) => tell(seen, one)), undoing(seen, changed)];
  return seen.told.some((one) => one.aspect === ALTERED) ? [] : [none(seen, 'tell-none-altered')];
}

/** What some work takes back, with its hours, and what stays. */
function undoing({ pack, mends, lasting }, changed) {
  const mended = changed.filter((one) => mends.has(one.what)).map((one) =>
    spoken(pack, 'tell-mend', [one.what], { finding: blank('label', one.check.label), ...mendBlanks(mends.get(one.what)) }));
  const stay = changed.filter((one) => lasting.has(one.what));
  const labels = { findings: blank('list', stay.map((one) => one.check.label)) };
  return [...mended, ...(stay.length > 0 ? [spoken(pack, 'tell-lasting', stay.map((one) => one.what), labels)] : [])];
}

/** The added holes: that there are some, each place and size, and what filling them would take. */
export function holes(seen) {
  const { pack, findings, mends, lasting } = seen;
  const after = [];
  if (findings.holes.length > 0) {
    const mend = mends.get('holes');
    const word = !lasting.has('holes') ? 'tell-holes-mend' : mend ? 'tell-holes-partly' : 'tell-holes-lasting';
    after.push(spoken(pack, word, ['holes'], mend ? mendBlanks(mend) : {}));
  }
  return section(pack, HOLES, [seen.of(HOLES).map((one) => tell(seen, one)), alike(findings.holes).map((at) => holeTold(seen, at)), after]);
}

/** Places in the list of holes of one place, size and state. @returns {number[][]} */
function alike(listed) {
  const groups = new Map();
  listed.forEach(({ place, diameter_mm: diameter, as_found: left }, index) => {
    const key = JSON.stringify([place, diameter, left]);
    groups.set(key, [...(groups.get(key) ?? []), index]);
  });
  return [...groups.values()];
}

function holeTold({ pack, findings }, at) {
  const { place, diameter_mm: diameter, as_found: left } = findings.holes[at[0]];
  const one = at.length === 1;
  return spoken(pack, one ? `tell-hole-${left}` : `tell-holes-${left}`, at.map((index) => `hole/${index}`), {
    place: blank('words', pack.holes.places.find((row) => row.id === place).label),
    size: blank('length_mm', diameter),
    ...(one ? {} : { count: blank('figure', at.length) }),
  });
}
