// One quantity over time: the trace over its target and tolerance band, what lies outside hatched.
import { bearing, fade, figure, roundStep } from './ink.js';
import { area, line, stroke } from './pen.js';

const DEGREE_STEPS = [2, 5, 10, 15, 30, 45, 90, 180];

export function drawTrace(g, flight, strip, box, lay, from, to, x, ink, hatch) {
  g.textAlign = 'left';
  g.font = ink.font(12, 600);
  g.fillStyle = ink.ink;
  g.fillText(strip.name, lay.left, box.head + 11);
  g.strokeStyle = ink.hairline;
  g.lineWidth = 1;
  line(g, lay.left, Math.round(box.bottom) + 0.5, lay.right, Math.round(box.bottom) + 0.5);
  if (strip.empty) {
    g.font = ink.font(12);
    g.fillStyle = ink.muted;
    g.fillText('Not recorded, nor could it be worked out.', lay.left, box.top + 14);
    return null;
  }
  const scale = scaleOf(strip, box, from, to);
  grid(g, strip, box, lay, scale, ink);
  const keep = thin(flight.t, strip.value, from, to, x);
  g.save();
  g.beginPath();
  g.rect(lay.left, box.top - 1, lay.right - lay.left, box.height + 2);
  g.clip();
  for (const turn of scale.turns) {
    const y = v => scale.y(v - turn * 360);
    band(g, flight, strip, keep, x, y, ink);
    exceedances(g, flight, strip, keep, x, y, ink, hatch);
    trace(g, flight, strip, keep, x, y, ink);
  }
  g.restore();
  return scale;
}

// A heading that winds on for more than a turn and a quarter is shown on one circle, drawn once for every turn.
function scaleOf(strip, box, from, to) {
  let lo = Infinity, hi = -Infinity;
  for (let i = from; i <= to; i++) {
    const v = strip.value[i], low = strip.target[i] - strip.band[i], high = strip.target[i] + strip.band[i];
    if (v < lo) lo = v;
    if (v > hi) hi = v;
    if (low < lo) lo = low;
    if (high > hi) hi = high;
  }
  if (!(hi >= lo)) [lo, hi] = [0, strip.leastSpan];
  const turns = [];
  if (strip.angle && hi - lo > 450) {
    for (let k = Math.floor(lo / 360); k <= Math.floor(hi / 360); k++) turns.push(k);
    [lo, hi] = [0, 360];
  } else {
    const pad = Math.max((strip.leastSpan - (hi - lo)) / 2, (hi - lo) * 0.07);
    [lo, hi] = [lo - pad, hi + pad];
    turns.push(0);
  }
  const y = v => box.bottom - (v - lo) / (hi - lo) * box.height;
  return { lo, hi, turns, y, on: v => y(turns.length > 1 ? ((v % 360) + 360) % 360 : v) };
}

function grid(g, strip, box, lay, scale, ink) {
  const span = scale.hi - scale.lo;
  const steps = strip.angle ? DEGREE_STEPS : strip.steps;
  const step = steps ? steps.find(s => span / s <= 4.6) ?? steps.at(-1) : roundStep(span, 4);
  g.font = ink.font(11);
  g.textAlign = 'right';
  for (let v = Math.ceil(scale.lo / step) * step; v <= scale.hi + 1e-9; v += step) {
    const y = scale.y(v);
    const zero = !strip.angle && Math.abs(v) < 1e-9 && scale.lo < 0;
    g.strokeStyle = zero ? ink.muted : ink.hairline;
    fade(g, zero ? 0.6 : 0.7, () => line(g, lay.left, Math.round(y) + 0.5, lay.right, Math.round(y) + 0.5));
    g.fillStyle = ink.muted;
    if (y > box.top - 2 && y < box.bottom + 4) g.fillText(label(v, strip), lay.left - 6, y + 4);
  }
}

function label(v, strip) {
  return strip.angle ? bearing(v) : figure(v, strip.unit).replace(strip.unit, '').trim();
}

function band(g, flight, strip, keep, x, y, ink) {
  for (const run of pieces(flight, keep, i => Number.isFinite(strip.target[i]))) {
    const points = run.map(i => ({ x: x(flight.t[i]), y: y(strip.target[i]), high: y(strip.target[i] + strip.band[i]), low: y(strip.target[i] - strip.band[i]) }));
    // The target holds until the next segment begins.
    if (run.until) points.push({ ...points.at(-1), x: x(flight.t[run.until]) });
    g.strokeStyle = g.fillStyle = ink.accent;
    g.lineWidth = 1;
    if (points.every(p => Number.isFinite(p.high))) {
      fade(g, 0.11, () => area(g, points, p => p.x, p => p.high, p => p.low));
      for (const side of ['high', 'low']) fade(g, 0.35, () => stroke(g, points, p => p.x, p => p[side]));
    }
    g.setLineDash([5, 3]);
    stroke(g, points, p => p.x, p => p.y);
    g.setLineDash([]);
  }
}

// From where the trace crosses the edge of the band to where it comes back.
function exceedances(g, flight, strip, keep, x, y, ink, hatch) {
  const beyond = i => Math.abs(strip.value[i] - strip.target[i]) - strip.band[i];
  const edge = i => strip.target[i] + Math.sign(strip.value[i] - strip.target[i]) * strip.band[i];
  const crossing = (a, b) => {
    const f = beyond(a) / (beyond(a) - beyond(b));
    const value = y(strip.value[a] + f * (strip.value[b] - strip.value[a]));
    return { x: x(flight.t[a] + f * (flight.t[b] - flight.t[a])), edge: value, value };
  };
  const fill = points => {
    g.fillStyle = ink['not-met'];
    const shape = () => area(g, points, p => p.x, p => p.edge, p => p.value);
    fade(g, 0.14, shape);
    g.fillStyle = hatch;
    shape();
  };
  let points = [], last = -1;
  for (const i of keep) {
    const joined = last >= 0 && !flight.breaks[i] && flight.segment[i] === flight.segment[last];
    if (!joined && points.length) points = (fill(points), []);
    if (strip.outside[i]) {
      if (!points.length && joined && beyond(last) < 0) points.push(crossing(last, i));
      points.push({ x: x(flight.t[i]), edge: y(edge(i)), value: y(strip.value[i]) });
    } else if (points.length) {
      if (beyond(i) < 0) points.push(crossing(last, i));
      points = (fill(points), []);
    }
    last = i;
  }
  if (points.length) fill(points);
}

function trace(g, flight, strip, keep, x, y, ink) {
  g.strokeStyle = ink.ink;
  g.lineWidth = 1.4;
  g.beginPath();
  let pen = false;
  for (const i of keep) {
    const known = !Number.isNaN(strip.value[i]);
    if (!known || flight.breaks[i]) pen = false;
    if (!known) continue;
    if (pen) g.lineTo(x(flight.t[i]), y(strip.value[i])); else g.moveTo(x(flight.t[i]), y(strip.value[i]));
    pen = true;
  }
  g.stroke();
}

// Runs of one segment each, with the sample of the next segment that each lasts until.
function pieces(flight, keep, wanted) {
  const runs = [];
  let run = null, last = -1;
  for (const i of keep) {
    const changed = last >= 0 && flight.segment[i] !== flight.segment[last];
    if (run && changed && !flight.breaks[i]) run.until = i;
    if (!wanted(i) || changed || flight.breaks[i]) run = null;
    if (wanted(i)) {
      if (!run) runs.push(run = []);
      run.push(i);
    }
    last = i;
  }
  return runs;
}

// First, lowest, highest and last sample of every pixel column: no peak is lost, and 20,000 samples cost as little as 2,000.
function thin(t, value, from, to, x) {
  if (to - from < 3000) return Array.from({ length: Math.max(0, to - from + 1) }, (_, k) => from + k);
  const keep = [];
  for (let i = from; i <= to;) {
    const column = Math.floor(x(t[i]));
    let lo = i, hi = i, last = i;
    for (let j = i; j <= to && Math.floor(x(t[j])) === column; j++) {
      if (!(value[j] >= value[lo])) lo = j;
      if (!(value[j] <= value[hi])) hi = j;
      last = j;
    }
    let before = -1;
    for (const k of lo < hi ? [i, lo, hi, last] : [i, hi, lo, last]) if (k > before) keep.push(before = k);
    i = last + 1;
  }
  return keep;
}
