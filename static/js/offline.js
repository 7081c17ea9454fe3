/** The words of the page that the worker shows in place of one that only the server makes. */
import { _, loadLanguage } from './language.js';

await loadLanguage();
document.title = `${_('No signal')} · Underchassis`;
const words = {
  h1: _('No signal'),
  '.lead': _('This page comes from the server, and the server cannot be reached. Your sets are on this phone.'),
  '.button': _('Open the notebook'),
};
for (const [css, text] of Object.entries(words)) /** @type {Element} */ (document.querySelector(css)).textContent = text;
