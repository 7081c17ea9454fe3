/** What the notebook says of the demo while it holds some. */
import { _ } from '../language.js';
import { h } from './element.js';
import { marked } from './marked.js';
import { notice } from './notices.js';

/**
 * @param {import('../store/found_set.js').FoundSet[]} demos
 * @param {Set<string>} inLots ids of the sets that lie in a lot
 * @param {() => Promise<void>} remove
 */
export function demoPart(demos, inLots, remove) {
  const look = () => import('./demo_lot.js').then(({ lookAtDemoLot }) => lookAtDemoLot()).catch((problem) => notice('demo', problem.message, { kind: 'bad' }));
  return h('section', { class: 'card demo' },
    h('p', {}, ...marked(_('*These are demo sets* from the invented Quayside Sunday Market. Nothing in them is real.'))),
    h('div', { class: 'links' },
      !demos.some(({ base }) => inLots.has(base.id)) && h('button', { class: 'button', onclick: look }, _('Look at the Petrel Street lot of twelve')),
      h('button', { class: 'button', onclick: remove }, _('Remove the demo'))));
}
