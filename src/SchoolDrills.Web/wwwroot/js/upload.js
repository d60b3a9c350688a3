// A recording goes from the browser straight to the API, so that its progress can be shown and a lost page connection does not
// lose the upload.

export function watchDrops(zone, input) {
  const over = on => event => { event.preventDefault(); zone.classList.toggle('over', on); };
  zone.addEventListener('dragover', over(true));
  zone.addEventListener('dragleave', over(false));
  zone.addEventListener('drop', event => {
    over(false)(event);
    if (event.dataTransfer.files.length === 0) return;
    input.files = event.dataTransfer.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
  });
}

export function chosen(input) {
  const file = input.files[0];
  return file ? { name: file.name, bytes: file.size } : null;
}

export function clear(input) {
  input.value = '';
}

// Resolves with the status (0 where the line broke) and the body; owner is told each whole per cent.
export function send(input, path, fields, token, owner) {
  return new Promise(resolve => {
    const form = new FormData();
    for (const [name, value] of Object.entries(fields)) form.append(name, value);
    form.append('track', input.files[0]);

    const request = new XMLHttpRequest();
    request.open('POST', path);
    request.setRequestHeader('Authorization', `Bearer ${token}`);
    request.setRequestHeader('Accept', 'application/json');
    let told = -1;
    request.upload.onprogress = event => {
      const percent = event.lengthComputable ? Math.floor(100 * event.loaded / event.total) : 0;
      if (percent === told) return;
      told = percent;
      owner.invokeMethodAsync('Progressed', percent).catch(() => { });
    };
    request.onload = () => resolve({ status: request.status, body: request.responseText });
    request.onerror = () => resolve({ status: 0, body: '' });
    request.send(form);
  });
}

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

// As send, for a file that was taken.
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
