// @ts-check
// Grading by keys, at the speed of talk, and nothing lost with the connection: what is typed is kept in the browser until the
// server has it.

/**
 * What was typed in one row of the sheet; a part that was not touched is absent.
 * @typedef {{ grade?: string, comment?: string }} Part
 */

/** @type {Map<HTMLElement, AbortController>} */
const sheets = new Map();

/**
 * @param {HTMLElement} sheet
 * @param {string} attempt
 * @param {string[]} phrases
 * @param {boolean} keeps whether what is typed is kept until the server has it
 * @returns {(Part & { row: string })[] | null} what was kept of an earlier, broken session on this attempt
 */
export function watch(sheet, attempt, phrases, keeps) {
  const controller = new AbortController();
  const { signal } = controller;
  sheets.set(sheet, controller);
  /** @type {HTMLInputElement | null} */
  let lastComment = null;

  sheet.addEventListener('keydown', event => onKey(sheet, event), { signal });
  sheet.addEventListener(
    'input',
    event => {
      const field = commentOf(event);
      if (!field) return;
      expandPhrase(field, phrases);
      sheet.classList.toggle('picking', /(^|\s)\/$/.test(textBeforeCaret(field)));
    },
    { signal },
  );
  sheet.addEventListener(
    'focusin',
    event => {
      const field = commentOf(event);
      if (field) lastComment = field;
      else if (!targetOf(event).closest('.phrases')) sheet.classList.remove('picking');
    },
    { signal },
  );
  sheet.addEventListener(
    'click',
    event => {
      const button = /** @type {HTMLElement | null} */ (targetOf(event).closest('[data-phrase]'));
      const field = lastComment ?? /** @type {HTMLInputElement} */ (sheet.querySelector('[data-row=whole] [data-comment]'));
      if (button) append(field, phrases[Number(button.dataset.phrase) - 1]);
    },
    { signal },
  );
  document.addEventListener(
    'keydown',
    event => {
      const isShortcut = event.key === 'g' && !hasModifier(event) && !isText(targetOf(event)) && !document.querySelector('[role=dialog]');
      if (!isShortcut) return;
      event.preventDefault();
      const rows = rowsOf(sheet);
      enter(rows.find(row => !checkedIn(row)) ?? rows[0]);
    },
    { signal },
  );
  return keeps ? keep(sheet, `grade:${attempt}`, signal) : null;
}

/**
 * Scrolls the row of the segment chosen on the picture into sight, within the sheet's own pane alone: the picture stays where it is.
 * @param {HTMLElement} sheet
 * @param {number} segment
 */
export function show(sheet, segment) {
  const pane = sheet.closest('[data-scroller]');
  const row = sheet.querySelector(`[data-row="${segment}"]`);
  if (!pane || !row || pane.scrollHeight <= pane.clientHeight) return;
  pane.scrollTop += row.getBoundingClientRect().top - pane.getBoundingClientRect().top - 8;
}

/** @param {HTMLElement} sheet */
export function unwatch(sheet) {
  sheets.get(sheet)?.abort();
  sheets.delete(sheet);
}

/**
 * The server has these rows; what was typed since stays kept.
 * @param {string} attempt
 * @param {{ row: string, grade: string, comment: string }[]} saved
 */
export function settle(attempt, saved) {
  const store = `grade:${attempt}`;
  const left = Object.entries(kept(store))
    .map(([row, part]) => {
      const { grade = '', comment = '' } = saved.find(s => s.row === row) ?? {};
      /** @type {Part} */
      const unsaved = {};
      if (part.grade !== undefined && part.grade !== grade) unsaved.grade = part.grade;
      if (part.comment !== undefined && part.comment !== comment) unsaved.comment = part.comment;
      return /** @type {const} */ ([row, unsaved]);
    })
    .filter(([, part]) => Object.keys(part).length > 0);
  if (left.length === 0) sessionStorage.removeItem(store);
  else sessionStorage.setItem(store, JSON.stringify(Object.fromEntries(left)));
}

/**
 * @param {HTMLElement} sheet
 * @param {string} store
 * @param {AbortSignal} signal
 */
function keep(sheet, store, signal) {
  /**
   * @param {Event} event
   * @param {Part} typed
   */
  const put = (event, typed) => {
    const row = targetOf(event).closest('[data-row]')?.getAttribute('data-row');
    if (!row) return;
    const before = kept(store);
    sessionStorage.setItem(store, JSON.stringify({ ...before, [row]: { ...before[row], ...typed } }));
  };
  /** @param {Event} event */
  const onTyped = event => {
    const { value } = /** @type {HTMLInputElement} */ (event.target);
    put(event, commentOf(event) ? { comment: value } : { grade: value });
  };
  sheet.addEventListener('input', onTyped, { signal });
  sheet.addEventListener('change', onTyped, { signal });
  sheet.addEventListener(
    'click',
    event => {
      if (targetOf(event).closest('[data-clear]')) put(event, { grade: '' });
    },
    { signal },
  );
  return Object.entries(kept(store)).map(([row, part]) => ({ row, ...part }));
}

/**
 * @param {string} store
 * @returns {Record<string, Part>} by row
 */
const kept = store => JSON.parse(sessionStorage.getItem(store) ?? '{}');

/** @param {Event} event */
const targetOf = event => /** @type {HTMLElement} */ (event.target);

/** @param {Event} event */
const commentOf = event => (targetOf(event).matches('[data-comment]') ? /** @type {HTMLInputElement} */ (event.target) : null);

/** @param {Element} element */
const isText = element => element.matches('textarea, select, input:not([type=radio], [type=checkbox])');

/** @param {KeyboardEvent} event */
const hasModifier = event => event.ctrlKey || event.altKey || event.metaKey;

/** @param {HTMLElement} sheet */
const rowsOf = sheet => [.../** @type {NodeListOf<HTMLElement>} */ (sheet.querySelectorAll('[data-row]'))];

/** @param {HTMLElement} row */
const checkedIn = row => /** @type {HTMLInputElement | null} */ (row.querySelector('input[type=radio]:checked'));

/** @param {HTMLElement} row */
const commentIn = row => /** @type {HTMLInputElement} */ (row.querySelector('[data-comment]'));

/** @param {HTMLInputElement} field */
const textBeforeCaret = field => field.value.slice(0, field.selectionStart ?? field.value.length);

/** @param {HTMLElement} row */
function enter(row) {
  if (!row.offsetParent) /** @type {HTMLElement | null} */ (document.querySelector('[role=tab][data-tab=grade]'))?.click();
  const radio = checkedIn(row) ?? /** @type {HTMLInputElement | null} */ (row.querySelector('input[type=radio]'));
  radio?.focus();
  row.scrollIntoView({ block: 'nearest' });
}

/**
 * @param {HTMLElement} sheet
 * @param {KeyboardEvent} event
 */
function onKey(sheet, event) {
  const row = /** @type {HTMLElement | null} */ (targetOf(event).closest('[data-row]'));
  if (!row || hasModifier(event)) return;
  if (!isText(targetOf(event))) {
    if (act(sheet, row, event.key)) event.preventDefault();
    return;
  }
  const leaves = event.key === 'Escape' || (event.key === 'Enter' && targetOf(event).tagName === 'INPUT');
  if (!leaves) return;
  event.preventDefault();
  sheet.classList.remove('picking');
  enter(row);
}

/**
 * True where the key meant something here.
 * @param {HTMLElement} sheet
 * @param {HTMLElement} row
 * @param {string} key
 */
function act(sheet, row, key) {
  const rows = rowsOf(sheet);
  /** @type {Record<string, number>} */
  const steps = { ArrowDown: 1, Enter: 1, ArrowUp: -1 };
  /** @param {string} selector */
  const click = selector => /** @type {HTMLElement | null} */ (sheet.querySelector(selector))?.click();
  if (steps[key]) enter(rows[Math.min(Math.max(rows.indexOf(row) + steps[key], 0), rows.length - 1)]);
  else if (/^[1-9]$/.test(key)) pick(row.querySelector(`[data-digit="${key}"]`));
  else if (key === '0' || key === 'Backspace' || key === 'Delete') clear(row);
  else if (key === 'c') commentIn(row).focus();
  else if (key === '/') append(commentIn(row), '/');
  else if (key === 'a') click('[data-suggest]');
  else if (key === 'o') enter(rows[rows.length - 1]);
  else if (key === 's') click('[data-sign]:not(:disabled)');
  else return false;
  return true;
}

/** @param {HTMLInputElement | null} radio */
function pick(radio) {
  radio?.focus();
  if (radio?.checked === false) radio.click();
}

/** @param {HTMLElement} row */
function clear(row) {
  const radio = checkedIn(row);
  if (!radio) return;
  /** @type {HTMLElement} */ (row.querySelector('[data-clear]')).click();
  radio.checked = false;
  radio.focus();
}

/**
 * @param {HTMLInputElement} field
 * @param {string} text
 */
function append(field, text) {
  field.focus();
  const gap = field.value.length > 0 && !/\s$/.test(field.value) ? ' ' : '';
  field.value += gap + text;
  field.setSelectionRange(field.value.length, field.value.length);
  field.dispatchEvent(new Event('input', { bubbles: true }));
}

/**
 * "/3" at the start of a word becomes the third phrase.
 * @param {HTMLInputElement} field
 * @param {string[]} phrases
 */
function expandPhrase(field, phrases) {
  const typed = textBeforeCaret(field);
  const call = /(^|\s)\/([1-9])$/.exec(typed);
  const phrase = call && phrases[Number(call[2]) - 1];
  if (!phrase) return;
  const start = typed.slice(0, -2) + phrase;
  field.value = start + field.value.slice(typed.length);
  field.setSelectionRange(start.length, start.length);
}
