/** What two devices found differently without knowing of each other: both are shown, and one tap chooses. */
import { letStand } from '../store/choosing.js';
import { h } from './element.js';
import { findingWords, whoWhen } from './finding_words.js';
import { notice } from './notices.js';

/**
 * @param {{kind: string, record: string, heads: import('../store/operations.js').Operation[]}[]} found
 * @param {(difference: {record: string}) => any} packOf the pack that names its checks, or null
 * @returns {HTMLElement | null}
 */
export function differencesCard(found, packOf) {
  if (found.length === 0) return null;
  return h('section', { class: 'card differs', 'aria-label': 'Two devices differ' },
    h('h2', {}, found.length === 1 ? 'Two devices differ' : `Two devices differ in ${found.length} places`),
    h('p', { class: 'help' }, 'Each was found without knowing of the other. The later one counts until you choose; the other stays in the history.'),
    ...found.map((difference) => onePart(difference, packOf(difference))));
}

function onePart({ heads }, pack) {
  const [what] = findingWords(pack, heads[0]);
  return h('div', { class: 'difference', role: 'group', 'aria-label': what }, h('h3', {}, what),
    ...heads.map((operation, index) => h('div', { class: 'head-choice' },
      h('p', {}, h('strong', {}, findingWords(pack, operation)[1]), h('span', { class: 'fine' }, `${whoWhen(operation)}${index === 0 ? ' · counts now' : ''}`)),
      h('button', { class: `button ${index === 0 ? 'strong' : ''}`, onclick: () => choose(operation) }, index === 0 ? 'Keep this' : 'Take this'))));
}

async function choose(operation) {
  try {
    await letStand(operation);
    window.dispatchEvent(new Event('underchassis-changed'));
  } catch (problem) {
    notice('save', problem.message, { kind: 'bad' });
  }
}
