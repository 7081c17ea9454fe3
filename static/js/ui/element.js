/** Builds elements. Text always goes in as text, so nothing a person types can become markup. */

/**
 * @param {string} tag
 * @param {Record<string, any>} [props] `on…` are listeners, `class` and attributes as in HTML, true and false switch one
 * @param {...(Node | string | null | undefined | false)} children
 * @returns {HTMLElement}
 */
export function h(tag, props = {}, ...children) {
  const element = document.createElement(tag);
  fill(element, props, children);
  return element;
}

/**
 * The same for drawings.
 * @param {string} tag
 * @param {Record<string, any>} [props]
 * @param {...(Node | string | null | undefined | false)} children
 * @returns {SVGElement}
 */
export function svg(tag, props = {}, ...children) {
  const element = document.createElementNS('http://www.w3.org/2000/svg', tag);
  fill(element, props, children);
  return element;
}

function fill(element, props, children) {
  for (const [name, value] of Object.entries(props)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
  }
  element.append(...children.filter((child) => child !== null && child !== undefined && child !== false));
}

/** Sets an element's text only when it changed, which spares the browser a layout. */
export function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
