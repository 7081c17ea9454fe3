/** Sharing a description by a link: made, brought up to date, passed on, taped to the set, taken back. */
import { _ } from '../language.js';
import { descriptionOf, shareDocument } from '../store/description.js';
import { localDay } from '../store/found_set.js';
import { addressOf, digestOf, hasPlace, publish, tagOf, withdraw } from '../sync/sharing.js';
import { language } from '../language.js';
import { confirmed } from './confirm.js';
import { h } from './element.js';
import { labelled } from './fields.js';
import { notice } from './notices.js';
import { sayDay } from './sale_words.js';
import { copyButton, shareButton } from './text_ways.js';

const sayProblem = (problem) => notice('share', problem.message, { kind: 'bad' });

export class ShareCard {
  /** @param {any} appraised what pages/appraised.js gives */
  constructor(appraised) {
    this.appraised = appraised;
    this.element = h('section', { class: 'card share-card' });
  }

  /** Shows how the link stands now. */
  async show() {
    const { foundSet } = this.appraised;
    const head = h('h2', {}, _('Share it by a link'));
    if (foundSet.base.demo) {
      this.element.replaceChildren(head, h('p', {}, _('Sets of the demo stay on this phone. A set of your own can be shared by a link.')));
      return;
    }
    const share = foundSet.get('share');
    const rows = share && !share.withdrawn ? await this.shared(share) : await this.unshared(share);
    this.element.replaceChildren(head, ...rows.filter(Boolean));
  }

  async unshared(share) {
    return [
      share?.withdrawn && h('p', {}, _('The link was taken back: whoever opens it is told so, and nothing else.')),
      h('p', {}, _('Whoever has the link reads the description as it is now, with its photos. Nobody can guess it, and you can take it back.')),
      !await hasPlace() && h('p', { class: 'help' }, _('For that, this notebook gets a place on the server, and is backed up there from now on.')),
      ...this.wishes(null),
      this.button(_('Make a link'), null),
    ];
  }

  async shared(share) {
    const { foundSet, pack } = this.appraised;
    const address = addressOf(share);
    const place = h('div', { role: 'status' });
    const today = localDay(new Date());
    const over = share.expires !== null && share.expires < today;
    const stale = share.digest !== await digestOf(await shareDocument(this.appraised, language()), descriptionOf(foundSet).found);
    const said = share.published ? _('It says what was known on {day}.', { day: sayDay(share.published) }) : _('The server has not answered yet whether it is there.');
    return [
      h('p', {}, h('a', { class: 'share-address', href: address, rel: 'noreferrer' }, address)),
      over ? h('p', { class: 'wrong' }, _('It ran out on {day}. Choose a later day and bring it up to date.', { day: sayDay(share.expires) })) : h('p', {}, said),
      stale && share.published && h('p', {}, h('strong', {}, _('Since then something was changed here; the page does not say it yet.'))),
      ...this.wishes(share.expires),
      (stale || over) && this.button(_('Bring the page up to date'), share),
      h('div', { class: 'links' }, copyButton(_('Copy the link'), () => address, place), shareButton(() => ({ title: foundSet.get('title') || pack.name, url: address }))),
      place,
      await this.tag(share),
      confirmed(_('Take the link back'), _('Nobody can read the page any more, and this link never opens anything again. What is on this phone stays.'), _('Yes, take it back'),
        () => withdraw(foundSet).catch(sayProblem).then(() => this.show())),
    ];
  }

  /** Last day, and whether it may be found; both count with the next publishing. */
  wishes(expires) {
    const { foundSet } = this.appraised;
    const found = /** @type {HTMLInputElement} */ (h('input', { type: 'checkbox', checked: descriptionOf(foundSet).found, onchange: () => {
      foundSet.put('description', { ...descriptionOf(foundSet), found: found.checked }).catch(sayProblem).then(() => this.show());
    } }));
    this.day = /** @type {HTMLInputElement} */ (h('input', { type: 'date', min: localDay(new Date()), value: this.chosenDay ?? expires ?? '', onchange: () => {
      this.chosenDay = this.day.value;
      this.show();
    } }));
    return [labelled(_('Last day of the link (empty: until you take it back)'), this.day), h('label', { class: 'check-line' }, found, h('span', {}, _('Search engines may list the page')))];
  }

  button(label, share) {
    const button = /** @type {HTMLButtonElement} */ (h('button', { class: 'button strong', onclick: async () => {
      button.disabled = true;
      const { foundSet } = this.appraised;
      const document = await shareDocument(this.appraised, language());
      await publish(foundSet, document, { found: descriptionOf(foundSet).found, expires: this.day.value || null }).catch(sayProblem);
      await this.show();
    } }, label));
    return button;
  }

  /** The tag to tape on the set. */
  async tag(share) {
    const drawn = await tagOf(share).catch(() => null);
    if (!drawn) return h('p', { class: 'fine' }, _('The tag to tape on the set needs a signal once.'));
    const address = URL.createObjectURL(new Blob([drawn], { type: 'image/svg+xml' }));
    return h('details', { class: 'share-tag' }, h('summary', {}, _('A tag to tape on the set')),
      h('img', { src: address, alt: _('QR symbol of the link'), onload: () => URL.revokeObjectURL(address) }),
      h('button', { class: 'button', onclick: () => {
        document.body.classList.add('only-tag');
        window.print();
        document.body.classList.remove('only-tag');
      } }, _('Print the tag')));
  }
}
