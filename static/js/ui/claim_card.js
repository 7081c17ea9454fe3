/** One claim: the seller's sentence, and how it stands as three large choices. */
import { AGREES, DIFFERS, OPEN } from '../kernel/claims.js';
import { _ } from '../language.js';
import { cautionBlocks } from './cautions.js';
import { h, setText } from './element.js';

/**
 * @typedef {Object} ClaimView
 * @property {import('../kernel/claims.js').State} state
 * @property {string} told the seller's sentence
 * @property {string} found what was found, where it differs
 * @property {string} amount what that is worth
 * @property {string[]} cautions those to be shown here
 *
 * @typedef {Object} ClaimActions
 * @property {any} pack
 * @property {(id: string) => void} agree
 * @property {(id: string) => void} takeBack
 * @property {(id: string, done: () => void) => HTMLElement} choices
 */

export class ClaimCard {
  /** @param {string} id @param {ClaimActions} actions */
  constructor(id, actions) {
    this.id = id;
    this.actions = actions;
    this.choosing = false;
    this.told = h('h3', { class: 'claim-told' });
    this.found = h('p', { class: 'claim-found' });
    this.choices = h('div', { class: 'claim-choices' });
    this.cautions = h('div', {});
    this.called = '';
    const button = (text, act) => h('button', { class: 'option', onclick: act }, text);
    this.agree = button(_('Agree'), () => this.settle(actions.agree, AGREES));
    this.differ = button(_('Differs'), () => this.choose(!this.choosing));
    this.open = button(_('Not checked'), () => this.settle(actions.takeBack, OPEN));
    this.group = h('div', { class: 'options three claim-how', role: 'group' }, this.agree, this.differ, this.open);
    this.element = h('section', { class: 'card claim', 'data-claim': id }, this.told, this.found, this.group, this.choices, this.cautions);
  }

  /** @param {ClaimView} view */
  show(view) {
    const { state, told, found, amount, cautions } = view;
    this.state = state;
    setText(this.told, told);
    this.group.setAttribute('aria-label', told);
    this.found.hidden = state !== DIFFERS;
    this.found.replaceChildren(...state === DIFFERS ? [h('span', {}, _('Found: {what}', { what: found })), h('strong', { class: 'fall-text' }, amount)] : []);
    this.agree.setAttribute('aria-pressed', String(state === AGREES));
    this.differ.setAttribute('aria-pressed', String(state === DIFFERS));
    this.differ.setAttribute('aria-expanded', String(this.choosing));
    this.open.setAttribute('aria-pressed', String(state === OPEN));
    // Never under somebody's typing hands.
    if (!this.typing) this.choices.replaceChildren(...this.choosing ? [this.actions.choices(this.id, () => this.choose(false))] : []);
    if (cautions.join() === this.called) return;
    this.called = cautions.join();
    this.cautions.replaceChildren(...cautionBlocks(this.actions.pack, cautions));
  }

  /** Whether somebody types here just now. */
  get typing() {
    return this.choosing && this.choices.contains(document.activeElement) && Boolean(document.activeElement?.matches('input, select, textarea'));
  }

  settle(act, state) {
    this.choosing = false;
    if (this.state === state) this.choose(false);
    else act(this.id);
  }

  /** Opens what may be there instead, or folds it. @param {boolean} open */
  choose(open) {
    const within = this.choices.contains(document.activeElement);
    this.choosing = open;
    this.differ.setAttribute('aria-expanded', String(open));
    this.choices.replaceChildren(...open ? [this.actions.choices(this.id, () => this.choose(false))] : []);
    if (within && !open) this.differ.focus({ preventScroll: true });
  }
}
