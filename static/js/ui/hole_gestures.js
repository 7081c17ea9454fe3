/** Fingers, mouse and pen on a drawing, told apart: a tap, a drag, a pinch. Lengths on the screen, in pixels. */

/** A finger that moves less than this has tapped. */
const STILL = 7;

/**
 * @typedef {{x: number, y: number}} Point in the drawing's own units
 * @typedef {Object} Gestures
 * @property {(at: Point) => any} grab what a finger takes hold of here, or null
 * @property {(held: any, at: Point) => void} drag
 * @property {(held: any, at: Point) => void} drop
 * @property {(held: any, at: Point) => void} tap
 * @property {() => void} after the browser is done with a tap: only now may anything move under the finger
 * @property {(dx: number, dy: number) => void} pan by so much of the drawing
 * @property {(factor: number, about: Point) => void} pinch
 * @property {(held: any) => void} letGo the browser took the finger away
 */

/**
 * @param {SVGSVGElement} drawing
 * @param {Gestures} told
 */
export function watchGestures(drawing, told) {
  /** @type {Map<number, PointerEvent>} */
  const fingers = new Map();
  let held = null;
  let from = null;
  let moved = false;

  const at = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
  const apart = () => {
    const [a, b] = fingers.values();
    return { span: Math.max(1, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY)), middle: { clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 } };
  };

  drawing.addEventListener('pointerdown', (event) => {
    if (event.button !== 0 || fingers.size === 2) return;
    fingers.set(event.pointerId, event);
    drawing.setPointerCapture(event.pointerId);
    if (fingers.size === 1) {
      [held, from, moved] = [told.grab(at(event)), event, false];
    } else {
      if (moved && held) told.letGo(held);
      [held, moved] = [null, true];
    }
  });

  drawing.addEventListener('pointermove', (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    if (fingers.size === 2) {
      const was = apart();
      fingers.set(event.pointerId, event);
      const is = apart();
      const [there, here] = [at(was.middle), at(is.middle)];
      told.pan(there.x - here.x, there.y - here.y);
      told.pinch(is.span / was.span, at(is.middle));
      return;
    }
    moved ||= Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > STILL;
    if (moved && held) told.drag(held, at(event));
    else if (moved) {
      const [there, here] = [at(before), at(event)];
      told.pan(there.x - here.x, there.y - here.y);
    }
    fingers.set(event.pointerId, event);
  });

  drawing.addEventListener('pointerup', (event) => {
    if (!fingers.delete(event.pointerId) || fingers.size > 0) return;
    if (!moved) told.tap(held, at(event));
    else if (held) told.drop(held, at(event));
    held = null;
  });

  // The keys stay where the tap brings them.
  drawing.addEventListener('mousedown', (event) => event.preventDefault());
  drawing.addEventListener('click', (event) => event.detail > 0 && told.after());

  drawing.addEventListener('pointercancel', (event) => {
    if (!fingers.delete(event.pointerId)) return;
    if (moved && held) told.letGo(held);
    [held, moved] = [null, true];
  });
}
