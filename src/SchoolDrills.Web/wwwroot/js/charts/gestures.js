// Hands on the strips and the plan: pointer, wheel, two fingers and keys, turned into what the plots can do.
import { indexAt, nearestTo } from './columns.js';
import { timeOf } from './layout.js';
import { sampleNear } from './plan.js';

const SWEEP_PX = 6, RAIL_PX = 34;

export function listen(plots, on) {
  const { strips, plan } = plots;
  const fingers = new Map();
  let sweep = null;
  const inside = e => {
    const box = strips.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  };
  const timeAt = e => Math.min(Math.max(timeOf(plots.stripLay, plots.view, inside(e).x), plots.view.from), plots.view.to);
  // A still pointer takes the sample under it; one that leaves out or zooms needs any time.
  const sampleAt = e => plots.flight.t[nearestTo(plots.flight.t, timeAt(e))];

  on(strips, 'pointerdown', e => {
    if (e.pointerType === 'touch') fingers.set(e.pointerId, inside(e).x);
    if (fingers.size === 2) {
      sweep = null;
      plots.pinch = [...fingers.values()].map(x => timeOf(plots.stripLay, plots.view, x));
      return;
    }
    plots.show(sampleAt(e));
    if (e.button !== 0 || (e.pointerType !== 'mouse' && !plots.leaving)) return;
    strips.setPointerCapture(e.pointerId);
    sweep = { x: inside(e).x };
  });
  on(strips, 'pointermove', e => {
    if (fingers.has(e.pointerId)) fingers.set(e.pointerId, inside(e).x);
    if (fingers.size === 2) return pinchTo(plots, [...fingers.values()]);
    if (plots.playback.playing && !sweep && e.pointerType === 'mouse') return;
    plots.show(sampleAt(e));
    if (sweep && Math.abs(inside(e).x - sweep.x) >= SWEEP_PX) plots.drawSweep(sweep.x, inside(e).x);
  });
  on(strips, 'pointerup', e => {
    fingers.delete(e.pointerId);
    const from = sweep?.x, { x, y } = inside(e);
    sweep = null;
    if (from !== undefined && Math.abs(x - from) >= SWEEP_PX) {
      const [a, b] = [from, x].map(v => timeOf(plots.stripLay, plots.view, v)).sort((p, q) => p - q);
      if (plots.leaving) plots.leaveOut(a, b); else plots.zoom({ from: a, to: b });
    } else if (y < RAIL_PX) {
      plots.choose(timeAt(e));
    }
  });
  on(strips, 'pointercancel', e => {
    fingers.delete(e.pointerId);
    sweep = null;
  });
  on(strips, 'dblclick', () => plots.zoom(plots.home));
  on(strips, 'wheel', e => {
    const sideways = Math.abs(e.deltaX) > Math.abs(e.deltaY);
    if (!e.ctrlKey && !e.metaKey && !sideways) return;
    e.preventDefault();
    const span = plots.view.to - plots.view.from;
    if (sideways) plots.zoom({ from: plots.view.from + e.deltaX / 800 * span, to: plots.view.to + e.deltaX / 800 * span });
    else plots.scaleBy(Math.exp(Math.min(Math.max(e.deltaY, -60), 60) / 250), timeAt(e));
  }, { passive: false });
  on(strips, 'keydown', e => key(plots, e));
  on(plots.root, 'keydown', e => {
    if (e.key !== ' ' || e.target.closest('button, input, select, summary, a')) return;
    e.preventDefault();
    plots.playback.toggle();
  });
  const planSample = e => {
    const box = plan.getBoundingClientRect();
    return sampleNear(plots.flight, plots.planLay, e.clientX - box.left, e.clientY - box.top, plots.planLay.from, plots.planLay.to);
  };
  on(plan, 'pointermove', e => {
    const at = plots.playback.playing ? -1 : planSample(e);
    if (at >= 0) plots.show(plots.flight.t[at]);
  });
  on(plan, 'click', e => {
    const at = planSample(e);
    if (at >= 0) plots.choose(plots.flight.t[at]);
  });
}

// Each finger keeps the time that it was put on.
function pinchTo(plots, [x1, x2]) {
  const { left, right } = plots.stripLay, [t1, t2] = plots.pinch;
  if (Math.abs(x2 - x1) < 12 || t1 === t2) return;
  const perPx = Math.abs((t2 - t1) / (x2 - x1));
  const from = (t1 + t2) / 2 - ((x1 + x2) / 2 - left) * perPx;
  plots.zoom({ from, to: from + (right - left) * perPx });
}

function key(plots, e) {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const { t } = plots.flight, { view, time } = plots, step = (view.to - view.from) / (e.shiftKey ? 10 : 100);
  const at = nearestTo(t, time), sample = i => t[Math.min(Math.max(i, 0), t.length - 1)];
  const starts = plots.drill.segments.map(s => s.startS);
  const moves = {
    ArrowRight: () => sample(Math.max(at + 1, nearestTo(t, t[at] + step))),
    ArrowLeft: () => sample(Math.min(at - 1, nearestTo(t, t[at] - step))),
    PageDown: () => starts.find(s => s > time + 0.5) ?? time,
    PageUp: () => starts.findLast(s => s < time - 0.5) ?? time,
    Home: () => sample(indexAt(t, view.from) + (t[indexAt(t, view.from)] < view.from ? 1 : 0)),
    End: () => sample(indexAt(t, view.to)),
  };
  const acts = {
    '+': () => plots.command('in'), '=': () => plots.command('in'), '-': () => plots.command('out'), 0: () => plots.command('drill'),
    Enter: () => plots.choose(time), x: () => plots.markStretch(), X: () => plots.markStretch(),
  };
  if (moves[e.key]) plots.moveTo(moves[e.key]());
  else if (acts[e.key]) acts[e.key]();
  else return;
  e.preventDefault();
}
