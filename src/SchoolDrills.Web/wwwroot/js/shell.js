// What works on every page, interactive or plain.

// Light or dark: the system's wish until the person chooses; the choice is kept in a cookie, which the server reads too.
(() => {
  const root = document.documentElement;
  const system = matchMedia('(prefers-color-scheme: dark)');
  document.addEventListener('click', event => {
    if (!event.target.closest('[data-theme-toggle]')) return;
    const now = root.dataset.theme || (system.matches ? 'dark' : 'light');
    const next = now === 'dark' ? 'light' : 'dark';
    root.dataset.theme = next;
    document.cookie = `theme=${next}; path=/; max-age=31536000; samesite=lax`;
    document.dispatchEvent(new CustomEvent('themechange', { detail: next }));
  });
})();

document.addEventListener('click', event => {
  if (event.target.closest('[data-print]')) print();
});

// A link or token is told once: a click takes the whole of it.
document.addEventListener('click', async event => {
  const button = event.target.closest('[data-copy]');
  if (!button) return;
  const field = document.getElementById(button.dataset.copy);
  field.select();
  try {
    await navigator.clipboard.writeText(field.value);
    button.textContent = 'Copied';
  } catch {
    // Without leave to write, it is at least selected.
    field.focus();
  }
});

// A page whose server has gone is loaded anew from whichever answers; drafts live on the server, so nothing is lost.
document.addEventListener('DOMContentLoaded', () => {
  const note = document.getElementById('components-reconnect-modal');
  note?.addEventListener('components-reconnect-state-changed', event => {
    if (event.detail.state === 'rejected') location.reload();
    if (event.detail.state === 'failed') setTimeout(() => location.reload(), 5000);
  });
});
