/** Feedback that a change is on its way to the disk; it fades when the database says `complete`. */

/**
 * @param {HTMLElement} element
 * @param {Promise<void>} saving
 */
export function savingMark(element, saving) {
  element.classList.add('saving');
  element.classList.remove('unsaved');
  const under = (Number(element.dataset.saving) || 0) + 1;
  element.dataset.saving = String(under);
  const end = (failed) => {
    const left = (Number(element.dataset.saving) || 1) - 1;
    element.dataset.saving = String(left);
    if (left === 0) element.classList.remove('saving');
    element.classList.toggle('unsaved', failed);
  };
  saving.then(() => end(false), () => end(true));
}
