// Five strips over one time axis on one canvas: the trace over its target and tolerance band, what lies outside hatched.
import { bearing, clearCanvas, clock, fade, figure, hatching, roundStep } from './ink.js';
import { indexAt } from './columns.js';

const RAIL = 30, HEAD = 17, FOOT = 24, GAP = 10, EMPTY = 40;
const CLOCK_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];
const DEGREE_STEPS = [2, 5, 10, 15, 30, 45, 90, 180];

export function layStrips(flight, width) {
  const narrow = width < 560;
  const left = 46, right = narrow ? 6 : 10, each = narrow ? 78 : 96;
  let top = RAIL + GAP;
  const boxes = flight.strips.map(strip => {
    const box = { head: top, top: top + HEAD, height: strip.empty ? EMPTY - HEAD : each };
    box.bottom = box.top + box.height;
    top = box.bottom + GAP;
    return box;
  });
  return { width, left, right: width - right, boxes, axis: top - GAP, height: top - GAP + FOOT, narrow };
}

export function xOf(lay, view, time) {
  return lay.left + (time - view.from) / (view.to - view.from) * (lay.right - lay.left);
}

export function timeOf(lay, view, x) {
  return view.from + (x - lay.left) / (lay.right - lay.left) * (view.to - view.from);
}

export function drawStrips(canvas, flight, lay, view, ink, segments, selected, episodes) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const x = time => xOf(lay, view, time);
  const from = Math.max(0, indexAt(flight.t, view.from) - 1), to = Math.min(flight.n - 1, indexAt(flight.t, view.to) + 2);
  g.save();
  g.beginPath();
  g.rect(lay.left, 0, lay.right - lay.left, lay.axis);
  g.clip();
  segmentRules(g, lay, segments, selected, x, ink);
  rail(g, lay, segments, selected, episodes, x, ink);
  g.restore();
  const hatch = hatching(g, ink['not-met']);
  flight.strips.forEach((strip, k) => drawStrip(g, flight, strip, lay.boxes[k], lay, from, to, x, ink, hatch));
  clockAxis(g, lay, view, x, ink);
}

function segmentRules(g, lay, segments, selected, x, ink) {
  for (const s of segments) {
    if (s.index === selected) {
      g.fillStyle = ink.accent;
      fade(g, 0.06, () => g.fillRect(x(s.startS), RAIL, x(s.endS) - x(s.startS), lay.axis - RAIL));
    }
    g.strokeStyle = ink.hairline;
    g.lineWidth = 1;
    g.beginPath();
    for (const edge of [s.startS, s.endS]) {
      g.moveTo(Math.round(x(edge)) + 0.5, RAIL);
      g.lineTo(Math.round(x(edge)) + 0.5, lay.axis);
    }
    g.stroke();
  }
}

// The ribbon again, to the flown times: number and a line in the verdict's colour and stroke; saturation as a bracket below.
function rail(g, lay, segments, selected, episodes, x, ink) {
  for (const s of segments) {
    const a = x(s.startS), b = x(s.endS);
    g.strokeStyle = ink[s.verdict];
    g.lineWidth = s.verdict === 'not-met' ? 4 : 2.5;
    g.setLineDash(s.verdict === 'close' ? [7, 3] : s.verdict === 'not-measured' ? [2, 3] : []);
    line(g, a + 1.5, 20, b - 1.5, 20);
    g.setLineDash([]);
    if (b - a < 13) continue;
    const chosen = s.index === selected;
    g.font = ink.font(11.5, chosen ? 700 : 400);
    g.fillStyle = chosen ? ink.ink : ink.muted;
    g.textAlign = 'center';
    const full = `${s.index + 1}  ${s.name}`;
    const middle = (Math.max(a, lay.left) + Math.min(b, lay.right)) / 2;
    g.fillText(g.measureText(full).width < Math.min(b, lay.right) - Math.max(a, lay.left) - 10 ? full : String(s.index + 1), middle, 12);
  }
  g.strokeStyle = ink['not-met'];
  g.lineWidth = 1.2;
  for (const e of episodes) {
    const a = x(e.startS), b = Math.max(x(e.endS), x(e.startS) + 4);
    g.beginPath();
    g.moveTo(a, 30);
    g.lineTo(a, 26);
    g.lineTo(b, 26);
    g.lineTo(b, 30);
    g.stroke();
  }
}

function drawStrip(g, flight, strip, box, lay, from, to, x, ink, hatch) {
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
    return;
  }
  const scale = scaleOf(strip, box, from, to);
  grid(g, strip, box, lay, scale, ink);
  const keep = thin(flight.t, strip.value, from, to, x);
  const runs = split(flight, strip, keep);
  g.save();
  g.beginPath();
  g.rect(lay.left, box.top - 1, lay.right - lay.left, box.height + 2);
  g.clip();
  for (const turn of scale.turns) {
    const y = v => scale.y(v - turn * 360);
    band(g, flight, strip, keep, x, y, ink);
    exceedances(g, flight, strip, keep, x, y, ink, hatch);
    g.strokeStyle = ink.ink;
    g.lineWidth = 1.4;
    for (const run of runs) stroke(g, run, i => x(flight.t[i]), i => y(strip.value[i]));
  }
  g.restore();
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
  return { lo, hi, turns, y: v => box.bottom - (v - lo) / (hi - lo) * box.height };
}

function grid(g, strip, box, lay, scale, ink) {
  const span = scale.hi - scale.lo;
  const step = strip.angle ? DEGREE_STEPS.find(s => span / s <= 5.2) ?? 360 : roundStep(span, 4.6);
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
  if (strip.angle) return bearing(v);
  return figure(v, strip.unit).replace(strip.unit, '').trim();
}

function band(g, flight, strip, keep, x, y, ink) {
  const known = i => Number.isFinite(strip.target[i]);
  for (const run of pieces(flight, keep, known)) {
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
  let points = [];
  keep.forEach((i, k) => {
    const last = keep[k - 1];
    const joined = k > 0 && !flight.breaks[i] && flight.segment[i] === flight.segment[last];
    if (!joined && points.length) points = (fill(points), []);
    if (strip.outside[i]) {
      if (!points.length && joined && beyond(last) < 0) points.push(crossing(last, i));
      points.push({ x: x(flight.t[i]), edge: y(edge(i)), value: y(strip.value[i]) });
    } else if (points.length) {
      if (beyond(i) < 0) points.push(crossing(last, i));
      points = (fill(points), []);
    }
  });
  if (points.length) fill(points);
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

function split(flight, strip, keep) {
  const runs = [];
  let run = null;
  for (const i of keep) {
    const known = Number.isFinite(strip.value[i]);
    if (!known || flight.breaks[i]) run = null;
    if (!known) continue;
    if (!run) runs.push(run = []);
    run.push(i);
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
    keep.push(...[...new Set([i, lo, hi, last])].sort((a, b) => a - b));
    i = last + 1;
  }
  return keep;
}

function clockAxis(g, lay, view, x, ink) {
  const room = (lay.right - lay.left) / (lay.narrow ? 52 : 68);
  const step = CLOCK_STEPS.find(s => (view.to - view.from) / s <= room) ?? 7200;
  g.font = ink.font(11);
  g.textAlign = 'center';
  g.fillStyle = ink.muted;
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  for (let time = Math.ceil(view.from / step) * step; time <= view.to; time += step) {
    const at = Math.round(x(time)) + 0.5;
    line(g, at, lay.axis, at, lay.axis + 4);
    if (at > lay.left - 8 && at < lay.right - 12) g.fillText(clock(time), at, lay.axis + 17);
  }
}

/** Cursor over all strips with the values at it beside each title. */
export function drawStripCursor(canvas, flight, lay, view, ink, at) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  if (at < 0) return;
  const px = xOf(lay, view, flight.t[at]);
  if (px >= lay.left - 1 && px <= lay.right + 1) {
    g.strokeStyle = ink.ink;
    g.lineWidth = 1;
    line(g, Math.round(px) + 0.5, RAIL - 6, Math.round(px) + 0.5, lay.axis);
    g.font = ink.font(11.5, 600);
    const text = clock(flight.t[at]), half = g.measureText(text).width / 2 + 5;
    const middle = Math.min(Math.max(px, lay.left + half), lay.right - half);
    g.fillStyle = ink.paper;
    g.fillRect(middle - half - 16, lay.axis + 5, half * 2 + 32, 17);
    g.fillStyle = ink.ink;
    g.fillRect(middle - half, lay.axis + 5, half * 2, 17);
    g.fillStyle = ink.paper;
    g.textAlign = 'center';
    g.fillText(text, middle, lay.axis + 17.5);
  }
  flight.strips.forEach((strip, k) => {
    if (!strip.empty) values(g, strip, lay.boxes[k], lay, ink, at);
  });
}

// Beside the title what there is room for: value, deviation, target, in this order of worth.
function values(g, strip, box, lay, ink, at) {
  const out = strip.outside[at], off = strip.value[at] - strip.target[at];
  const parts = [[figure(strip.value[at], strip.unit), ink.ink, 600]];
  if (Number.isFinite(strip.target[at])) {
    parts.push([`target ${figure(strip.target[at], strip.unit)}`, ink.muted, 400]);
    if (Number.isFinite(off)) parts.push([figure(off, strip.unit, true) + (out ? ' outside' : ''), out ? ink['not-met'] : ink.muted, out ? 600 : 400]);
  }
  g.textAlign = 'right';
  g.font = ink.font(11.5, 600);
  const room = lay.right - lay.left - g.measureText(`${strip.name}  `).width;
  if (parts.length === 3 && parts.reduce((sum, p) => sum + g.measureText(p[0]).width + 12, 0) > room) parts.splice(1, 1);
  let right = lay.right;
  for (const [text, colour, weight] of parts.reverse()) {
    g.font = ink.font(11.5, weight);
    g.fillStyle = colour;
    g.fillText(text, right, box.head + 11);
    right -= g.measureText(text).width + 12;
  }
}

function line(g, x1, y1, x2, y2) {
  g.beginPath();
  g.moveTo(x1, y1);
  g.lineTo(x2, y2);
  g.stroke();
}

function stroke(g, points, x, y) {
  g.beginPath();
  points.forEach((p, k) => k === 0 ? g.moveTo(x(p), y(p)) : g.lineTo(x(p), y(p)));
  g.stroke();
}

function area(g, points, x, upper, lower) {
  g.beginPath();
  points.forEach((p, k) => k === 0 ? g.moveTo(x(p), upper(p)) : g.lineTo(x(p), upper(p)));
  for (let k = points.length - 1; k >= 0; k--) g.lineTo(x(points[k]), lower(points[k]));
  g.fill();
}
