/** The print button of a page from the server; without scripts it stays hidden, and the browser's menu prints. */

const button = /** @type {HTMLButtonElement} */ (document.querySelector('#print'));
button.hidden = false;
button.addEventListener('click', () => window.print());
