// Plan view: the flown path over the nominal one, true north up, the same scale both ways.
import { clearCanvas, clock, fade } from './ink.js';
import { indexAt, valueAt } from './columns.js';
import { haloed, letterTag } from './pen.js';
import { compass, dart, legend, scaleBar, tip } from './plan-marks.js';

const COMB_PX = 5;

/** Fits the drill (or what of the flight is in view, where that is more) into the canvas. */
export function layPlan(flight, width, height, drill, view) {
  const from = indexAt(flight.t, Math.min(drill.from, view.from)), to = indexAt(flight.t, Math.max(drill.to, view.to));
  let [w, e, s, n] = [Infinity, -Infinity, Infinity, -Infinity];
  const take = (x, y) => {
    if (!Number.isFinite(x) || !Number.isFinite(y)) return;
    w = Math.min(w, x); e = Math.max(e, x); s = Math.min(s, y); n = Math.max(n, y);
  };
  for (let i = from; i <= to; i++) take(flight.east[i], flight.north[i]);
  flight.nominalEast.forEach((x, i) => take(x, flight.nominalNorth[i]));
  const pad = 26, head = 20, foot = 22;
  const scale = Math.min((width - 2 * pad) / Math.max(e - w, 100), (height - 2 * pad - head - foot) / Math.max(n - s, 100));
  const cx = (e + w) / 2, cy = (n + s) / 2, middle = (height + head - foot) / 2;
  return { width, height, scale, from, to, x: v => width / 2 + (v - cx) * scale, y: v => middle - (v - cy) * scale };
}

export function drawPlan(canvas, flight, drill, lay, ink, selected) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const x = i => lay.x(flight.east[i]), y = i => lay.y(flight.north[i]);
  nominal(g, flight, lay, ink);
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  fade(g, 0.55, () => path(g, flight, lay.from, lay.to, x, y));
  outside(g, flight, lay, ink, x, y);
  for (const s of drill.segments) flown(g, flight, s, selected, ink, x, y);
  marks(g, flight, drill.segments, selected, ink, x, y);
  for (const f of drill.findings) if (f.letter) finding(g, flight, f, ink, x, y);
  compass(g, lay, ink, drill.wind);
  scaleBar(g, lay, ink);
  legend(g, flight, lay, ink, drill.wind);
}

function nominal(g, flight, lay, ink) {
  g.strokeStyle = ink.accent;
  g.lineWidth = 5;
  g.beginPath();
  flight.nominalEast.forEach((e, i) => {
    const px = lay.x(e), py = lay.y(flight.nominalNorth[i]);
    if (i === 0) g.moveTo(px, py); else g.lineTo(px, py);
  });
  fade(g, 0.17, () => g.stroke());
  g.lineWidth = 1;
  g.setLineDash([5, 3]);
  fade(g, 0.8, () => g.stroke());
  g.setLineDash([]);
}

// Where altitude, heading or airspeed was outside its band: a soft wide stroke with a comb across it, told apart in grey too.
// Rates flicker too much for that.
function outside(g, flight, lay, ink, x, y) {
  g.strokeStyle = ink['not-met'];
  g.lineCap = 'butt';
  let start = -1;
  for (let i = lay.from; i <= lay.to + 1; i++) {
    const out = i <= lay.to && flight.strips.some(s => s.held && s.outside[i]);
    if (out && start < 0) start = i;
    if (out || start < 0) continue;
    const end = Math.min(i, lay.to);
    g.lineWidth = 9;
    fade(g, 0.14, () => path(g, flight, start, end, x, y));
    g.lineWidth = 1;
    fade(g, 0.75, () => comb(g, flight, start, end, x, y));
    start = -1;
  }
}

function comb(g, flight, from, to, x, y) {
  g.beginPath();
  let gone = COMB_PX;
  for (let i = from + 1; i <= to; i++) {
    const dx = x(i) - x(i - 1), dy = y(i) - y(i - 1), step = Math.hypot(dx, dy);
    gone += step;
    if (gone < COMB_PX || step === 0 || flight.breaks[i]) continue;
    gone = 0;
    const [u, v] = [dx / step * 5, dy / step * 5];
    g.moveTo(x(i) + v, y(i) - u);
    g.lineTo(x(i) - v, y(i) + u);
  }
  g.stroke();
}

function flown(g, flight, segment, selected, ink, x, y) {
  const chosen = segment.index === selected;
  g.strokeStyle = ink[segment.verdict];
  g.lineWidth = chosen ? 3.6 : segment.verdict === 'not-met' ? 2.4 : 1.7;
  g.setLineDash(segment.verdict === 'close' ? [9, 3] : segment.verdict === 'not-measured' ? [2, 3] : []);
  const draw = () => path(g, flight, indexAt(flight.t, segment.startS), indexAt(flight.t, segment.endS) + 1, x, y);
  fade(g, selected === null || chosen ? 1 : 0.45, draw);
  g.setLineDash([]);
}

function path(g, flight, from, to, x, y) {
  g.beginPath();
  let pen = false;
  for (let i = from; i <= Math.min(to, flight.n - 1); i++) {
    const known = Number.isFinite(flight.east[i]) && Number.isFinite(flight.north[i]);
    if (!known || flight.breaks[i]) pen = false;
    if (!known) continue;
    if (pen) g.lineTo(x(i), y(i)); else g.moveTo(x(i), y(i));
    pen = true;
  }
  g.stroke();
}

// A tick across the path where a segment begins, with its number where there is room; an arrow in its middle.
function marks(g, flight, segments, selected, ink, x, y) {
  const taken = [];
  for (const s of segments) {
    const i = indexAt(flight.t, s.startS), d = direction(flight, i);
    const px = x(i), py = y(i), chosen = s.index === selected;
    g.strokeStyle = ink.ink;
    g.lineWidth = chosen ? 2 : 1;
    g.beginPath();
    g.moveTo(px - d.y * 5, py - d.x * 5);
    g.lineTo(px + d.y * 5, py + d.x * 5);
    g.stroke();
    const middle = indexAt(flight.t, (s.startS + s.endS) / 2);
    tip(g, x(middle), y(middle), direction(flight, middle), ink[s.verdict]);
    const spot = [1, -1].map(side => ({ x: px + side * d.y * 14, y: py + side * d.x * 14 }))
      .find(p => taken.every(q => Math.hypot(p.x - q.x, p.y - q.y) > 17));
    if (!spot) continue;
    taken.push(spot);
    g.textAlign = 'center';
    g.font = ink.font(11, chosen ? 700 : 400);
    haloed(g, ink, String(s.index + 1), spot.x, spot.y + 4, chosen ? ink.ink : ink.muted);
  }
}

// The letter stands beside the place, held to it by a short leader.
function finding(g, flight, f, ink, x, y) {
  const i = indexAt(flight.t, f.atS), d = direction(flight, i);
  if (!Number.isFinite(flight.east[i])) return;
  const px = x(i) - d.y * 19, py = y(i) - d.x * 19;
  g.strokeStyle = ink['not-met'];
  g.lineWidth = 1;
  g.beginPath();
  g.moveTo(x(i), y(i));
  g.lineTo(px, py);
  g.stroke();
  letterTag(g, ink, f.letter, px, py);
}

// Unit vector along the path, metres east and north, so that (y, x) lies across it on the canvas.
function direction(flight, i) {
  const a = Math.max(0, i - 2), b = Math.min(flight.n - 1, i + 2);
  const dx = flight.east[b] - flight.east[a], dy = flight.north[b] - flight.north[a], length = Math.hypot(dx, dy) || 1;
  return { x: dx / length, y: dy / length };
}

/** The aeroplane's place at the cursor, and a ring where the drill would have it at that reading of the clock. */
export function drawPlanCursor(canvas, flight, drill, lay, ink, time, at) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const due = nominalAt(flight, drill.clockAt(time));
  const px = lay.x(valueAt(flight, flight.east, time)), py = lay.y(valueAt(flight, flight.north, time));
  if (due) {
    g.strokeStyle = ink.accent;
    g.lineWidth = 2;
    g.beginPath();
    g.arc(lay.x(due.east), lay.y(due.north), 6, 0, 2 * Math.PI);
    g.stroke();
  }
  if (!Number.isFinite(px) || !Number.isFinite(py)) return;
  dart(g, px, py, direction(flight, at), ink);
  g.font = ink.font(11.5, 600);
  g.textAlign = px > lay.width / 2 ? 'right' : 'left';
  haloed(g, ink, clock(drill.clockAt(time)), px + (px > lay.width / 2 ? -14 : 14), py - 8, ink.ink);
}

function nominalAt(flight, clockS) {
  const { nominalT: t, nominalEast: e, nominalNorth: n } = flight;
  if (t.length < 2 || clockS < t[0] || clockS > t.at(-1)) return null;
  const i = Math.min(indexAt(t, clockS), t.length - 2), part = (clockS - t[i]) / (t[i + 1] - t[i] || 1);
  return { east: e[i] + (e[i + 1] - e[i]) * part, north: n[i] + (n[i + 1] - n[i]) * part };
}

/** Sample nearest to a point of the plan, or −1 when none is within 24 pixels. */
export function sampleNear(flight, lay, px, py, from, to) {
  let best = -1, least = 24 * 24;
  for (let i = from; i <= to; i++) {
    const d = (lay.x(flight.east[i]) - px) ** 2 + (lay.y(flight.north[i]) - py) ** 2;
    if (d < least) [best, least] = [i, d];
  }
  return best;
}
