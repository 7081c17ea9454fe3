/** One question of the quick round: what to look at, and its options as large buttons. */
import { _ } from '../language.js';
import { NOTHING } from '../store/found_set.js';
import { h } from './element.js';

/**
 * @param {any} check its row in the pack
 * @param {import('../store/found_set.js').Found} found what is known so far
 * @param {(found: import('../store/found_set.js').Found) => void} answer
 */
export function roundQuestion(check, found, answer) {
  const choose = (option) => answer({ ...found, option, unseen: false, looked_over: false, ...check.asks_holes && option !== 'some' && { holes: [], no_hole: [] } });
  const many = check.options.length > 4;
  return h('section', { class: 'round-question' },
    h('h2', { tabindex: -1 }, check.label), h('p', { class: 'help' }, check.help),
    h('div', { class: `round-options ${many ? 'many' : ''}`, role: 'group', 'aria-label': check.label },
      ...check.options.map((option) => h('button', { class: 'option', onclick: () => choose(option.id) }, option.label)),
      h('button', { class: 'option round-unseen', onclick: () => answer({ ...found, ...NOTHING, unseen: true }) }, _('Cannot be looked at here'))));
}
