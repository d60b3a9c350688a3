// Grading by keys, at the speed of talk, and nothing lost with the connection: what is typed is kept in the browser until the
// server has it.

const sheets = new Map();
const isText = element => element.matches('textarea, select, input:not([type=radio], [type=checkbox])');

// Returns what was kept of an earlier, broken session on this attempt.
export function watch(sheet, attempt, phrases, keeps) {
  const store = `grade:${attempt}`;
  const controller = new AbortController();
  const on = (target, type, act) => target.addEventListener(type, act, { signal: controller.signal });
  sheets.set(sheet, controller);
  let lastComment = null;

  on(sheet, 'keydown', event => keyed(sheet, event));
  on(sheet, 'input', event => {
    if (!event.target.matches('[data-comment]')) return;
    expand(event.target, phrases);
    sheet.classList.toggle('picking', /(^|\s)\/$/.test(before(event.target)));
  });
  on(sheet, 'focusin', event => {
    if (event.target.matches('[data-comment]')) lastComment = event.target;
    else if (!event.target.closest('.phrases')) sheet.classList.remove('picking');
  });
  on(sheet, 'click', event => {
    const phrase = event.target.closest('[data-phrase]');
    if (phrase) write(lastComment ?? sheet.querySelector('[data-row=whole] [data-comment]'), phrases[phrase.dataset.phrase - 1]);
  });
  on(document, 'keydown', event => {
    if (event.key !== 'g' || event.ctrlKey || event.altKey || event.metaKey || isText(event.target) || document.querySelector('[role=dialog]')) return;
    event.preventDefault();
    const rows = rowsOf(sheet);
    enter(rows.find(row => !row.querySelector('input[type=radio]:checked')) ?? rows[0]);
  });
  if (!keeps) return null;
  const keep = (field, text) => field && sessionStorage.setItem(store, JSON.stringify({ ...kept(store), [field]: text }));
  on(sheet, 'input', event => keep(event.target.dataset.keep, event.target.value));
  on(sheet, 'change', event => keep(event.target.dataset.keep, event.target.value));
  on(sheet, 'click', event => {
    if (event.target.closest('[data-clear]')) keep(event.target.closest('[data-row]').querySelector('input[type=radio]').name, '');
  });
  return kept(store);
}

export function unwatch(sheet) {
  sheets.get(sheet)?.abort();
  sheets.delete(sheet);
}

// The server has these; what was typed since stays kept.
export function settle(attempt, fields) {
  const store = `grade:${attempt}`;
  const left = Object.fromEntries(Object.entries(kept(store)).filter(([field, text]) => (fields[field] ?? '') !== text));
  if (Object.keys(left).length === 0) sessionStorage.removeItem(store);
  else sessionStorage.setItem(store, JSON.stringify(left));
}

const kept = store => JSON.parse(sessionStorage.getItem(store) ?? '{}');
const rowsOf = sheet => [...sheet.querySelectorAll('[data-row]')];
const before = field => field.value.slice(0, field.selectionStart);

function enter(row) {
  const radio = row?.querySelector('input[type=radio]:checked') ?? row?.querySelector('input[type=radio]');
  radio?.focus();
  row?.scrollIntoView({ block: 'nearest' });
}

function keyed(sheet, event) {
  const row = event.target.closest('[data-row]');
  if (!row || event.ctrlKey || event.altKey || event.metaKey) return;
  if (isText(event.target)) {
    if (event.key === 'Escape' || (event.key === 'Enter' && event.target.tagName === 'INPUT')) {
      event.preventDefault();
      sheet.classList.remove('picking');
      enter(row);
    }
    return;
  }
  if (act(sheet, row, event.key)) event.preventDefault();
}

// True where the key meant something here.
function act(sheet, row, key) {
  const rows = rowsOf(sheet);
  const step = { ArrowDown: 1, Enter: 1, ArrowUp: -1 }[key];
  if (step) enter(rows[Math.min(Math.max(rows.indexOf(row) + step, 0), rows.length - 1)]);
  else if (/^[1-9]$/.test(key)) pick(row.querySelector(`[data-digit="${key}"]`));
  else if (key === '0' || key === 'Backspace' || key === 'Delete') clear(row);
  else if (key === 'c') row.querySelector('[data-comment]').focus();
  else if (key === '/') write(row.querySelector('[data-comment]'), '/');
  else if (key === 'a') sheet.querySelector('[data-suggest]')?.click();
  else if (key === 'o') enter(rows.at(-1));
  else if (key === 's') sheet.querySelector('[data-sign]:not(:disabled)')?.click();
  else return false;
  return true;
}

function pick(radio) {
  if (!radio) return;
  radio.focus();
  if (!radio.checked) radio.click();
}

function clear(row) {
  const word = row.querySelector('input[type=radio]:checked');
  if (!word) return;
  row.querySelector('[data-clear]').click();
  word.checked = false;
  word.focus();
}

function write(field, text) {
  field.focus();
  const gap = field.value.length > 0 && !/\s$/.test(field.value) ? ' ' : '';
  field.value += gap + text;
  field.setSelectionRange(field.value.length, field.value.length);
  field.dispatchEvent(new Event('input', { bubbles: true }));
}

// "/3" at the start of a word becomes the third phrase.
function expand(field, phrases) {
  const typed = before(field);
  const call = /(^|\s)\/([1-9])$/.exec(typed);
  const phrase = call && phrases[call[2] - 1];
  if (!phrase) return;
  const start = typed.slice(0, typed.length - 2) + phrase;
  field.value = start + field.value.slice(typed.length);
  field.setSelectionRange(start.length, start.length);
}
