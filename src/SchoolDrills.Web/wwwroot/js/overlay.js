// @ts-check
// Two attempts laid over each other: fetches both from the API and draws plan and strips. Called by OverlayPlots.razor.
import { OverlayPlots } from './overlay/plots.js';

/**
 * @param {HTMLElement} root element that the drawings go into
 * @param {string} url
 * @param {number | null} selected index of the segment shown
 */
export async function open(root, url, selected) {
  const note = /** @type {HTMLElement} */ (root.querySelector('.note'));
  const failed = (/** @type {string} */ why) => {
    root.dataset.state = 'failed';
    note.textContent = why;
    return { select() {}, close() {} };
  };
  const answer = await fetch(url, { headers: { Accept: 'application/json' }, credentials: 'same-origin' }).catch(() => null);
  if (!answer) return failed('The tracks could not be fetched: the server does not answer. Reload the page to try again.');
  const body = await answer.json().catch(() => null);
  if (!answer.ok || !body) {
    return failed(body?.detail ?? `The tracks could not be fetched (the server answered ${answer.status}). Reload the page to try again.`);
  }
  const plots = new OverlayPlots(root, body, selected);
  root.dataset.state = 'ready';
  note.textContent = '';
  plots.draw();
  return plots;
}
