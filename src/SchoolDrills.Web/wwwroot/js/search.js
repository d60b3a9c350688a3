// @ts-check
// Opens the search and moves along what it found. The server draws the list; which of it is chosen is known here alone, so that a key
// never waits for the network.

const box = () => /** @type {HTMLDialogElement | null} */ (document.getElementById('search'));
const field = () => /** @type {HTMLInputElement} */ (box()?.querySelector('[role=combobox]'));
const options = () => [.../** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('#search [role=option]'))];

/** @param {HTMLElement | undefined} option */
const choose = option => {
  for (const other of options()) other.setAttribute('aria-selected', String(other === option));
  if (option) {
    field().setAttribute('aria-activedescendant', option.id);
    option.scrollIntoView({ block: 'nearest' });
  } else field().removeAttribute('aria-activedescendant');
};

const openSearch = () => {
  const button = /** @type {HTMLButtonElement | null} */ (document.querySelector('[data-search]'));
  const dialog = box();
  if (!dialog || !button || button.disabled || dialog.open) return;
  // Another dialog has the page to itself.
  if (document.querySelector('dialog[open], .mud-dialog')) return;
  dialog.showModal();
  field().focus();
  field().select();
  new MutationObserver(() => {
    const now = options();
    if (!now.some(o => o.getAttribute('aria-selected') === 'true')) choose(now[0]);
  }).observe(/** @type {Element} */ (document.getElementById('search-found')), { childList: true, subtree: true });
};

document.addEventListener('click', event => {
  const target = /** @type {Element} */ (event.target);
  if (target.closest('[data-search]')) openSearch();
  // A click beside the dialog falls on the dialog itself.
  else if (target === box() || target.closest('[data-search-close], #search [role=option]')) box()?.close();
});

document.addEventListener('keydown', event => {
  if ((event.ctrlKey || event.metaKey) && !event.altKey && !event.shiftKey && event.key.toLowerCase() === 'k') {
    if (!document.querySelector('[data-search]')) return;
    event.preventDefault();
    openSearch();
    return;
  }
  if (!box()?.open || event.target !== field() || event.isComposing) return;
  const all = options();
  const at = all.findIndex(o => o.getAttribute('aria-selected') === 'true');
  if (event.key === 'ArrowDown') choose(all[(at + 1) % all.length]);
  else if (event.key === 'ArrowUp') choose(all[at <= 0 ? all.length - 1 : at - 1]);
  else if (event.key === 'Enter') all[at]?.click();
  else if (event.key === 'Escape') box()?.close();
  else return;
  event.preventDefault();
});
