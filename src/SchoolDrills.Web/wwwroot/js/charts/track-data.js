// @ts-check
// The columns of one attempt and its drill by the clock, straight from the API to the browser.
import { previewColumns } from './preview-columns.js';

const BINARY = 'application/octet-stream';

/**
 * Columns by name. They come in binary: a third of the text's size at full flight, and nothing to parse.
 * @param {TrackSource} source
 * @returns {Promise<TrackColumns>}
 */
export async function columnsOf({ url, keptAs }) {
  if (keptAs) {
    const { epochUtc, ...values } = previewColumns(keptAs);
    return { epochUtc, values };
  }
  const answer = await get(url, BINARY, 'The track could not be fetched');
  return readColumns(await answer.arrayBuffer());
}

/**
 * The drill by the clock; null where it is not to be had, and the plots then go without gates and calls.
 * @param {string | null} url
 * @returns {Promise<Timeline | null>}
 */
export async function timelineOf(url) {
  if (!url) return null;
  const answer = await fetch(url, { headers: { Accept: 'application/json' }, credentials: 'same-origin' }).catch(() => null);
  return answer?.ok ? answer.json() : null;
}

/**
 * @param {string} url
 * @param {string} failed what to say where it does not succeed
 */
export async function jsonOf(url, failed) {
  return (await get(url, 'application/json', failed)).json();
}

/**
 * @param {string} url
 * @param {string} type
 * @param {string} failed what to say where it does not succeed
 */
async function get(url, type, failed) {
  const answer = await fetch(url, { headers: { Accept: `${type}, application/problem+json` }, credentials: 'same-origin' }).catch(() => {
    throw new Error(`${failed}: the server does not answer. Reload the page to try again.`);
  });
  if (answer.ok) return answer;
  const problem = await answer.json().catch(() => null);
  throw new Error(problem?.detail ?? problem?.title ?? `${failed} (the server answered ${answer.status}). Reload the page to try again.`);
}

/**
 * A 32-bit length, that much JSON about the columns, then the columns one after another, each aligned to its own width.
 * @param {ArrayBuffer} buffer
 * @returns {TrackColumns}
 */
function readColumns(buffer) {
  const length = new DataView(buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  /** @type {TrackColumns['values']} */
  const values = {};
  let at = 4 + length;
  for (const { name, type, length: count } of head.columns) {
    const Numbers = type === 'float64' ? Float64Array : Float32Array;
    values[name] = new Numbers(buffer, at, count);
    at += count * Numbers.BYTES_PER_ELEMENT;
  }
  return { epochUtc: head.epochUtc, values };
}
