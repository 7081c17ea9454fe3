/** The choice of the language of the screens, and of what lengths are in. */
import { CHOICE, LANGUAGES, _, language } from '../language.js';
import { openDatabase } from '../store/database.js';
import { settle } from '../store/saving.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { chooseUnit, chosenUnit, usualUnit } from './habits.js';
import { notice } from './notices.js';

/** The card with both choices. */
export function languageCard() {
  const tongue = select(_('Language'), LANGUAGES.map((code) => [code, ownName(code)]));
  tongue.value = language();
  tongue.addEventListener('change', () => keeping(() => chooseLanguage(tongue.value), tongue, language()));
  const usual = usualUnit() === 'inch' ? _('As usual here (inches)') : _('As usual here (millimetres)');
  const unit = select(_('Lengths in'), [['', usual], ['mm', _('Millimetres')], ['inch', _('Inches')]]);
  unit.value = chosenUnit() ?? '';
  unit.addEventListener('change', () => keeping(() => chooseUnit(/** @type {'mm' | 'inch'} */ (unit.value) || null), unit, ''));
  return h('section', { class: 'card' }, h('h2', {}, _('Language and lengths')),
    labelled(_('Language'), tongue), labelled(_('Lengths in'), unit));
}

/**
 * Keeps the choice and loads the app anew in that language, once everything entered is stored.
 * @param {string} code
 * @returns {Promise<void>} rejects when something could not be stored; then the app stays as it is
 */
export async function chooseLanguage(code) {
  await settle();
  localStorage.setItem(CHOICE, code);
  // Loaded anew, a notebook that is held in memory alone would be lost.
  if ((await openDatabase()).kept) location.reload();
  else notice('language', _('Your findings are held in this tab alone, so the app is not loaded anew now. Export first, then load the page again.'));
}

/** A language as its speakers call it. @param {string} code */
function ownName(code) {
  const name = new Intl.DisplayNames([code], { type: 'language' }).of(code) ?? code;
  return name[0].toLocaleUpperCase(code) + name.slice(1);
}

/** Makes a choice; one that cannot be kept is said, and its control goes back. */
async function keeping(choose, control, back) {
  try {
    await choose();
  } catch (problem) {
    control.value = back;
    notice('language', isStorage(problem) ? _('This browser keeps no choices. The app goes by the languages and the region that are set in the browser.') : problem.message, { kind: 'bad' });
  }
}

/** Whether it was the browser that refused to keep a choice. */
const isStorage = (problem) => problem instanceof DOMException;
