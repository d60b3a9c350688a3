// A recording goes from the browser straight to the API, so that its progress can be shown and a lost page connection does not
// lose the upload.

import { keep } from './charts/kept.js';

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

export function send(input, path, fields, token, owner) {
  return post(input.files[0], path, fields, token, percent => owner.invokeMethodAsync('Progressed', percent));
}

// Resolves with the status (0 where the line broke) and the body; tell is called with each whole per cent.
export function post(file, path, fields, token, tell) {
  return new Promise(resolve => {
    const form = new FormData();
    for (const [name, value] of Object.entries(fields)) form.append(name, value);
    form.append('track', file);

    const request = new XMLHttpRequest();
    request.open('POST', path);
    request.setRequestHeader('Authorization', `Bearer ${token}`);
    request.setRequestHeader('Accept', 'application/json');
    let told = -1;
    request.upload.onprogress = event => {
      const percent = event.lengthComputable ? Math.floor(100 * event.loaded / event.total) : 0;
      if (percent === told) return;
      told = percent;
      tell(percent).catch(() => { });
    };
    request.onload = () => resolve(answerOf(request));
    request.onerror = () => resolve({ status: 0, body: '' });
    request.send(form);
  });
}

// A preview's columns stay in the browser, which alone draws them; only the report goes on to the page.
function answerOf({ status, responseText: body }) {
  if (status !== 200 || !body.startsWith('{"report":')) return { status, body };
  const { report, track } = JSON.parse(body);
  return { status, body: JSON.stringify(report), keptAs: keep(track) };
}
