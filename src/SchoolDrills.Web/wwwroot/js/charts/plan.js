// Plan view: the flown path over the nominal one, true north up, the same scale both ways.
import { clearCanvas, clock, fade, roundStepBelow } from './ink.js';
import { indexAt } from './columns.js';

const METRES_PER_NM = 1852;

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
  const pad = 30, foot = 22;
  const scale = Math.min((width - 2 * pad) / Math.max(e - w, 100), (height - 2 * pad - foot) / Math.max(n - s, 100));
  const cx = (e + w) / 2, cy = (n + s) / 2;
  return { width, height, scale, from, to, x: v => width / 2 + (v - cx) * scale, y: v => (height - foot) / 2 - (v - cy) * scale };
}

export function drawPlan(canvas, flight, lay, ink, segments, selected, wind) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const x = i => lay.x(flight.east[i]), y = i => lay.y(flight.north[i]);
  nominal(g, flight, lay, ink);
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  fade(g, 0.55, () => path(g, flight, lay.from, lay.to, x, y));
  outsideShade(g, flight, lay, ink, x, y);
  for (const s of segments) flown(g, flight, s, selected, ink, x, y);
  marks(g, flight, lay, segments, selected, ink, x, y);
  compass(g, lay, ink, wind);
  scaleBar(g, lay, ink);
  legend(g, flight, lay, ink);
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

// Where altitude, heading or airspeed was outside its band the path runs on a wide soft stroke; rates flicker too much for that.
function outsideShade(g, flight, lay, ink, x, y) {
  g.strokeStyle = ink['not-met'];
  g.lineWidth = 9;
  g.lineCap = 'butt';
  let start = -1;
  for (let i = lay.from; i <= lay.to + 1; i++) {
    const out = i <= lay.to && flight.strips.some(s => s.held && s.outside[i]);
    if (out && start < 0) start = i;
    if (!out && start >= 0) {
      fade(g, 0.16, () => path(g, flight, start, Math.min(i, lay.to), x, y));
      start = -1;
    }
  }
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
function marks(g, flight, lay, segments, selected, ink, x, y) {
  const taken = [];
  g.textAlign = 'center';
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
    arrow(g, x(middle), y(middle), direction(flight, middle), ink[s.verdict]);
    const spot = [1, -1].map(side => ({ x: px + side * d.y * 14, y: py + side * d.x * 14 }))
      .find(p => taken.every(q => Math.hypot(p.x - q.x, p.y - q.y) > 17));
    if (!spot) continue;
    taken.push(spot);
    g.font = ink.font(11, chosen ? 700 : 400);
    g.strokeStyle = ink.paper;
    g.lineWidth = 3;
    g.strokeText(String(s.index + 1), spot.x, spot.y + 4);
    g.fillStyle = chosen ? ink.ink : ink.muted;
    g.fillText(String(s.index + 1), spot.x, spot.y + 4);
  }
}

// Unit vector along the path, metres east and north, so that (y, x) lies across it on the canvas.
function direction(flight, i) {
  const a = Math.max(0, i - 2), b = Math.min(flight.n - 1, i + 2);
  const dx = flight.east[b] - flight.east[a], dy = flight.north[b] - flight.north[a], length = Math.hypot(dx, dy) || 1;
  return { x: dx / length, y: dy / length };
}

function arrow(g, px, py, d, colour) {
  g.save();
  g.translate(px, py);
  g.rotate(Math.atan2(-d.y, d.x));
  g.fillStyle = colour;
  g.beginPath();
  g.moveTo(6, 0);
  g.lineTo(-4, -4);
  g.lineTo(-2, 0);
  g.lineTo(-4, 4);
  g.fill();
  g.restore();
}

function compass(g, lay, ink, wind) {
  const north = { x: lay.width - 16, y: 30 };
  g.strokeStyle = g.fillStyle = ink.muted;
  g.lineWidth = 1;
  g.beginPath();
  g.moveTo(north.x, north.y + 12);
  g.lineTo(north.x, north.y - 10);
  g.moveTo(north.x - 3.5, north.y - 4);
  g.lineTo(north.x, north.y - 11);
  g.lineTo(north.x + 3.5, north.y - 4);
  g.stroke();
  g.font = ink.font(11);
  g.textAlign = 'center';
  g.fillText('N', north.x, north.y - 15);
  g.textAlign = 'left';
  if (!Number.isFinite(wind?.fromDegTrue) || !Number.isFinite(wind?.speedKt)) {
    g.fillText('wind not known', 4, 14);
    return;
  }
  const to = (wind.fromDegTrue + 180) * Math.PI / 180;
  g.save();
  g.translate(18, 20);
  g.rotate(to);
  g.strokeStyle = ink.ink;
  g.lineWidth = 1.5;
  g.beginPath();
  g.moveTo(0, 13);
  g.lineTo(0, -13);
  g.moveTo(-4.5, -6);
  g.lineTo(0, -13);
  g.lineTo(4.5, -6);
  g.stroke();
  g.restore();
  const from = String(Math.round(wind.fromDegTrue) % 360 || 360).padStart(3, '0');
  g.fillStyle = ink.ink;
  g.fillText(`${from}° true`, 40, 17);
  g.fillText(`${Math.round(wind.speedKt)} kt`, 40, 31);
}

function scaleBar(g, lay, ink) {
  const most = Math.min(120, lay.width * 0.3) / lay.scale / METRES_PER_NM;
  const nm = roundStepBelow(most);
  const length = nm * METRES_PER_NM * lay.scale, y = lay.height - 8.5, right = lay.width - 6;
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  g.beginPath();
  g.moveTo(right - length, y - 4);
  g.lineTo(right - length, y);
  g.lineTo(right, y);
  g.lineTo(right, y - 4);
  g.stroke();
  g.font = ink.font(11);
  g.fillStyle = ink.muted;
  g.textAlign = 'right';
  g.fillText(`${Number(nm.toPrecision(2))} NM`, right - length - 6, y + 1);
}

function legend(g, flight, lay, ink) {
  if (flight.nominalEast.length === 0) return;
  const y = lay.height - 11;
  g.lineWidth = 1.7;
  g.strokeStyle = ink.met;
  g.beginPath();
  g.moveTo(4, y);
  g.lineTo(24, y);
  g.stroke();
  g.font = ink.font(11);
  g.fillStyle = ink.muted;
  g.textAlign = 'left';
  g.fillText('flown', 29, y + 4);
  g.strokeStyle = ink.accent;
  g.lineWidth = 1;
  g.setLineDash([5, 3]);
  g.beginPath();
  g.moveTo(68, y);
  g.lineTo(90, y);
  g.stroke();
  g.setLineDash([]);
  g.fillText(lay.width > 340 ? 'drill in this wind' : 'drill', 95, y + 4);
}

/** The aeroplane's place at the cursor. */
export function drawPlanCursor(canvas, flight, lay, ink, at) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  if (at < 0 || !Number.isFinite(flight.east[at])) return;
  const px = lay.x(flight.east[at]), py = lay.y(flight.north[at]), d = direction(flight, at);
  g.save();
  g.translate(px, py);
  g.rotate(Math.atan2(-d.y, d.x));
  g.fillStyle = ink.ink;
  g.strokeStyle = ink.paper;
  g.lineWidth = 2;
  g.beginPath();
  g.moveTo(11, 0);
  g.lineTo(-7, -7);
  g.lineTo(-3, 0);
  g.lineTo(-7, 7);
  g.closePath();
  g.stroke();
  g.fill();
  g.restore();
  g.font = ink.font(11.5, 600);
  g.strokeStyle = ink.paper;
  g.lineWidth = 3;
  g.textAlign = px > lay.width / 2 ? 'right' : 'left';
  const tx = px + (px > lay.width / 2 ? -14 : 14);
  g.strokeText(clock(flight.t[at]), tx, py - 8);
  g.fillStyle = ink.ink;
  g.fillText(clock(flight.t[at]), tx, py - 8);
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
