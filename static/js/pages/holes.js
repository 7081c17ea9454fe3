/** The hole map: a face of the set drawn to scale, on which holes are placed, moved and sized. */
import { _ } from '../language.js';
import { addHole, holeCheck, holesOf, placeIn, removeHole, updateHole } from '../store/hole_list.js';
import { openSet } from '../store/notebook.js';
import { loadReasons, prepareFor } from '../store/packs.js';
import { h, setText } from '../ui/element.js';
import { keepHoles } from '../ui/hole_saving.js';
import { HoleMap } from '../ui/hole_map.js';
import { holePanel } from '../ui/hole_panel.js';
import { nearest, onFace } from '../ui/hole_view.js';
import { holeLine, placeLabel, sizeWords } from '../ui/hole_words.js';
import { clearNotice, notice } from '../ui/notices.js';
import { useStyle } from '../ui/style_sheet.js';
import { pageHead } from './appraised.js';

/** So much of what can be changed of a hole is in view, in pixels. */
const ROOM = 220;

/**
 * @param {HTMLElement} main
 * @param {string} id of the set; one that is not on this phone leads to the notebook
 * @param {string | null} place id of the face to begin with
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showHoles(main, id, place) {
  const foundSet = await openSet(id);
  if (!foundSet) {
    location.hash = '#/';
    return { refresh: async () => {} };
  }
  await Promise.all([useStyle('holes'), loadReasons(foundSet.base.family)]);
  const { pack } = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
  const screen = new HolesScreen(foundSet, pack, place);
  main.replaceChildren(...screen.elements);
  screen.show();
  document.title = `${_('Holes: {name}', { name: foundSet.get('title') || pack.name })} · Underchassis`;
  return { refresh: async () => screen.takeOver(await openSet(id)) };
}

class HolesScreen {
  constructor(foundSet, pack, place) {
    this.foundSet = foundSet;
    this.pack = pack;
    const known = pack.faces.drawn.map((face) => face.id);
    const first = holesOf(foundSet, pack).find((hole) => known.includes(hole.place))?.place;
    this.place = known.includes(place) ? place : first ?? known[0];
    /** The hole that is looked at: one of the list, or a spot that waits for its size. */
    this.chosen = null;
    this.map = new HoleMap({
      tapped: (spot) => this.tapped(spot),
      choose: (hole) => this.choose(hole),
      moved: (hole, spot) => this.put(hole, spot),
      remove: (hole) => this.remove(hole),
      settled: () => this.makeRoom(),
    });
    this.tabs = h('div', { class: 'face-tabs', role: 'group', 'aria-label': _('Which face') });
    this.waiting = h('div', { class: 'hole-waiting' });
    this.said = h('p', { class: 'help hole-said', role: 'status' });
    this.panel = h('div', {});
    this.head = pageHead({ foundSet, pack }, `#/set/${foundSet.base.id}/${holeCheck(pack).id}`, _('Holes on a drawing'));
    this.elements = [this.head, h('div', { class: 'page hole-page' }, this.tabs, this.waiting, this.map.element, this.said, this.panel)];
  }

  get holes() {
    return holesOf(this.foundSet, this.pack);
  }

  get face() {
    return this.pack.faces.drawn.find((face) => face.id === this.place);
  }

  /** The holes of this face that have a spot, with their numbers in the list, and the spot that waits. */
  get spots() {
    const placed = this.holes.map((hole, index) => ({ hole, number: index + 1 }))
      .filter(({ hole }) => hole.place === this.place && hole.x_mm !== undefined);
    return this.waits ? [...placed, { hole: this.chosen, number: '?' }] : placed;
  }

  /** Whether the chosen spot waits for its size; it is kept as soon as that is told. */
  get waits() {
    return this.chosen !== null && this.chosen.diameter_mm === undefined;
  }

  show() {
    const { pack, holes } = this;
    this.tabs.replaceChildren(...pack.faces.drawn.map(({ id }) => {
      const count = holes.filter((hole) => hole.place === id).length;
      return h('button', { class: 'option', 'aria-pressed': String(id === this.place), onclick: () => this.turn(id) },
        `${placeLabel(pack, id)}${count > 0 ? ` (${count})` : ''}`);
    }));
    const loose = holes.filter((hole) => hole.x_mm === undefined && pack.faces.drawn.some((face) => face.id === hole.place));
    this.waiting.replaceChildren(...(loose.length > 0 ? [
      h('p', { class: 'fine' }, _('Not placed yet; choose one, then tap where it sits:')),
      h('div', { class: 'options' }, ...loose.map((hole) => h('button', {
        class: 'option', 'aria-pressed': String(hole === this.chosen), onclick: () => this.choose(hole),
      }, holeLine(pack, hole)))),
    ] : []));
    this.map.show(this.face, placeLabel(pack, this.place), this.spots, this.chosen);
    this.showPanel();
    this.say();
  }

  /** On a small screen the drawing goes up, so that what can be changed of a hole comes into view below it. */
  makeRoom() {
    if (!this.chosen) return;
    this.map.focus(this.chosen);
    if (this.panel.getBoundingClientRect().top > innerHeight - ROOM) this.map.element.scrollIntoView({ block: 'start', behavior: 'instant' });
  }

  showPanel() {
    const { chosen, pack, holes } = this;
    this.panel.replaceChildren(...(chosen ? [holePanel(pack, this.face, chosen, holes.indexOf(chosen) + 1, this.foundSet.base.id, {
      change: (changes) => this.change(chosen, changes),
      remove: () => this.remove(chosen),
      close: () => this.choose(null),
    })] : []));
  }

  /** What to do next, after what just happened. @param {string} [first] */
  say(first = '') {
    const { chosen } = this;
    const next = chosen && chosen.x_mm === undefined ? _('Tap where the hole of {size} sits.', { size: sizeWords(chosen) })
      : chosen ? _('Drag it, or move it by the arrow keys.') : _('Tap where a hole is, or a hole to change it. “Closer” helps the finger.');
    setText(this.said, [first, next].filter(Boolean).join(' '));
  }

  turn(place) {
    this.place = place;
    this.chosen = null;
    this.show();
    this.tabs.querySelector('[aria-pressed="true"]')?.focus({ preventScroll: true });
  }

  choose(hole) {
    this.chosen = hole;
    if (hole) this.place = hole.place;
    this.show();
    if (hole?.x_mm !== undefined) this.map.focus(hole);
  }

  /** An empty place was tapped: there goes the hole that waits for one, else a new one. */
  tapped(spot) {
    const { chosen } = this;
    if (chosen && (this.waits || chosen.x_mm === undefined)) this.put(chosen, spot);
    else this.put({ place: this.place, as_found: 'open' }, spot);
  }

  /** Puts a hole where it was dragged or tapped, but onto its face. */
  put(hole, spot) {
    const { held, ...at } = onFace(this.face, spot, hole.diameter_mm ?? 0);
    const others = this.spots.filter((row) => row.hole !== hole);
    const other = nearest(others.map((row) => row.hole), { x: at.x_mm, y: at.y_mm }, (hole.diameter_mm ?? 0) / 2);
    this.change(hole, at);
    this.map.focus(this.chosen);
    const over = other && others.find((row) => row.hole === other).number;
    this.say(held ? _('It was put onto the face, at its edge.') : over ? _('It lies over hole {number}; leave it if it does.', { number: over }) : '');
  }

  /** Keeps what changed of a hole; a spot is kept as soon as it has a size. */
  change(hole, changes) {
    const { foundSet, pack } = this;
    const at = placeIn(this.holes, hole);
    if (hole.diameter_mm === undefined) {
      this.chosen = { ...hole, ...changes };
      if (changes.diameter_mm !== undefined) {
        const { held, ...spot } = onFace(this.face, { x: hole.x_mm, y: hole.y_mm }, changes.diameter_mm);
        this.keep(addHole(foundSet, pack, whole({ ...this.chosen, ...spot })));
        this.chosen = this.holes.at(-1);
      }
    } else {
      this.keep(updateHole(foundSet, pack, hole, changes));
      this.chosen = this.holes[at] ?? null;
    }
    this.show();
  }

  remove(hole) {
    const { foundSet, pack } = this;
    const at = placeIn(this.holes, hole);
    this.chosen = null;
    if (at >= 0) {
      this.keep(removeHole(foundSet, pack, hole));
      notice('hole', _('Hole {number} was removed: {hole}.', { number: at + 1, hole: holeLine(pack, hole) }), { actions: [[_('Undo'), () => this.putBack(hole, at)]] });
    }
    this.show();
  }

  putBack(hole, at) {
    clearNotice('hole');
    this.keep(addHole(this.foundSet, this.pack, hole, at));
    this.choose(this.holes[at]);
  }

  keep(saving) {
    keepHoles(this.foundSet, this.head, saving);
  }

  /** Another tab changed the set: what is stored now is shown, and a spot that waits stays. */
  takeOver(foundSet) {
    if (!foundSet) {
      location.hash = '#/';
      return;
    }
    const { chosen } = this;
    this.foundSet = foundSet;
    if (chosen && !this.waits) this.chosen = this.holes[placeIn(this.holes, chosen)] ?? null;
    const typing = this.panel.contains(document.activeElement) && document.activeElement.matches('input');
    // Never under somebody's typing hands; the list below them is the new one all the same.
    if (typing && this.chosen) this.map.show(this.face, placeLabel(this.pack, this.place), this.spots, this.chosen);
    else this.show();
  }
}

const whole = (hole) => Object.fromEntries(Object.entries(hole).filter(([, value]) => value !== undefined));
