// @ts-check
// The handles of a plan's map: start and heading by pointer or by keys. What moves with the start is shifted here at once; the path is
// drawn by the server, which is told where the handle is as fast as it answers.

/** @typedef {{ invokeMethodAsync: (name: string, ...values: unknown[]) => Promise<void> }} Page */

/** Arrow keys: east and north, or the way a heading turns. */
const ARROWS = /** @type {Record<string, [number, number]>} */ ({
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
});

/**
 * @param {SVGSVGElement} map
 * @param {Page} page
 */
export function open(map, page) {
  const stop = new AbortController();
  const on = { signal: stop.signal };
  /** @type {{ kind: string, id: number, x: number, y: number } | null} */
  let drag = null;
  let now = { x: 0, y: 0 };
  let asking = false;
  let waits = false;

  /** @param {PointerEvent} event */
  const at = event => {
    const box = map.getBoundingClientRect();
    const scale = map.viewBox.baseVal.width / box.width;
    return { x: (event.clientX - box.left) * scale, y: (event.clientY - box.top) * scale };
  };
  const start = () => /** @type {SVGElement} */ (map.querySelector('[data-drag="start"]')).dataset;

  /** @param {number} x @param {number} y */
  const shift = (x, y) => {
    for (const part of map.querySelectorAll('[data-moves]')) {
      if (x || y) part.setAttribute('transform', `translate(${x} ${y})`);
      else part.removeAttribute('transform');
    }
  };

  /** @param {boolean} dragging */
  const tell = async dragging => {
    if (!drag) return;
    if (asking) {
      waits = true;
      return;
    }
    const { kind } = drag;
    asking = true;
    waits = false;
    try {
      if (kind === 'start') {
        const sent = { ...now };
        await page.invokeMethodAsync('StartMovedAsync', sent.x - drag.x, sent.y - drag.y, dragging);
        // The server has drawn the start where it was told: what is left to shift counts from there.
        if (drag) {
          drag.x = sent.x;
          drag.y = sent.y;
          shift(now.x - sent.x, now.y - sent.y);
        } else {
          shift(0, 0);
        }
      } else {
        const from = start();
        const turn = (Math.atan2(now.x - Number(from.x), Number(from.y) - now.y) * 180) / Math.PI;
        await page.invokeMethodAsync('HeadingTurnedAsync', turn, dragging);
      }
    } catch {
      // The page is gone.
      return;
    } finally {
      asking = false;
    }
    if (waits) tell(drag !== null && dragging);
  };

  map.addEventListener(
    'pointerdown',
    event => {
      const handle = /** @type {SVGElement | null} */ (/** @type {Element} */ (event.target).closest('[data-drag]'));
      if (!handle || event.button !== 0) return;
      event.preventDefault();
      handle.focus();
      now = at(event);
      drag = { kind: handle.dataset.drag ?? '', id: event.pointerId, ...now };
      map.setPointerCapture(event.pointerId);
      map.dataset.dragging = '';
    },
    on,
  );
  map.addEventListener(
    'pointermove',
    event => {
      if (drag?.id !== event.pointerId) return;
      now = at(event);
      if (drag.kind === 'start') shift(now.x - drag.x, now.y - drag.y);
      tell(true);
    },
    on,
  );
  for (const end of /** @type {const} */ (['pointerup', 'pointercancel'])) {
    map.addEventListener(
      end,
      async event => {
        if (drag?.id !== event.pointerId) return;
        delete map.dataset.dragging;
        // What is under way first; then the last place, with which a start is looked for again.
        while (asking) await new Promise(done => setTimeout(done, 10));
        await tell(false);
        drag = null;
        shift(0, 0);
      },
      on,
    );
  }
  map.addEventListener(
    'keydown',
    event => {
      const kind = /** @type {SVGElement} */ (event.target).dataset.drag;
      const arrow = ARROWS[event.key];
      if (!kind || !arrow || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      const told =
        kind === 'start'
          ? page.invokeMethodAsync('StartNudgedAsync', ...arrow.map(a => a * (event.shiftKey ? 1 : 0.1)))
          : page.invokeMethodAsync('HeadingNudgedAsync', (arrow[0] + arrow[1]) * (event.shiftKey ? 1 : 5));
      told.catch(() => {});
    },
    on,
  );

  return { close: () => stop.abort() };
}
