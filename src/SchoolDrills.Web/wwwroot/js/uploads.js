// @ts-check
// Recordings go from the browser straight to the API: a lost page connection does not lose the upload, and progress can be shown.

import { keepPreview } from './charts/preview-columns.js';

/**
 * @typedef {object} Answer
 * @property {number} status HTTP status, 0 where the connection broke
 * @property {string} body
 * @property {string} [keptAs] name under which the columns of a preview are kept for its plots
 */

/**
 * Chosen files by a number of their own, so that the input is free for the next choice.
 * @type {Map<number, File>}
 */
const chosen = new Map();
let count = 0;

/**
 * A file dropped anywhere on the upload area counts as chosen.
 * @param {HTMLInputElement} input
 */
export function acceptDrops(input) {
  const area = /** @type {HTMLElement} */ (input.closest('.upload'));
  /** @param {boolean} isOver */
  const over = isOver => (/** @type {DragEvent} */ event) => {
    event.preventDefault();
    area.classList.toggle('over', isOver);
  };
  area.addEventListener('dragover', over(true));
  area.addEventListener('dragleave', over(false));
  area.addEventListener('drop', event => {
    over(false)(event);
    if (!event.dataTransfer?.files.length || input.disabled) return;
    input.files = event.dataTransfer.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
  });
}

/**
 * Takes what was chosen and empties the input.
 * @param {HTMLInputElement} input
 */
export function take(input) {
  const files = [...(input.files ?? [])].map(file => {
    chosen.set(++count, file);
    return { number: count, name: file.name, bytes: file.size };
  });
  input.value = '';
  return files;
}

/**
 * Takes the sample recording, as if it had been chosen.
 * @param {string} path
 */
export async function takeSample(path) {
  const answer = await fetch(path);
  if (!answer.ok) return null;
  const name = /filename="?([^";]+)/.exec(answer.headers.get('content-disposition') ?? '')?.[1] ?? 'sample.gpx';
  chosen.set(++count, new File([await answer.blob()], name));
  return { number: count, name, bytes: /** @type {File} */ (chosen.get(count)).size };
}

/** @param {number} number */
export function release(number) {
  chosen.delete(number);
}

/**
 * Sends a chosen file with form fields; the page's component hears of each whole percent.
 * @param {number} number
 * @param {string} path
 * @param {Record<string, string>} fields
 * @param {string} token
 * @param {DotNetObject} component
 * @returns {Promise<Answer>}
 */
export function send(number, path, fields, token, component) {
  const file = chosen.get(number);
  if (!file) return Promise.reject(new Error('This file is no longer held; choose it again.'));
  const form = new FormData();
  for (const [name, value] of Object.entries(fields)) form.append(name, value);
  form.append('track', file);
  return new Promise(resolve => {
    const request = new XMLHttpRequest();
    request.open('POST', path);
    request.setRequestHeader('Authorization', `Bearer ${token}`);
    request.setRequestHeader('Accept', 'application/json');
    let reported = -1;
    request.upload.onprogress = event => {
      const percent = event.lengthComputable ? Math.floor((100 * event.loaded) / event.total) : 0;
      if (percent === reported) return;
      reported = percent;
      // Progress is worth no error: the page may have gone elsewhere.
      component.invokeMethodAsync('Progressed', number, percent).catch(() => {});
    };
    request.onload = () => resolve(answerOf(request));
    request.onerror = () => resolve({ status: 0, body: '' });
    request.send(form);
  });
}

/**
 * A preview's columns stay in the browser, which alone draws them; only the report goes on to the page.
 * @param {XMLHttpRequest} request
 * @returns {Answer}
 */
function answerOf({ status, responseText: body }) {
  if (status !== 200 || !body.startsWith('{"report":')) return { status, body };
  const { report, track } = JSON.parse(body);
  return { status, body: JSON.stringify(report), keptAs: keepPreview(track) };
}
