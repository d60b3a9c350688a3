// @ts-check
// Moves the focus among the drills to choose from: a list is one stop of the Tab key, arrows go on within it.

/** @param {HTMLElement} list */
const buttons = list => [.../** @type {NodeListOf<HTMLButtonElement>} */ (list.querySelectorAll('button[data-drill]'))];

/**
 * The button to go to; of the next row the one that is nearest to where one comes from.
 * @param {HTMLButtonElement[]} all @param {number} at @param {string} key
 */
const next = (all, at, key) => {
  if (key === 'ArrowRight') return all[at + 1];
  if (key === 'ArrowLeft') return all[at - 1];
  if (key === 'Home') return all[0];
  if (key === 'End') return all.at(-1);
  const from = all[at].getBoundingClientRect();
  const down = key === 'ArrowDown';
  const beyond = all.filter(b => {
    const top = b.getBoundingClientRect().top;
    return down ? top > from.top + 1 : top < from.top - 1;
  });
  const rows = beyond.map(b => b.getBoundingClientRect().top);
  const row = down ? Math.min(...rows) : Math.max(...rows);
  return beyond
    .filter(b => Math.abs(b.getBoundingClientRect().top - row) < 2)
    .sort((a, b) => Math.abs(a.getBoundingClientRect().left - from.left) - Math.abs(b.getBoundingClientRect().left - from.left))[0];
};

/** @param {HTMLElement} picker */
export const watch = picker => {
  picker.addEventListener('keydown', event => {
    const list = /** @type {HTMLElement} */ (picker.querySelector('[role=toolbar]'));
    if (!list) return;
    const target = /** @type {HTMLElement} */ (event.target);
    const all = buttons(list);
    if (target.matches('input[type=search]') && event.key === 'ArrowDown') all[0]?.focus();
    else if (target.matches('button[data-drill]') && /^(Arrow|Home$|End$)/.test(event.key))
      next(all, all.indexOf(/** @type {HTMLButtonElement} */ (target)), event.key)?.focus();
    else return;
    event.preventDefault();
  });
};
