// @ts-check
// The drill editor's keys, its toolbar and its dragging. The rows are the server's; this says which are meant.

/** @typedef {{ invokeMethodAsync: (method: string, ...args: unknown[]) => Promise<string | null> }} Page */

/** @type {AbortController | null} */
let watching = null;

/** The row last written in, and the column. */
let current = { path: '', column: 'name' };

/** Commands by the key held with Alt. @type {Record<string, string>} */
const commands = {
  ArrowUp: 'up',
  ArrowDown: 'down',
  KeyC: 'copy',
  KeyS: 'split',
  KeyR: 'repeat',
  KeyW: 'write-out',
  Delete: 'remove',
};

/**
 * @param {HTMLElement} root
 * @param {Page} page
 */
export function watch(root, page) {
  unwatch();
  watching = new AbortController();
  const { signal } = watching;
  root.addEventListener('focusin', event => enter(root, targetOf(event)), { signal });
  root.addEventListener('keydown', event => onRowKey(root, page, event), { signal });
  root.addEventListener('keydown', event => onQuickKey(page, event), { signal });
  root.addEventListener(
    'click',
    event => {
      const button = /** @type {HTMLElement | null} */ (targetOf(event).closest('[data-do]'));
      if (button) run(root, page, button.dataset.do ?? '');
    },
    { signal },
  );
  root.addEventListener('pointerdown', event => onGrip(root, page, event), { signal });
  document.addEventListener(
    'keydown',
    event => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || document.querySelector('[role=dialog]')) return;
      const what = event.code === 'KeyY' || (event.code === 'KeyZ' && event.shiftKey) ? 'redo' : event.code === 'KeyZ' ? 'undo' : '';
      if (!what) return;
      event.preventDefault();
      run(root, page, what);
    },
    { signal },
  );
  document.addEventListener(
    'keydown',
    event => {
      if (!event.altKey || event.code !== 'KeyN') return;
      event.preventDefault();
      /** @type {HTMLElement | null} */ (root.querySelector('[data-quick]'))?.focus();
    },
    { signal },
  );
}

export function unwatch() {
  watching?.abort();
  watching = null;
}

/**
 * @param {string} name
 * @param {string} text
 */
export function download(name, text) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
}

/**
 * Goes to a field that was just drawn.
 * @param {string} selector
 */
export function focusOn(selector) {
  const field = /** @type {HTMLElement | null} */ (document.querySelector(selector));
  field?.focus();
  field?.scrollIntoView({ block: 'nearest' });
}

/** @param {Event} event */
const targetOf = event => /** @type {HTMLElement} */ (event.target);

/** @param {HTMLElement} root */
const rowsOf = root => /** @type {HTMLElement[]} */ ([...root.querySelectorAll('[data-row]')]);

/**
 * @param {HTMLElement} root
 * @param {string} path
 */
const rowAt = (root, path) => rowsOf(root).find(row => row.dataset.row === path);

/**
 * The rows taken; where none is, the one last written in.
 * @param {HTMLElement} root
 */
function taken(root) {
  const picked = rowsOf(root).filter(row => /** @type {HTMLInputElement} */ (row.querySelector('[data-pick]')).checked);
  const rows = picked.length > 0 ? picked : [rowAt(root, current.path) ?? rowsOf(root).at(-1)];
  return rows.flatMap(row => row?.dataset.row ?? []);
}

/**
 * @param {HTMLElement} root
 * @param {HTMLElement} target
 */
function enter(root, target) {
  const row = /** @type {HTMLElement | null} */ (target.closest('[data-row]'));
  if (!row) return;
  current = { path: row.dataset.row ?? '', column: target.dataset.column ?? current.column };
  mark(root);
}

/** @param {HTMLElement} root */
function mark(root) {
  for (const row of rowsOf(root)) row.toggleAttribute('data-current', row.dataset.row === current.path);
}

/**
 * Has a command done, and goes on where it says.
 * @param {HTMLElement} root
 * @param {Page} page
 * @param {string} what
 */
async function run(root, page, what) {
  const isStep = what === 'undo' || what === 'redo';
  const paths = isStep ? [current.path].filter(Boolean) : taken(root);
  const path = await page.invokeMethodAsync('DoAsync', what, paths);
  if (isStep) return;
  for (const pick of root.querySelectorAll('[data-pick]')) /** @type {HTMLInputElement} */ (pick).checked = false;
  goTo(root, path, what === 'add' || what === 'repeat' ? 'name' : current.column);
}

/**
 * @param {HTMLElement} root
 * @param {string | null} path
 * @param {string} column
 */
function goTo(root, path, column) {
  const row = path && rowAt(root, path);
  if (!row) return;
  const cell = row.querySelector(`[data-column="${column}"]`) ?? row.querySelector('[data-column]');
  /** @type {HTMLElement | null} */ (cell)?.focus();
  row.scrollIntoView({ block: 'nearest' });
}

/**
 * @param {HTMLElement} root
 * @param {Page} page
 * @param {KeyboardEvent} event
 */
function onRowKey(root, page, event) {
  const target = targetOf(event);
  const row = /** @type {HTMLElement | null} */ (target.closest('[data-row]'));
  if (!row || event.ctrlKey || event.metaKey) return;
  if (event.altKey) {
    if (event.code === 'KeyA') {
      event.preventDefault();
      /** @type {HTMLElement} */ (row.querySelector('[data-pick]')).click();
    } else if (commands[event.code]) {
      event.preventDefault();
      run(root, page, commands[event.code]);
    }
    return;
  }
  const column = target.dataset.column;
  if (!column) return;
  if (event.key === 'Enter') {
    event.preventDefault();
    run(root, page, 'add');
  } else if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
    event.preventDefault();
    const rows = rowsOf(root);
    const next = rows[rows.indexOf(row) + (event.key === 'ArrowDown' ? 1 : -1)];
    if (next) goTo(root, next.dataset.row ?? null, column);
  }
}

/**
 * The line is emptied here and at once: what is typed next must not wait for the server, nor be wiped by its answer.
 * @param {Page} page
 * @param {KeyboardEvent} event
 */
async function onQuickKey(page, event) {
  const line = /** @type {HTMLInputElement} */ (targetOf(event));
  if (event.key !== 'Enter' || line.dataset.quick === undefined) return;
  event.preventDefault();
  const typed = line.value;
  if (!typed.trim()) return;
  put(line, '');
  const refused = await page.invokeMethodAsync('AddLineAsync', typed);
  if (refused && !line.value) put(line, typed);
}

/**
 * @param {HTMLInputElement} field
 * @param {string} text
 */
function put(field, text) {
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
}

/**
 * Drags a row by its grip to before or behind another.
 * @param {HTMLElement} root
 * @param {Page} page
 * @param {PointerEvent} event
 */
function onGrip(root, page, event) {
  const grip = /** @type {HTMLElement | null} */ (targetOf(event).closest('[data-grip]'));
  const row = /** @type {HTMLElement | null | undefined} */ (grip?.closest('[data-row]'));
  if (!grip || !row || event.button !== 0) return;
  event.preventDefault();
  const drag = new AbortController();
  /** @type {{ row: HTMLElement, behind: boolean } | null} */
  let aim = null;
  grip.setPointerCapture(event.pointerId);
  row.toggleAttribute('data-dragged', true);
  const clear = () => aim?.row.removeAttribute('data-drop');
  const end = () => {
    clear();
    row.removeAttribute('data-dragged');
    drag.abort();
  };
  grip.addEventListener(
    'pointermove',
    move => {
      clear();
      const over = /** @type {HTMLElement | null | undefined} */ (
        document.elementFromPoint(move.clientX, move.clientY)?.closest('[data-row]')
      );
      if (!over || over === row) {
        aim = null;
        return;
      }
      const { top, height } = over.getBoundingClientRect();
      aim = { row: over, behind: move.clientY > top + height / 2 };
      over.dataset.drop = aim.behind ? 'behind' : 'before';
    },
    { signal: drag.signal },
  );
  grip.addEventListener(
    'pointerup',
    async () => {
      const dropped = aim;
      end();
      if (!dropped) return;
      const path = await page.invokeMethodAsync('Drop', row.dataset.row, dropped.row.dataset.row, dropped.behind);
      goTo(root, path, 'name');
    },
    { signal: drag.signal },
  );
  grip.addEventListener('pointercancel', end, { signal: drag.signal });
  document.addEventListener(
    'keydown',
    key => {
      if (key.key === 'Escape') end();
    },
    { signal: drag.signal },
  );
}
