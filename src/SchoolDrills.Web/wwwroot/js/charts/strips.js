// Strips over one time axis on one canvas, drawn once for each view; the cursor has a canvas of its own above them.
import { clearCanvas, clock, fade, hatching } from './ink.js';
import { indexAt } from './columns.js';
import { RAIL, xOf } from './layout.js';
import { drawLane } from './lane.js';
import { letterTag, line, upright } from './pen.js';
import { drawTrace } from './trace.js';

const CLOCK_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];

export function drawStrips(canvas, flight, drill, lay, view, ink, selected, comparing) {
  const g = clearCanvas(canvas, lay.width, lay.height);
  const x = time => xOf(lay, view, time);
  const from = Math.max(0, indexAt(flight.t, view.from) - 1), to = Math.min(flight.n - 1, indexAt(flight.t, view.to) + 2);
  const hatch = hatching(g, ink['not-met']);
  g.save();
  g.beginPath();
  g.rect(lay.left, 0, lay.right - lay.left, lay.axis);
  g.clip();
  for (const e of drill.episodes) wash(g, ink['not-met'], 0.045, x(e.startS), x(e.endS), lay);
  for (const out of drill.leftOut) leftOut(g, out, x, lay, ink);
  segmentRules(g, lay, drill.segments, selected, x, ink);
  gates(g, drill, x, lay, ink);
  rail(g, lay, drill, selected, x, ink);
  engineTicks(g, drill, x, lay, ink, comparing);
  g.restore();
  const scales = flight.strips.map((strip, k) => drawTrace(g, flight, strip, lay.boxes[k], lay, from, to, x, ink, hatch));
  findings(g, flight, drill, lay, scales, view, x, ink);
  drawLane(g, drill, lay, x, ink, hatch);
  clockAxis(g, lay, view, drill, x, ink);
}

function wash(g, colour, alpha, a, b, lay) {
  g.fillStyle = colour;
  fade(g, alpha, () => g.fillRect(a, RAIL, b - a, lay.axis - RAIL));
}

function segmentRules(g, lay, segments, selected, x, ink) {
  for (const s of segments) {
    if (s.index === selected) wash(g, ink.accent, 0.06, x(s.startS), x(s.endS), lay);
    g.strokeStyle = ink.hairline;
    g.lineWidth = 1;
    for (const edge of [s.startS, s.endS]) upright(g, x(edge), RAIL, lay.axis);
  }
}

// Gates by the clock: small marks at the foot of the rail, so that a boundary that drifts from its gate is seen.
function gates(g, drill, x, lay, ink) {
  g.fillStyle = ink.muted;
  for (const gate of drill.timeline?.gates ?? []) {
    const at = x(gate.atS + drill.zeroS);
    g.beginPath();
    g.moveTo(at - 3.5, RAIL + 6);
    g.lineTo(at + 3.5, RAIL + 6);
    g.lineTo(at, RAIL);
    g.fill();
  }
}

export function leftOut(g, { startS, endS }, x, lay, ink) {
  wash(g, ink.muted, 0.16, x(startS), x(endS), lay);
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  g.setLineDash([3, 3]);
  for (const edge of [startS, endS]) upright(g, x(edge), RAIL, lay.axis);
  g.setLineDash([]);
  g.font = ink.font(10.5);
  g.fillStyle = ink.muted;
  g.textAlign = 'center';
  if (x(endS) - x(startS) > 48) g.fillText('left out', (x(startS) + x(endS)) / 2, RAIL + 12);
}

// The ribbon again, to the flown times: number and a line in the verdict's colour and stroke; saturation as a bracket below.
function rail(g, lay, drill, selected, x, ink) {
  for (const s of drill.segments) {
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
  for (const e of drill.episodes) {
    const a = x(e.startS), b = Math.max(x(e.endS), x(e.startS) + 4);
    g.beginPath();
    g.moveTo(a, 31);
    g.lineTo(a, 26);
    g.lineTo(b, 26);
    g.lineTo(b, 31);
    g.stroke();
  }
}

// The engine's own boundaries beside those set by hand: thin ticks, the whole height while comparing.
function engineTicks(g, drill, x, lay, ink, comparing) {
  if (drill.engine.length === 0) return;
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  g.setLineDash([2, 2]);
  for (const edge of new Set(drill.engine.flatMap(s => [s.startS, s.endS]))) upright(g, x(edge), 16, comparing ? lay.axis : RAIL);
  g.setLineDash([]);
}

// The letters of the findings stand where each was at its worst.
function findings(g, flight, drill, lay, scales, view, x, ink) {
  for (const f of drill.findings) {
    if (!f.letter || f.atS < view.from || f.atS > view.to) continue;
    const k = flight.strips.findIndex(s => s.parameter === f.parameter), i = indexAt(flight.t, f.atS);
    const known = k >= 0 && scales[k] && Number.isFinite(flight.strips[k].value[i]);
    const box = known ? lay.boxes[k] : null;
    const y = known ? scales[k].on(flight.strips[k].value[i]) : RAIL + 8;
    letterTag(g, ink, f.letter, Math.min(Math.max(x(f.atS), lay.left + 8), lay.right - 8), box ? Math.min(Math.max(y - 13, box.top + 6), box.bottom - 8) : y);
  }
}

function clockAxis(g, lay, view, drill, x, ink) {
  const room = (lay.right - lay.left) / (lay.narrow ? 52 : 68);
  const step = CLOCK_STEPS.find(s => (view.to - view.from) / s <= room) ?? 7200;
  g.font = ink.font(11);
  g.textAlign = 'center';
  g.fillStyle = ink.muted;
  g.strokeStyle = ink.muted;
  g.lineWidth = 1;
  for (let reading = Math.ceil(drill.clockAt(view.from) / step) * step; reading <= drill.clockAt(view.to); reading += step) {
    const at = Math.round(x(reading + drill.zeroS)) + 0.5;
    line(g, at, lay.axis, at, lay.axis + 4);
    if (at > lay.left - 8 && at < lay.right - 12) g.fillText(clock(reading), at, lay.axis + 17);
  }
}
