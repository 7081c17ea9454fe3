/** The two ways into a backup: a new one from here, or the one that another device of yours began. */
import { _ } from '../language.js';
import { openDatabase } from '../store/database.js';
import { keyOf } from '../sync/key.js';
import { begin } from '../sync/membership.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { joinParts } from './join_parts.js';

/** @param {() => Promise<void>} redraw @returns {Promise<HTMLElement[]>} */
export async function beginParts(redraw) {
  if (!(await openDatabase()).kept) {
    return [h('p', {}, _('This browser keeps nothing, as private windows often do, so there is nothing to go on with once the page is closed. Open the app in a usual window to back up. What is here now goes out by “Export the notebook”.'))];
  }
  if (!window.isSecureContext) {
    return [h('p', {}, _('This address is neither https nor localhost: what goes over it can be read on the way, so nothing is backed up from here. Open the app over https. Until then, export the notebook and import it on the other device.'))];
  }
  const said = h('p', { class: 'wrong', role: 'alert' });
  const start = h('button', { class: 'button strong', onclick: () => busy(start, said, async () => {
    await begin();
    await redraw();
  }) }, _('Begin backing up'));
  return [h('p', {}, _('So far this notebook is on this device only. {host} can keep a copy, and further devices of yours can share it, with or without a signal in between.', { host: location.host })),
    h('p', {}, _('It is opened by a key that this device makes: no name, no e-mail, no password. Who runs the server can read what is kept there.')), start, said,
    h('h3', {}, _('Another device has the notebook already')), ...joinPart()];
}

/** Typing the key of another device. */
export function joinPart() {
  const said = h('p', { class: 'wrong', role: 'alert' });
  const place = h('div', {});
  const field = /** @type {HTMLTextAreaElement} */ (h('textarea', { rows: 3, autocomplete: 'off', autocapitalize: 'none', spellcheck: 'false', maxlength: 400 }));
  const go = h('button', { class: 'button', onclick: () => busy(go, said, async () => {
    place.replaceChildren(...await joinParts(await keyOf(field.value)));
  }) }, _('Look at that notebook'));
  return [labelled(_('The twelve words of its key'), field), said, go, place];
}

async function busy(button, said, act) {
  setText(said, '');
  button.toggleAttribute('disabled', true);
  try {
    await act();
  } catch (problem) {
    setText(said, problem.message);
  }
  button.toggleAttribute('disabled', false);
}
