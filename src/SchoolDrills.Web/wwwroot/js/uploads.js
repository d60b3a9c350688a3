// Recordings of the upload desk go straight to the API, so that a lost page connection does not lose them.

import { post } from './upload.js';

export { watchDrops } from './upload.js';

// Several at once: each chosen file is taken under a number of its own, so that the field is free for the next choice.
const taken = new Map();
let numbers = 0;

export function take(input) {
  const files = [...input.files].map(file => {
    const id = ++numbers;
    taken.set(id, file);
    return { id, name: file.name, bytes: file.size };
  });
  input.value = '';
  return files;
}

export function letGo(id) {
  taken.delete(id);
}

export function sendTaken(id, path, fields, token, owner) {
  return post(taken.get(id), path, fields, token, percent => owner.invokeMethodAsync('Progressed', id, percent));
}
