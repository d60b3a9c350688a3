// @ts-check
// What is typed in the drill editor is kept in the browser until the server has it, and nothing can be typed while there is no server.

/** Typed this long ago, it has reached the server: the save that just ended had it. */
const arrivedMs = 1500;

/** @type {AbortController | null} */
let keeping = null;

/**
 * @param {HTMLElement} root
 * @param {string} slug
 * @returns {{ label: string, text: string }[]} what an earlier, broken session typed and did not get saved
 */
export function keep(root, slug) {
  stop();
  keeping = new AbortController();
  const { signal } = keeping;
  const left = Object.entries(kept(slug))
    .filter(([label, { text }]) => valueOf(root, label) !== text)
    .map(([label, { text }]) => ({ label, text }));
  root.addEventListener(
    'input',
    event => {
      const field = /** @type {HTMLInputElement} */ (event.target);
      const label = field.getAttribute('aria-label') ?? field.labels?.[0]?.querySelector('span')?.textContent;
      if (!label || field.type === 'checkbox' || field.type === 'file') return;
      sessionStorage.setItem(key(slug), JSON.stringify({ ...kept(slug), [label]: { text: field.value, atMs: Date.now() } }));
    },
    { signal },
  );
  // Left while the server is there: it has all of it, and saves it.
  addEventListener('pagehide', () => root.inert || settle(slug), { signal });
  document.getElementById('components-reconnect-modal')?.addEventListener(
    'components-reconnect-state-changed',
    event => {
      root.inert = /** @type {CustomEvent<{ state: string }>} */ (event).detail.state !== 'hide';
    },
    { signal },
  );
  return left;
}

/**
 * @param {HTMLElement} root
 * @param {string} label
 */
const valueOf = (root, label) => /** @type {HTMLInputElement | null} */ (root.querySelector(`[aria-label="${CSS.escape(label)}"]`))?.value;

/**
 * The server has what was typed until a moment ago.
 * @param {string} slug
 */
export function settle(slug) {
  const left = Object.entries(kept(slug)).filter(([, { atMs }]) => Date.now() - atMs < arrivedMs);
  if (left.length === 0) sessionStorage.removeItem(key(slug));
  else sessionStorage.setItem(key(slug), JSON.stringify(Object.fromEntries(left)));
}

/** @param {string} slug */
export function forget(slug) {
  sessionStorage.removeItem(key(slug));
}

export function stop() {
  keeping?.abort();
  keeping = null;
}

/** @param {string} slug */
const key = slug => `draft:${slug}`;

/**
 * @param {string} slug
 * @returns {Record<string, { text: string, atMs: number }>} by the field's label
 */
const kept = slug => JSON.parse(sessionStorage.getItem(key(slug)) ?? '{}');
