// Recordings of the upload desk go straight to the API, so that a lost page connection does not lose them.

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

// Resolves with the status (0 where the line broke) and the body; owner is told each whole per cent.
export function sendTaken(id, path, fields, token, owner) {
  return new Promise(resolve => {
    const form = new FormData();
    for (const [name, value] of Object.entries(fields)) form.append(name, value);
    form.append('track', taken.get(id));
    const request = new XMLHttpRequest();
    request.open('POST', path);
    request.setRequestHeader('Authorization', `Bearer ${token}`);
    request.setRequestHeader('Accept', 'application/json');
    let told = -1;
    request.upload.onprogress = event => {
      const percent = event.lengthComputable ? Math.floor(100 * event.loaded / event.total) : 0;
      if (percent === told) return;
      told = percent;
      owner.invokeMethodAsync('Progressed', id, percent).catch(() => { });
    };
    request.onload = () => resolve({ status: request.status, body: request.responseText });
    request.onerror = () => resolve({ status: 0, body: '' });
    request.send(form);
  });
}
