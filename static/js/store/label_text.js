/** A label's text: four signs of its sheet and three digits of its number, written K7Q2-007 (payload UC:K7Q2:007). */

const SIGNS = '[2-9A-HJKMNP-TV-Z]';
const PAYLOAD = new RegExp(`^UC:(${SIGNS}{4}):(\\d{3})$`);
const TYPED = new RegExp(`^(?:UC[: ])?(${SIGNS}{4})[-: ]?(\\d{1,3})$`);

const written = (match) => (match && Number(match[2]) > 0 ? `${match[1]}-${match[2].padStart(3, '0')}` : '');

/** A label as a reader of symbols gives it. @param {string} payload @returns {string} empty when it is no label of ours */
export const labelOf = (payload) => written(PAYLOAD.exec(payload));

/** A label as somebody types it off the print. @param {string} text @returns {string} empty when it is none */
export const typedLabel = (text) => written(TYPED.exec(text.trim().toUpperCase()));
