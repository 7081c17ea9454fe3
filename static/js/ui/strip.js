/** The strip of eight stages; a tap lists them to go to one. */
import { _ } from '../language.js';
import { h, setText } from './element.js';

export class StageStrip {
  /** @param {import('./stage.js').StageView[]} stages */
  constructor(stages) {
    this.count = h('span', { class: 'count' });
    this.list = h('div', { class: 'stage-list', hidden: true, onclick: () => this.open(false) }, ...stages.map((stage) => stage.jump));
    this.button = h('button', { class: 'strip', 'aria-expanded': 'false', onclick: () => this.open(this.list.hidden) },
      h('span', { class: 'marks', 'aria-hidden': 'true' }, ...stages.map((stage) => stage.mark)), this.count);
    this.element = h('nav', { class: 'progress', 'aria-label': _('Stages') }, this.button, this.list);
  }

  /** @param {boolean} open */
  open(open) {
    this.list.hidden = !open;
    this.button.setAttribute('aria-expanded', String(open));
  }

  /** @param {number} done @param {number} shown */
  show(done, shown) {
    setText(this.count, _('{done} of {all} looked at', { done, all: shown }));
  }
}
