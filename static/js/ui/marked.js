/** Strong words within a sentence that is translated whole. */
import { h } from './element.js';

/** A text whose words between asterisks are strong. @param {string} text that nobody typed @returns {(Node | string)[]} */
export const marked = (text) => text.split('*').map((part, index) => (index % 2 === 1 ? h('strong', {}, part) : part));
