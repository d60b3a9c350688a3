// @ts-check
// Gestures on the strips and the plan: pointer, wheel, two fingers and keys, turned into what the plots can do.
import { indexAt, nearestTo } from './columns.js';
import { RAIL, timeOf } from './layout.js';
import { sampleNear } from './plan.js';

/** A drag of fewer pixels is a click. */
const SWEEP_PX = 6;

/** @typedef {import('./plots.js').Plots} Plots */

/**
 * @param {Plots} plots
 * @param {AbortSignal} signal
 */
export function attachGestures(plots, signal) {
  onPointer(plots, signal);
  onPlan(plots, signal);
  const { strips, root } = plots;
  strips.addEventListener('dblclick', () => plots.command('drill'), { signal });
  strips.addEventListener('wheel', event => onWheel(plots, event), { signal, passive: false });
  strips.addEventListener('keydown', event => onKey(plots, event), { signal });
  root.addEventListener(
    'keydown',
    event => {
      const target = /** @type {Element} */ (event.target);
      if (event.key !== ' ' || target.closest('button, input, select, summary, a')) return;
      event.preventDefault();
      plots.playback.toggle();
    },
    { signal },
  );
}

/**
 * @param {Plots} plots
 * @param {AbortSignal} signal
 */
function onPointer(plots, signal) {
  const { strips } = plots;
  /** @type {Map<number, number>} */
  const fingers = new Map();
  /** @type {[number, number] | null} */
  let pinch = null;
  /** @type {number | null} */
  let sweptFrom = null;
  /** @param {MouseEvent} event */
  const inside = event => {
    const box = strips.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  /** @param {number} x */
  const timeAt = x => timeOf(plots.stripLayout, plots.view, x);

  strips.addEventListener(
    'pointerdown',
    event => {
      const { x } = inside(event);
      if (event.pointerType === 'touch') fingers.set(event.pointerId, x);
      if (fingers.size === 2) {
        const [first, second] = [...fingers.values()].map(timeAt);
        pinch = [first, second];
        sweptFrom = null;
        return;
      }
      plots.show(sampleUnder(plots, event));
      if (event.button !== 0 || (event.pointerType !== 'mouse' && !plots.isExcluding)) return;
      strips.setPointerCapture(event.pointerId);
      sweptFrom = x;
    },
    { signal },
  );
  strips.addEventListener(
    'pointermove',
    event => {
      const { x } = inside(event);
      if (fingers.has(event.pointerId)) fingers.set(event.pointerId, x);
      if (pinch && fingers.size === 2) {
        const [first, second] = fingers.values();
        pinchTo(plots, pinch, [first, second]);
        return;
      }
      if (plots.playback.isPlaying && sweptFrom === null && event.pointerType === 'mouse') return;
      plots.show(sampleUnder(plots, event));
      if (sweptFrom !== null && Math.abs(x - sweptFrom) >= SWEEP_PX) plots.drawSweep(sweptFrom, x);
    },
    { signal },
  );
  strips.addEventListener(
    'pointerup',
    event => {
      const { x, y } = inside(event);
      fingers.delete(event.pointerId);
      if (sweptFrom !== null && Math.abs(x - sweptFrom) >= SWEEP_PX) {
        const [from, to] = [timeAt(Math.min(x, sweptFrom)), timeAt(Math.max(x, sweptFrom))];
        if (plots.isExcluding) plots.exclude(from, to);
        else plots.zoom({ from, to });
      } else if (y < RAIL) {
        plots.choose(timeUnder(plots, event));
      }
      sweptFrom = null;
    },
    { signal },
  );
  strips.addEventListener(
    'pointercancel',
    event => {
      fingers.delete(event.pointerId);
      sweptFrom = null;
    },
    { signal },
  );
}

/**
 * @param {Plots} plots
 * @param {MouseEvent} event
 */
function timeUnder({ strips, stripLayout, view }, event) {
  const time = timeOf(stripLayout, view, event.clientX - strips.getBoundingClientRect().left);
  return Math.min(Math.max(time, view.from), view.to);
}

/**
 * Time of the sample under a pointer.
 * @param {Plots} plots
 * @param {MouseEvent} event
 */
function sampleUnder(plots, event) {
  const { t } = plots.flight;
  return t[nearestTo(t, timeUnder(plots, event))];
}

/**
 * Each finger keeps the time that it was put on.
 * @param {Plots} plots
 * @param {[number, number]} times
 * @param {[number, number]} fingers
 */
function pinchTo(plots, [t1, t2], [x1, x2]) {
  const { left, right } = plots.stripLayout;
  if (Math.abs(x2 - x1) < 12 || t1 === t2) return;
  const perPx = Math.abs((t2 - t1) / (x2 - x1));
  const from = (t1 + t2) / 2 - ((x1 + x2) / 2 - left) * perPx;
  plots.zoom({ from, to: from + (right - left) * perPx });
}

/**
 * @param {Plots} plots
 * @param {WheelEvent} event
 */
function onWheel(plots, event) {
  const isSideways = Math.abs(event.deltaX) > Math.abs(event.deltaY);
  if (!event.ctrlKey && !event.metaKey && !isSideways) return;
  event.preventDefault();
  const { from, to } = plots.view;
  const shift = (event.deltaX / 800) * (to - from);
  if (isSideways) plots.zoom({ from: from + shift, to: to + shift });
  else plots.scaleBy(Math.exp(Math.min(Math.max(event.deltaY, -60), 60) / 250), timeUnder(plots, event));
}

/**
 * @param {Plots} plots
 * @param {AbortSignal} signal
 */
function onPlan(plots, signal) {
  const { plan, flight } = plots;
  /** @param {MouseEvent} event */
  const sampleAt = event => {
    const box = plan.getBoundingClientRect();
    return sampleNear(flight, plots.drawings.planLayout, event.clientX - box.left, event.clientY - box.top);
  };
  plan.addEventListener(
    'pointermove',
    event => {
      const sample = plots.playback.isPlaying ? -1 : sampleAt(event);
      if (sample >= 0) plots.show(flight.t[sample]);
    },
    { signal },
  );
  plan.addEventListener(
    'click',
    event => {
      const sample = sampleAt(event);
      if (sample >= 0) plots.choose(flight.t[sample]);
    },
    { signal },
  );
}

/**
 * @param {Plots} plots
 * @param {KeyboardEvent} event
 */
function onKey(plots, event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const { time } = plots;
  const moved = timeAfter(plots, event);
  if (moved !== null) plots.moveTo(moved);
  else if (event.key === '+' || event.key === '=') plots.command('in');
  else if (event.key === '-') plots.command('out');
  else if (event.key === '0') plots.command('drill');
  else if (event.key === 'Enter') plots.choose(time);
  else if (event.key === 'x' || event.key === 'X') plots.markStretch();
  else return;
  event.preventDefault();
}

/**
 * Where a key takes the cursor; null for a key that does not.
 * @param {Plots} plots
 * @param {KeyboardEvent} event
 */
function timeAfter({ flight: { t }, drill, view, time }, event) {
  const step = (view.to - view.from) / (event.shiftKey ? 10 : 100);
  const at = nearestTo(t, time);
  /** @param {number} i */
  const sample = i => t[Math.min(Math.max(i, 0), t.length - 1)];
  const starts = drill.segments.map(s => s.startS);
  const first = indexAt(t, view.from);
  switch (event.key) {
    case 'ArrowRight':
      return sample(Math.max(at + 1, nearestTo(t, t[at] + step)));
    case 'ArrowLeft':
      return sample(Math.min(at - 1, nearestTo(t, t[at] - step)));
    case 'PageDown':
      return starts.find(s => s > time + 0.5) ?? time;
    case 'PageUp':
      return starts.findLast(s => s < time - 0.5) ?? time;
    case 'Home':
      return sample(first + (t[first] < view.from ? 1 : 0));
    case 'End':
      return sample(indexAt(t, view.to));
    default:
      return null;
  }
}
