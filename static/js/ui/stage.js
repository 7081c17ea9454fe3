/** One stage of the walk round: what the hand does, its checks, and "looked at the rest, all as made". */
import { _ } from '../language.js';
import { h, setText } from './element.js';

export class StageView {
  /**
   * @param {any} stage
   * @param {any} pack
   * @param {any} screen the Set screen
   */
  constructor(stage, pack, screen) {
    this.screen = screen;
    this.checks = pack.checks.filter((check) => check.stage === stage.id);
    this.fill = h('span', { class: 'mark-fill' });
    this.mark = h('span', { class: 'mark' }, this.fill);
    this.count = h('span', { class: 'fine' });
    this.jump = h('button', { class: 'row-link', onclick: () => this.goHere() }, h('span', {}, stage.title), this.count);
    this.heading = h('h2', { tabindex: -1 }, stage.title);
    this.rest = h('button', { class: 'button rest', onclick: () => this.lookedOver() }, _('Looked at the rest, all as made'));
    this.done = h('div', { class: 'looked-over', role: 'status' });
    this.element = h('section', { class: 'stage', id: `stage-${stage.id}` }, this.heading,
      h('p', { class: 'hint' }, stage.hint),
      ...this.checks.map((check) => screen.cards.get(check.id).element),
      this.rest, this.done);
  }

  goHere() {
    this.element.scrollIntoView({ block: 'start' });
    this.heading.focus({ preventScroll: true });
  }

  update(standing, prepared, foundSet) {
    const indexes = this.checks.map((check) => prepared.checkIndex.get(check.id)).filter((index) => standing.shown[index]);
    const seen = indexes.filter((index) => standing.chosen[index] >= 0);
    this.fill.style.width = `${(100 * seen.length) / Math.max(1, indexes.length)}%`;
    setText(this.count, _('{done} of {all}', { done: seen.length, all: indexes.length }));
    this.open = indexes.filter((index) => standing.chosen[index] < 0).map((index) => prepared.pack.checks[index])
      .filter((check) => !foundSet.found(check.id).unseen && check.options.some((option) => option.as_made));
    this.rest.hidden = this.open.length === 0;
  }

  /** Answers what stands open here and has an as-made option; says which, and undoes in place. */
  lookedOver() {
    const { open, screen } = this;
    if (open.length === 0) return;
    const before = Object.fromEntries(open.map((check) => [check.id, screen.foundSet.found(check.id)]));
    screen.keepMany(Object.fromEntries(open.map((check) => [check.id, {
      ...before[check.id], option: check.options.find((option) => option.as_made).id, looked_over: true,
    }])));
    const list = open.map((check) => check.label).join(', ');
    const undo = h('button', {
      class: 'button', onclick: () => {
        screen.keepMany(before);
        this.done.replaceChildren();
        this.rest.focus();
      },
    }, _('Undo'));
    this.done.replaceChildren(h('p', {}, _('Marked as made, looked over: {checks}.', { checks: list })), undo);
    undo.focus({ preventScroll: true });
  }
}
