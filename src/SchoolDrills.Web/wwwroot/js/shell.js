// @ts-check
// What works on every page, interactive or plain.

/**
 * @param {Event} event
 * @param {string} selector
 */
const closest = (event, selector) => /** @type {HTMLElement | null} */ (/** @type {Element} */ (event.target).closest(selector));

// Light or dark: the system's wish until the person chooses; the choice is kept in a cookie, which the server reads too.
document.addEventListener('click', event => {
  if (!closest(event, '[data-theme-toggle]')) return;
  const root = document.documentElement;
  const now = root.dataset.theme || (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light');
  const next = now === 'dark' ? 'light' : 'dark';
  root.dataset.theme = next;
  document.cookie = `theme=${next}; path=/; max-age=31536000; samesite=lax`;
});

document.addEventListener('click', event => {
  if (closest(event, '[data-print]')) print();
});

// Sends a plain form from a menu.
document.addEventListener('click', event => {
  const item = closest(event, '[data-submit]');
  if (item) /** @type {HTMLFormElement} */ (document.getElementById(item.dataset.submit ?? '')).requestSubmit();
});

// A menu shuts once one of its links is followed.
document.addEventListener('click', event => {
  if (closest(event, '[popover] a')) closest(event, '[popover]')?.hidePopover();
});

// A link or token is shown once: a click takes the whole of it.
document.addEventListener('click', async event => {
  const button = closest(event, '[data-copy]');
  if (!button) return;
  const field = /** @type {HTMLInputElement} */ (document.getElementById(button.dataset.copy ?? ''));
  field.select();
  try {
    await navigator.clipboard.writeText(field.value);
    button.textContent = 'Copied';
  } catch {
    // Without leave to write, it is at least selected.
    field.focus();
  }
});

// A page whose server has gone is loaded again from whichever answers; drafts live on the server, so nothing is lost.
document.addEventListener('DOMContentLoaded', () => {
  const note = document.getElementById('components-reconnect-modal');
  note?.addEventListener('components-reconnect-state-changed', event => {
    const { state } = /** @type {CustomEvent<{ state: string }>} */ (event).detail;
    if (state === 'rejected') location.reload();
    if (state === 'failed') setTimeout(() => location.reload(), 5000);
  });
});
