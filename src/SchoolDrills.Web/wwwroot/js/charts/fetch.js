// The columns of one attempt and its drill by the clock, straight from the API to the browser.
import { kept } from './kept.js';

const BINARY = 'application/octet-stream';

/** Columns by name, numbers in typed arrays where they come in binary: a third of the text's size at full flight, and nothing to parse. */
export async function columnsOf({ url, keptAs }) {
  if (keptAs) return kept(keptAs);
  const answer = await get(url, BINARY, 'The track could not be fetched');
  return readColumns(await answer.arrayBuffer());
}

/** The drill by the clock; null where it is not to be had, and the plots then go without gates and calls. */
export async function timelineOf(url) {
  if (!url) return null;
  const answer = await fetch(url, { headers: { Accept: 'application/json' }, credentials: 'same-origin' }).catch(() => null);
  return answer?.ok ? answer.json() : null;
}

async function get(url, type, failed) {
  const answer = await fetch(url, { headers: { Accept: `${type}, application/problem+json` }, credentials: 'same-origin' })
    .catch(() => { throw new Error(`${failed}: the server does not answer. Reload the page to try again.`); });
  if (answer.ok) return answer;
  const problem = await answer.json().catch(() => null);
  throw new Error(problem?.detail ?? problem?.title ?? `${failed} (the server answered ${answer.status}). Reload the page to try again.`);
}

/** A 32-bit length, that much JSON about the columns, then the columns one after another, each aligned to its own width. */
export function readColumns(buffer) {
  const length = new DataView(buffer).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  const columns = { epochUtc: head.epochUtc };
  let at = 4 + length;
  for (const { name, type, length: n } of head.columns) {
    const Kind = type === 'float64' ? Float64Array : Float32Array;
    columns[name] = new Kind(buffer, at, n);
    at += n * Kind.BYTES_PER_ELEMENT;
  }
  return columns;
}
