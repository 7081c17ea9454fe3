/** The step in which the outline of the thing of known size is placed; the app looks for its true edges after each move. */
import { convex } from '../kernel/photos/plane.js';
import { _ } from '../language.js';
import { labelPlaces } from '../store/photo_labels.js';
import { NoSignal } from '../store/photo_server.js';
import { h } from './element.js';
import { countingPoints, firstHandles, handleNames, handlesOf, movedHandle } from './measure_outline.js';
import { closedLine, coinLine } from './measure_parts.js';

const help = () => ({
  card: _('Put each ring where two straight edges would meet: the card’s own corners are round.'),
  label: _('Put each ring on a corner of the black square.'),
  coin: _('Put six rings on its rim; the one in the middle moves them all.'),
});

export class OutlineStep {
  /**
   * @param {any} screen the measuring page
   * @param {any} thing kind, size_mm and thick_mm of what is outlined
   * @param {[number, number][] | null} points where it was placed before
   * @param {boolean} asGiven
   * @param {boolean} ready go on to the hole once the outline was found again
   */
  constructor(screen, thing, points, asGiven, ready) {
    Object.assign(this, { screen, thing, asGiven, ready });
    const { width, height } = screen.bitmap;
    this.names = handleNames(thing.kind);
    this.handles = points ? handlesOf(thing.kind, points) : firstHandles(thing.kind, width, height);
    /** @type {Set<number>} handles that somebody put where they are */
    this.placed = new Set(points ? this.names.keys() : []);
    this.reference = null;
    this.next = h('button', { class: 'button strong', onclick: () => this.screen.outlined(this.reference, this.given) }, _('Next: the hole'));
    this.still = h('button', { class: 'button', 'aria-pressed': String(asGiven), onclick: () => this.keepStill() }, _('Keep as I set it'));
    screen.panel(h('p', { class: 'why' }, help()[thing.kind]),
      h('div', { class: 'links' }, this.next, this.still,
        thing.kind === 'label' && h('button', { class: 'button', onclick: () => this.findLabel() }, _('Find it for me')),
        h('button', { class: 'button quiet', onclick: () => screen.choose() }, _('Something else'))));
    this.show();
    screen.stage.focus(0);
    if (points && !ready) screen.stage.goTo(points);
    if (points) this.refine();
    else if (thing.kind === 'label') this.findLabel();
    else this.sayPlaced();
  }

  /** The outline as it is placed now. */
  get given() {
    const { kind, size_mm, thick_mm } = this.thing;
    return { kind, points: countingPoints(kind, this.handles), size_mm, thick_mm, as_given: this.asGiven };
  }

  get whole() {
    return this.placed.size === this.names.length;
  }

  show() {
    const { handles, names, thing, reference } = this;
    const shown = handles.map(([x, y], index) => ({ x, y, label: names[index], kind: thing.kind === 'coin' && index < handles.length - 1 ? 'point' : thing.kind === 'coin' ? 'middle' : 'corner' }));
    this.screen.stage.show(shown, () => [
      thing.kind !== 'coin' && closedLine(countingPoints(thing.kind, handles), 'placed'),
      reference && (reference.coin ? coinLine(reference.coin, 'edges') : closedLine(reference.outline, 'edges')),
    ]);
    this.next.disabled = !reference;
  }

  /** A tap brings the handle that it hits; else the nearest that was not placed yet, or, once all are, the nearest of all. */
  tapped({ x, y }, index) {
    const middle = this.thing.kind === 'coin' && this.placed.size === 0 ? [this.handles.length - 1] : null;
    const open = middle ?? [...this.names.keys()].filter((index) => this.whole || !this.placed.has(index));
    const away = (index) => Math.hypot(this.handles[index][0] - x, this.handles[index][1] - y);
    const hit = index >= 0 && (this.whole || !this.placed.has(index));
    const nearest = hit ? index : open.sort((one, other) => away(one) - away(other))[0];
    this.moved(nearest, { x, y });
    // The rings about a coin are told apart from near only.
    if (middle) this.screen.stage.goTo(this.handles);
    this.dropped(nearest);
  }

  moved(index, { x, y }) {
    this.handles = movedHandle(this.thing.kind, this.handles, index, [x, y]);
    this.reference = null;
    this.ready = false;
    this.show();
  }

  dropped(index) {
    // The rim goes where its middle goes, and the middle where the rim goes.
    if (this.thing.kind === 'coin') for (const each of this.names.keys()) this.placed.add(each);
    this.placed.add(index);
    if (this.whole) this.refine();
    else this.sayPlaced();
  }

  sayPlaced() {
    this.screen.say(this.thing.kind === 'coin' ? _('Tap the middle of the coin, then put the rings on its rim.')
      : _('Tap its corners, or drag the rings there: {count} of 4 placed.', { count: this.placed.size }));
  }

  keepStill() {
    this.asGiven = !this.asGiven;
    this.still.setAttribute('aria-pressed', String(this.asGiven));
    if (this.whole) this.refine();
  }

  /** Looks for the true edges; of moves that come meanwhile only the last one counts. */
  async refine() {
    this.again = true;
    if (this.refining) return;
    this.refining = true;
    while (this.again) {
      this.again = false;
      await this.refineOnce();
    }
    this.refining = false;
  }

  async refineOnce() {
    const { screen, given } = this;
    const { kind, points } = given;
    const { words } = screen.tables.measuring;
    if (kind !== 'coin' && !convex(points)) {
      screen.say(words['no-plane']);
      return;
    }
    const found = await screen.busy(_('Looking for its edges …'), () => screen.measuring.outline(given));
    if (this.again || screen.step !== this) return;
    this.reference = found;
    this.show();
    if (found && this.ready) screen.outlined(found, given);
    else screen.say(found ? saidOf(found) : kind === 'coin' ? words['no-coin'] : screen.said.textContent);
  }

  /** Has the label found by the browser or the server. */
  async findLabel() {
    const { screen } = this;
    const places = await screen.busy(_('Looking for the label …'), () => labelPlaces(screen.picture).catch((problem) => problem));
    if (screen.step !== this || !places) return;
    if (Array.isArray(places) && places.length > 0) {
      // Of several the largest tells the size best.
      this.handles = places.map(({ corners }) => corners).sort((one, other) => across(other) - across(one))[0];
      for (const index of this.names.keys()) this.placed.add(index);
      screen.stage.goTo(this.handles);
      await this.refine();
      return;
    }
    const why = Array.isArray(places) ? _('No label was found by itself.')
      : places instanceof NoSignal ? _('This browser cannot find labels, and the server needs a signal.') : places.message;
    screen.say([why, _('Drag the rings onto the corners of its black square.')].join(' '));
  }
}

const across = ([[ax, ay], , [cx, cy]]) => Math.hypot(ax - cx, ay - cy);

/** What was found of its edges. @param {import('../kernel/photos/reference.js').Reference} reference */
function saidOf({ kind, as_given: asGiven, sides_found: found }) {
  if (asGiven) return _('Kept as you set it.');
  if (kind === 'coin') return found ? _('Its rim was found: the yellow line.') : _('Its rim was not found near your rings. Move them closer, or keep them as you set them.');
  return found === 4 ? _('All four edges were found: the yellow line.') : _('{count} of 4 edges were found. Move the rings closer to the corners, or keep them as you set them.', { count: found });
}
