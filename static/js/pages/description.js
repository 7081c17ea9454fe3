/** The description of a set for a stranger: composed from what was found, to print, to paste, to share by a link. */
import { readFindings } from '../kernel/findings.js';
import { _ } from '../language.js';
import { descriptionOf, toldFindings, wishesOf } from '../store/description.js';
import { holesOf } from '../store/hole_list.js';
import { photosOf } from '../store/photos.js';
import { described } from '../ui/describing.js';
import { descriptionForm } from '../ui/description_form.js';
import { descriptionText } from '../ui/description_text.js';
import { descriptionView } from '../ui/description_view.js';
import { h } from '../ui/element.js';
import { faceDrawings, facesInWords } from '../ui/face_drawing.js';
import { ShareCard } from '../ui/share_card.js';
import { useStyle } from '../ui/style_sheet.js';
import { copyButton, shareButton } from '../ui/text_ways.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showDescription = (main, id) => showAppraised(main, id, _('Description'), descriptionPage);

async function descriptionPage(appraised) {
  const { foundSet, pack } = appraised;
  const { id } = foundSet.base;
  const [photos] = await Promise.all([photosOf(id), useStyle('description'), useStyle('holes')]);
  const share = new ShareCard(appraised);
  const body = h('div', { class: 'description-body' });
  const holes = holesOf(foundSet, pack);
  const draw = () => {
    const view = viewOf(appraised);
    body.replaceChildren(h('h1', { class: 'on-paper' }, view.title), view.name && h('p', { class: 'on-paper' }, view.name),
      ...descriptionView(view, { walk: `#/set/${id}`, faces: faceDrawings(pack, holes), photos }));
  };
  draw();
  await share.show();
  return [
    pageHead(appraised, `#/verdict/${id}`, _('Description for a stranger')),
    h('div', { class: 'page description' }, sheetUnused(appraised),
      h('div', { class: 'description-tools' },
        descriptionForm(appraised, () => {
          draw();
          share.show();
        }),
        ways(appraised, holes), share.element),
      body),
  ];
}

/** The description as it stands now, whatever was typed since the page opened. */
function viewOf(appraised) {
  const { foundSet, prepared, sales } = appraised;
  const { findings } = readFindings(toldFindings(foundSet, prepared, sales), prepared);
  const { words } = descriptionOf(foundSet);
  return described({ ...appraised, findings }, { title: foundSet.get('title') ?? '', words, wishes: wishesOf(foundSet) });
}

function ways(appraised, holes) {
  const { pack, foundSet } = appraised;
  const place = h('div', { role: 'status' });
  const text = (short) => descriptionText(viewOf(appraised), { short, faces: facesInWords(pack, holes) });
  return h('section', { class: 'card' }, h('h2', {}, _('Print it, paste it')),
    h('div', { class: 'links' }, h('button', { class: 'button', onclick: () => window.print() }, _('Print')),
      copyButton(_('Copy as text'), () => text(false), place), copyButton(_('Copy the short one'), () => text(true), place),
      shareButton(() => ({ title: foundSet.get('title') || pack.name, text: text(false) }))), place);
}
