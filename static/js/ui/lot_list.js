/** The sets of a lot as a list that sorts by one tap. A row is built once and filled anew, so that 200 of them stay quick. */
import { _ } from '../language.js';
import { h, setText } from './element.js';

/**
 * @typedef {Object} Figures what the plan says of a set
 * @property {string} worth in words
 * @property {string} perHour in words
 * @property {string} way in words
 * @property {string} range in words
 * @property {{worth: number, perHour: number | null, way: number, doubt: number}} by to sort by
 *
 * @typedef {{id: string, number: string, title: string, label: string, looked: string, figures: Figures | null}} Line
 */

/** Orders by name: what comes first. */
const ORDERS = {
  perHour: (a, b) => (b.perHour ?? -Infinity) - (a.perHour ?? -Infinity) || b.worth - a.worth,
  worth: (a, b) => b.worth - a.worth,
  way: (a, b) => a.way - b.way || b.worth - a.worth,
  doubt: (a, b) => a.doubt - b.doubt,
  number: () => 0,
};
/** The words on their buttons. */
const orderWords = () => ({ perHour: _('Per hour'), worth: _('Worth'), way: _('Way'), doubt: _('Sure'), number: _('No.') });
/** The order chosen last, as long as this tab lives. */
let chosen = 'perHour';

export class LotList {
  /** @param {{leave: (id: string) => void}} actions */
  constructor(actions) {
    this.actions = actions;
    /** @type {Map<string, Row>} */
    this.rows = new Map();
    this.buttons = new Map(Object.entries(orderWords()).map(([name, word]) => [name, h('button', { class: 'option', onclick: () => this.choose(name) }, word)]));
    this.list = h('ol', { class: 'rows lot-lines' });
    this.order = h('div', { class: 'lot-orders', role: 'group', 'aria-label': _('Sort by'), hidden: true }, ...this.buttons.values());
    this.editing = h('button', { class: 'button quiet', 'aria-pressed': 'false', onclick: () => this.edit() }, _('Take sets out'));
    this.element = h('div', {}, this.order, this.list, this.editing);
  }

  /**
   * Shows the sets. Rows that stand already keep their place until somebody sorts: a finger may be on its way to one.
   * @param {Line[]} lines by number
   */
  show(lines) {
    const fresh = lines.map(({ id }) => id).join() !== this.lines?.map(({ id }) => id).join();
    this.lines = lines;
    const ids = new Set(lines.map(({ id }) => id));
    for (const id of [...this.rows.keys()]) if (!ids.has(id)) this.rows.delete(id);
    for (const line of lines) {
      if (!this.rows.has(line.id)) this.rows.set(line.id, new Row(line.id, this.actions));
      this.rows.get(line.id).show(line);
    }
    this.order.hidden = !lines.some(({ figures }) => figures) || lines.length < 2;
    this.editing.hidden = lines.length === 0;
    if (fresh) this.sort(this.order.hidden ? 'number' : chosen);
  }

  /** A person chose an order. @param {string} name */
  choose(name) {
    chosen = name;
    this.sort(name);
  }

  /** @param {string} name of an order */
  sort(name) {
    for (const [other, button] of this.buttons) button.setAttribute('aria-pressed', String(other === name));
    const compare = ORDERS[name];
    const sorted = this.lines.toSorted((a, b) => (a.figures && b.figures ? compare(a.figures.by, b.figures.by) : Number(!a.figures) - Number(!b.figures)));
    this.list.replaceChildren(...sorted.map(({ id }) => this.rows.get(id).element));
  }

  /** A keyboard user goes on from here when the row where he was is gone. */
  focus() {
    if (document.activeElement === document.body) this.editing.focus({ preventScroll: true });
  }

  /** Shows a button at each row that takes its set out of the lot, or hides them. */
  edit() {
    const on = this.editing.getAttribute('aria-pressed') !== 'true';
    this.editing.setAttribute('aria-pressed', String(on));
    setText(this.editing, on ? _('Done') : _('Take sets out'));
    for (const row of this.rows.values()) row.edit(on);
  }
}

class Row {
  constructor(id, { leave }) {
    this.leave = h('button', { class: 'button quiet', hidden: true, onclick: () => leave(id) }, _('Take out'));
    this.number = h('span', { class: 'lot-number' });
    this.title = h('strong', {});
    this.said = h('span', { class: 'fine' });
    this.looked = h('span', { class: 'fine' });
    this.worth = h('strong', {});
    this.perHour = h('span', { class: 'fine' });
    this.element = h('li', { class: 'lot-line' }, h('a', { class: 'lot-link', href: `#/set/${id}` }, this.number,
      h('span', { class: 'lot-what' }, this.title, this.said, this.looked), h('span', { class: 'lot-worth' }, this.worth, this.perHour)), this.leave);
  }

  /** @param {Line} line */
  show({ number, title, label, looked, figures }) {
    setText(this.number, number);
    setText(this.title, title);
    setText(this.said, figures ? `${figures.way} · ${figures.range}` : label);
    setText(this.looked, [figures && label, looked].filter(Boolean).join(' · '));
    setText(this.worth, figures?.worth ?? '');
    setText(this.perHour, figures?.perHour ?? '');
    this.leave.setAttribute('aria-label', _('Take no. {number}, {set}, out of the lot', { number, set: title }));
  }

  /** @param {boolean} on */
  edit(on) {
    this.leave.hidden = !on;
  }
}
