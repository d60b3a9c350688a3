// @ts-check
// Columns of a preview, of which the server keeps nothing: they wait here between the upload and the drawing.

/** @type {Map<string, Record<string, any>>} */
const columns = new Map();
let count = 0;

/**
 * Keeps the columns of the newest preview and answers the name to ask for them by.
 * @param {Record<string, any>} track
 */
export function keepPreview(track) {
  columns.clear();
  const name = `preview-${++count}`;
  columns.set(name, track);
  return name;
}

/** @param {string} name */
export function previewColumns(name) {
  const found = columns.get(name);
  if (!found) throw new Error('The columns of this preview are gone; score the recording again.');
  return found;
}
