/** The Verdict screen, for who buys and for who sells: one sentence, the range, what moved it, what to say and do. */
import { _, _n } from '../language.js';
import { holesOf } from '../store/hole_list.js';
import { outcomeOf } from '../store/outcomes.js';
import { cautionBlocks } from '../ui/cautions.js';
import { h } from '../ui/element.js';
import { faceDrawings } from '../ui/face_drawing.js';
import { haggleCard } from '../ui/haggle.js';
import { looksCard } from '../ui/looks.js';
import { marked } from '../ui/marked.js';
import { notice } from '../ui/notices.js';
import { outcomeCard } from '../ui/outcome.js';
import { outcomeWords } from '../ui/outcome_words.js';
import { rangeDrawing } from '../ui/range.js';
import { beforeSelling, sellerHeadline } from '../ui/seller.js';
import { useStyle } from '../ui/style_sheet.js';
import { waterfall } from '../ui/waterfall.js';
import { hours, matchSentence, meanwhileSentence, reasonLabel, verdictSentence } from '../ui/words.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showVerdict = (main, id) => showAppraised(main, id, _('Verdict'), verdictPage);

function verdictPage(appraised, refresh) {
  const { foundSet, pack, findings, appraisal, money } = appraised;
  const walk = `#/set/${foundSet.base.id}`;
  const { asking } = findings;
  const selling = foundSet.get('role') === 'seller';
  const sub = [foundSet.base.demo ? _('Demo') : '', foundSet.get('place'), asking === null || selling ? '' : _('they ask {price}', { price: money.say(asking) })];
  return [
    pageHead(appraised, walk, sub.filter(Boolean).join(' · ')),
    h('div', { class: 'page verdict' },
      sheetUnused(appraised),
      happened(foundSet),
      roleSwitch(foundSet, selling, refresh),
      ...(selling ? [
        sellerHeadline(appraised),
        haggleCard(appraised, _('What a buyer will point at'), _('Know these before you name a price; the figures are what each takes off.')),
        beforeSelling(appraised, walk),
      ] : [
        headline(pack, appraisal, asking, money),
        haggleCard(appraised, _('What to say'), _('True, and worth this much each. Say them kindly; the seller may not know.')),
      ]),
      foundSet.get('claims') && h('a', { class: 'row-link', href: `#/claims/${foundSet.base.id}/differs` }, _('What differs from the seller’s page ›')),
      h('section', { class: 'card' }, h('h2', {}, _('What moves it')), movement(pack, appraisal, money)),
      ...cautionBlocks(pack, appraisal.cautions),
      !selling && looksCard(appraised, walk),
      work(pack, appraisal, findings, money),
      ways(foundSet.base.id),
      holesDrawn(pack, foundSet),
      agreement(pack, appraisal, money),
      scores(pack, appraisal, foundSet),
      notChecked(pack, appraisal, foundSet),
      outcomeCard(appraised),
      h('p', { class: 'fine' }, _('An estimate from rule tables and what you saw, not an appraisal in the legal sense. Tables: {family}.', { family: pack.name }))),
  ];
}

/** What became of it stands above advice that comes too late. */
function happened(foundSet) {
  const outcome = outcomeOf(foundSet);
  return outcome && h('p', { class: 'lead' }, h('strong', {}, _('What became of it: {outcome}.', { outcome: outcomeWords(outcome) })));
}

/** The holes that were placed on a face, as they lie there. */
function holesDrawn(pack, foundSet) {
  const drawings = faceDrawings(pack, holesOf(foundSet, pack));
  if (drawings.length === 0) return false;
  useStyle('holes');
  return h('section', { class: 'card' }, h('h2', {}, _('Holes, to scale')), ...drawings,
    h('a', { class: 'row-link', href: `#/holes/${foundSet.base.id}` }, _('Place or change holes ›')));
}

/** Who looks at it: the same findings, read from the other side of the table. */
function roleSwitch(foundSet, selling, refresh) {
  const button = (role, text) => h('button', {
    class: 'option', 'aria-pressed': String((role === 'seller') === selling),
    onclick: async () => {
      foundSet.put('role', role).catch((problem) => notice('save', problem.message, { kind: 'bad' })).then(refresh);
    },
  }, text);
  return h('div', { class: 'options roles', role: 'group', 'aria-label': _('Whose verdict') }, button('buyer', _('I am buying')), button('seller', _('I am selling')));
}

/** The pages behind the verdict. */
function ways(id) {
  const link = (page, text) => h('a', { class: 'row-link', href: `#/${page}/${id}` }, text);
  return h('nav', { class: 'card', 'aria-label': _('Behind the verdict') },
    link('description', _('The description for a stranger ›')), link('mends', _('What if it were mended ›')), link('plan', _('The restoration plan ›')),
    link('reference', _('What a complete one fetches, and the sales behind it ›')), link('trust', _('How wide the range is, and from what ›')));
}

function headline(pack, appraisal, asking, money) {
  const { fair } = appraisal.price;
  const text = verdictSentence(pack, appraisal, asking, money);
  const [first, ...rest] = text.split(/(?<=[.!?]) /);
  const blanks = { low: money.say(fair.low), high: money.say(fair.high), price: asking === null ? '' : money.say(asking) };
  const said = asking === null ? _('The market would pay {low} to {high}.', blanks) : _('The market would pay {low} to {high}; they ask {price}.', blanks);
  return h('section', { class: 'headline' },
    h('h2', { class: 'verdict-word' }, first),
    h('p', { class: 'lead' }, rest.join(' '), ' ', h('strong', {}, meanwhileSentence(pack, appraisal, asking, money))),
    rangeDrawing(fair, asking, said),
    h('dl', { class: 'range-figures' },
      figurePair(_('low'), money.say(fair.low)), figurePair(_('middle'), money.say(fair.mid)), figurePair(_('high'), money.say(fair.high)),
      asking !== null && figurePair(_('they ask'), money.say(asking), 'asked')));
}

/** What mending a finding would bring and take; nothing for one that takes nothing off. */
function whatIf({ mends, lasting }, { what }, money) {
  const mend = mends.find((row) => row.what === what);
  if (mend) {
    return _('Mended it would bring {gain} and take about {hours} and {materials}; then it would stand at {low} to {high}.', {
      gain: money.say(mend.gain), hours: hours(mend.hours.p50), materials: money.say(mend.materials.p50),
      low: money.say(mend.then.p10), high: money.say(mend.then.p90),
    });
  }
  return lasting.some((row) => row.what === what) ? _('No work in the tables takes it back.') : '';
}

/** What was compared, what does not fit first, then what cannot be told yet. */
function agreement(pack, appraisal, money) {
  const results = { 'does not fit': _('does not fit'), 'cannot tell yet': _('cannot tell yet'), fine: _('fine') };
  const order = Object.keys(results);
  const worth = new Map(appraisal.reasons.map((row) => [row.what, row.amount]));
  const rows = appraisal.consistency.toSorted((a, b) => order.indexOf(a.result) - order.indexOf(b.result));
  return h('section', { class: 'card' }, h('h2', {}, _('What fits together')), ...rows.map((match) => {
    const amount = ['_foreign', '_misfit', ''].map((end) => worth.get(`${match.check === 'serial' ? 'book' : match.check}${end}`))
      .find((value) => value !== undefined);
    return h('p', { class: `match ${match.result.split(' ')[0]}` },
      h('strong', {}, `${pack.words[`name-${match.check}`]}, ${results[match.result]}: `), matchSentence(pack, match),
      match.logEffect !== 0 && amount !== undefined && h('span', { class: 'sub' }, ` ${money.change(amount)}.`),
      needsLook(match) && h('span', { class: 'sub' }, ` ${pack.words[`look-${match.check}`]}`));
  }));
}

/** A plate without a designation that can be read is no reason to doubt its rivets. */
const needsLook = ({ check, result }) => result === 'does not fit' || (result !== 'fine' && check !== 'designation');

function figurePair(term, value, kind = '') {
  return h('div', { class: kind }, h('dt', {}, term), h('dd', {}, value));
}

function movement(pack, appraisal, money) {
  const rows = appraisal.reasons.filter((row) => row.logEffect !== 0).map((row) => ({
    label: reasonLabel(pack, row),
    amount: row.amount,
    say: money.change,
    last: row.what === 'not checked',
    why: row.why ?? '',
    basis: row.basis,
    source: row.source ? pack.sources?.[row.source]?.title ?? null : null,
    more: whatIf(appraisal, row, money),
    href: `#/rules/${pack.family}${row.what === 'not checked' ? '' : `/${row.what}${row.option ? `/${row.option}` : ''}`}`,
  }));
  const { reference, as_is: asIs } = appraisal.price;
  const still = appraisal.reasons.length - rows.length;
  return h('div', {}, waterfall(rows,
    { label: _('A complete one, as made'), value: reference.median, text: money.say(reference.median) },
    { label: _('This one as it stands, middle'), value: asIs.p50, text: money.say(asIs.p50) }),
  appraisal.price.fair.mid > asIs.p50 && h('p', { class: 'why' }, _('In parts it fetches more: middle {sum}.', { sum: money.say(appraisal.price.fair.mid) })),
  h('p', { class: 'why' }, _('Each figure is rounded for itself; unrounded they add up.')),
  still > 0 && h('p', { class: 'why' }, _n('{count} finding is as made and moves nothing.', '{count} findings are as made and move nothing.', still)));
}

function work(pack, appraisal, findings, money) {
  const { effort, price, worth } = appraisal;
  const aim = pack.aims.find((row) => row.id === findings.aim);
  const count = effort.tasks.filter((line) => line.probability >= 1).length;
  return h('section', { class: 'card' }, h('h2', {}, _('The work: {aim}', { aim: aim.label })),
    h('p', { class: 'lead' }, _('{short} to {long}, {cheap} to {dear} in materials.', {
      short: hours(effort.hours.p50), long: hours(effort.hours.p90), cheap: money.say(effort.materials.p50), dear: money.say(effort.materials.p90),
    })),
    h('p', {}, _('On average worth {now} as it stands; restored, the work paid, {restored}; in parts {parts}. The best of these is the most to pay: {most}.', {
      now: money.say(price.as_is.mean), restored: orNothing(price.restored_net.mean, money), parts: orNothing(price.parts.mean, money), most: money.say(worth.value),
    })),
    h('p', { class: 'fine' }, _n('{count} task is certain so far; the plan below has them in order.', '{count} tasks are certain so far; the plan below has them in order.', count)));
}

/** A mean that the work may have eaten up. */
function orNothing(value, money) {
  return value > 0 ? money.say(value) : _('less than nothing');
}

function scores(pack, appraisal, foundSet) {
  const percent = (value) => `${Math.floor(value + 0.5)} %`;
  const words = {
    completeness: (share) => _('*Completeness {share}* of what belongs to it is there, by weight.', { share }),
    originality: (share) => _('*Originality {share}* as it left the works.', { share }),
    calibration: (share) => _('*Calibration {share}* of what it needs to read true.', { share }),
  };
  return h('section', { class: 'card' }, h('h2', {}, _('How complete, how original')),
    ...Object.entries(words).map(([name, say]) => {
      const { low, likely, high } = appraisal[name];
      const span = low === high ? percent(likely) : _('about {likely} ({low} to {high})', { likely: percent(likely), low: percent(low), high: percent(high) });
      return h('p', {}, ...marked(say(span)));
    }),
    h('details', {}, h('summary', {}, _('Part by part')), h('ul', { class: 'rows' }, ...pack.parts.map((part) => partRow(pack, part, foundSet)))));
}

function partRow(pack, part, foundSet) {
  const check = pack.checks.find((row) => row.part === part.id);
  const option = check.options.find((row) => row.id === foundSet.found(check.id).option);
  const { weight } = part;
  return h('li', { class: 'part' }, h('span', {}, part.label), h('span', { class: 'fine' },
    option ? _('{option} ({share} of weight {weight})', { option: option.label, share: `${Math.floor(100 * option.state + 0.5)} %`, weight })
      : _('not checked (weight {weight})', { weight })));
}

function notChecked(pack, appraisal, foundSet) {
  const label = (id) => pack.checks.find((row) => row.id === id).label;
  const unseen = appraisal.not_checked.filter((id) => foundSet.found(id).unseen);
  const open = appraisal.not_checked.filter((id) => !unseen.includes(id));
  return h('section', { class: 'card' }, h('h2', {}, _('Not checked')),
    h('p', {}, open.length > 0 ? `${open.map(label).join(', ')}.` : _('Everything that could be looked at was.')),
    unseen.length > 0 && h('p', {}, h('strong', {}, _('Could not be looked at:')), ` ${unseen.map(label).join(', ')}.`));
}
