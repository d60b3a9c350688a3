// @ts-check
// Plan view: the flown path over the nominal one, true north up, the same scale both ways.
import { clearCanvas, fade, haloed, letterTag, line, polyline } from './canvas.js';
import { indexAt, valueAt } from './columns.js';
import { clock } from './format.js';
import { drawAeroplane, drawArrowHead, drawCompass, drawLegend, drawScaleBar } from './plan-marks.js';

const COMB_PX = 5;

/** How near a pointer must be to a sample. */
const REACH_PX = 24;

/**
 * Fits the drill (or what of the flight is in view, where that is more) into the canvas.
 * @param {Flight} flight
 * @param {number} width
 * @param {number} height
 * @param {View} drill
 * @param {View} view
 * @returns {PlanLayout}
 */
export function layPlan(flight, width, height, drill, view) {
  const from = indexAt(flight.t, Math.min(drill.from, view.from));
  const to = indexAt(flight.t, Math.max(drill.to, view.to));
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  /**
   * @param {number} x
   * @param {number} y
   */
  const include = (x, y) => {
    if (!Number.isFinite(x) || !Number.isFinite(y)) return;
    [west, east] = [Math.min(west, x), Math.max(east, x)];
    [south, north] = [Math.min(south, y), Math.max(north, y)];
  };
  for (let i = from; i <= to; i++) include(flight.east[i], flight.north[i]);
  flight.nominalEast.forEach((x, i) => include(x, flight.nominalNorth[i]));
  const [pad, head, foot] = [26, 20, 22];
  const scale = Math.min((width - 2 * pad) / Math.max(east - west, 100), (height - 2 * pad - head - foot) / Math.max(north - south, 100));
  const center = { east: (east + west) / 2, north: (north + south) / 2 };
  const middle = (height + head - foot) / 2;
  return { width, height, scale, from, to, x: v => width / 2 + (v - center.east) * scale, y: v => middle - (v - center.north) * scale };
}

/**
 * A cleared canvas with all that is drawn on it.
 * @param {HTMLCanvasElement} canvas
 * @param {Omit<PlanScene, 'ctx' | 'x' | 'y'>} parts
 * @returns {PlanScene}
 */
export function planScene(canvas, parts) {
  const { flight, layout } = parts;
  const ctx = clearCanvas(canvas, layout.width, layout.height);
  return { ...parts, ctx, x: i => layout.x(flight.east[i]), y: i => layout.y(flight.north[i]) };
}

/**
 * @param {PlanScene} scene
 * @param {number | null} selected index of the segment chosen
 */
export function drawPlan(scene, selected) {
  const { ctx, drill, layout, palette } = scene;
  drawNominal(scene);
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  fade(ctx, 0.55, () => drawPath(scene, layout.from, layout.to));
  drawExceedances(scene);
  for (const segment of drill.segments) drawSegment(scene, segment, selected);
  drawMarks(scene, selected);
  for (const { letter, atS } of drill.findings) if (letter) drawFinding(scene, letter, atS);
  drawCompass(scene);
  drawScaleBar(scene);
  drawLegend(scene);
}

/** @param {PlanScene} scene */
function drawNominal({ ctx, flight, layout, palette }) {
  ctx.strokeStyle = palette.accent;
  ctx.lineWidth = 5;
  polyline(
    ctx,
    Array.from(flight.nominalEast, (east, i) => /** @type {const} */ ([layout.x(east), layout.y(flight.nominalNorth[i])])),
  );
  fade(ctx, 0.17, () => ctx.stroke());
  ctx.lineWidth = 1;
  ctx.setLineDash([5, 3]);
  fade(ctx, 0.8, () => ctx.stroke());
  ctx.setLineDash([]);
}

/**
 * Where altitude, heading or airspeed was outside its band: a soft wide stroke with a comb across it, told apart in grey too. Rates
 * flicker too much for that.
 * @param {PlanScene} scene
 */
function drawExceedances(scene) {
  const { ctx, flight, layout, palette } = scene;
  ctx.strokeStyle = palette['not-met'];
  ctx.lineCap = 'butt';
  let start = -1;
  for (let i = layout.from; i <= layout.to + 1; i++) {
    const isOut = i <= layout.to && flight.strips.some(s => s.isHeld && s.outside[i]);
    if (isOut && start < 0) start = i;
    if (isOut || start < 0) continue;
    const [from, to] = [start, Math.min(i, layout.to)];
    ctx.lineWidth = 9;
    fade(ctx, 0.14, () => drawPath(scene, from, to));
    ctx.lineWidth = 1;
    fade(ctx, 0.75, () => drawComb(scene, from, to));
    start = -1;
  }
}

/**
 * @param {PlanScene} scene
 * @param {number} from
 * @param {number} to
 */
function drawComb({ ctx, flight, x, y }, from, to) {
  ctx.beginPath();
  let gone = COMB_PX;
  for (let i = from + 1; i <= to; i++) {
    const dx = x(i) - x(i - 1);
    const dy = y(i) - y(i - 1);
    const step = Math.hypot(dx, dy);
    gone += step;
    if (gone < COMB_PX || step === 0 || flight.breaks[i]) continue;
    gone = 0;
    const [u, v] = [(dx / step) * 5, (dy / step) * 5];
    ctx.moveTo(x(i) + v, y(i) - u);
    ctx.lineTo(x(i) - v, y(i) + u);
  }
  ctx.stroke();
}

/**
 * @param {PlanScene} scene
 * @param {Segment} segment
 * @param {number | null} selected
 */
function drawSegment(scene, segment, selected) {
  const { ctx, flight, palette } = scene;
  const isChosen = segment.index === selected;
  ctx.strokeStyle = palette[segment.verdict];
  ctx.lineWidth = isChosen ? 3.6 : segment.verdict === 'not-met' ? 2.4 : 1.7;
  ctx.setLineDash(segment.verdict === 'close' ? [9, 3] : segment.verdict === 'not-measured' ? [2, 3] : []);
  const draw = () => drawPath(scene, indexAt(flight.t, segment.startS), indexAt(flight.t, segment.endS) + 1);
  fade(ctx, selected === null || isChosen ? 1 : 0.45, draw);
  ctx.setLineDash([]);
}

/**
 * @param {PlanScene} scene
 * @param {number} from
 * @param {number} to
 */
function drawPath({ ctx, flight, x, y }, from, to) {
  ctx.beginPath();
  let isDown = false;
  for (let i = from; i <= Math.min(to, flight.count - 1); i++) {
    const isKnown = Number.isFinite(flight.east[i]) && Number.isFinite(flight.north[i]);
    if (!isKnown || flight.breaks[i]) isDown = false;
    if (!isKnown) continue;
    if (isDown) ctx.lineTo(x(i), y(i));
    else ctx.moveTo(x(i), y(i));
    isDown = true;
  }
  ctx.stroke();
}

/**
 * A tick across the path where a segment begins, with its number where there is room; an arrow in its middle.
 * @param {PlanScene} scene
 * @param {number | null} selected
 */
function drawMarks(scene, selected) {
  const { ctx, flight, drill, palette, x, y } = scene;
  /** @type {{ x: number, y: number }[]} */
  const taken = [];
  for (const segment of drill.segments) {
    const i = indexAt(flight.t, segment.startS);
    const isChosen = segment.index === selected;
    const across = acrossPath(flight, i);
    ctx.strokeStyle = palette.ink;
    ctx.lineWidth = isChosen ? 2 : 1;
    line(ctx, x(i) - across.x * 5, y(i) - across.y * 5, x(i) + across.x * 5, y(i) + across.y * 5);
    const middle = indexAt(flight.t, (segment.startS + segment.endS) / 2);
    drawArrowHead(scene, middle, direction(flight, middle), palette[segment.verdict]);
    const spot = [14, -14]
      .map(px => ({ x: x(i) + px * across.x, y: y(i) + px * across.y }))
      .find(p => taken.every(q => Math.hypot(p.x - q.x, p.y - q.y) > 17));
    if (!spot) continue;
    taken.push(spot);
    ctx.textAlign = 'center';
    ctx.font = palette.font(11, isChosen ? 700 : 400);
    haloed(scene, String(segment.index + 1), spot.x, spot.y + 4, isChosen ? palette.ink : palette.muted);
  }
}

/**
 * The letter stands beside the place, held to it by a short leader.
 * @param {PlanScene} scene
 * @param {string} letter
 * @param {number} atS
 */
function drawFinding(scene, letter, atS) {
  const { ctx, flight, palette, x, y } = scene;
  const i = indexAt(flight.t, atS);
  if (!Number.isFinite(flight.east[i])) return;
  const across = acrossPath(flight, i);
  const spot = { x: x(i) - across.x * 19, y: y(i) - across.y * 19 };
  ctx.strokeStyle = palette['not-met'];
  ctx.lineWidth = 1;
  line(ctx, x(i), y(i), spot.x, spot.y);
  letterTag(scene, letter, spot.x, spot.y);
}

/**
 * Unit vector along the path, metres east and north.
 * @param {Flight} flight
 * @param {number} i
 */
function direction(flight, i) {
  const a = Math.max(0, i - 2);
  const b = Math.min(flight.count - 1, i + 2);
  const east = flight.east[b] - flight.east[a];
  const north = flight.north[b] - flight.north[a];
  const length = Math.hypot(east, north) || 1;
  return { east: east / length, north: north / length };
}

/**
 * Unit vector across the path on the canvas, where y points down.
 * @param {Flight} flight
 * @param {number} i
 */
function acrossPath(flight, i) {
  const along = direction(flight, i);
  return { x: along.north, y: along.east };
}

/**
 * The aeroplane's place at the cursor, and a ring where the drill would have it at that reading of the clock.
 * @param {PlanScene} scene
 * @param {number} time
 * @param {number} sample
 */
export function drawPlanCursor(scene, time, sample) {
  const { ctx, flight, drill, layout, palette } = scene;
  const due = nominalAt(flight, drill.clockAt(time));
  if (due) {
    ctx.strokeStyle = palette.accent;
    ctx.lineWidth = 2;
    ctx.beginPath();
    ctx.arc(layout.x(due.east), layout.y(due.north), 6, 0, 2 * Math.PI);
    ctx.stroke();
  }
  const px = layout.x(valueAt(flight, flight.east, time));
  const py = layout.y(valueAt(flight, flight.north, time));
  if (!Number.isFinite(px) || !Number.isFinite(py)) return;
  drawAeroplane(scene, px, py, direction(flight, sample));
  const isRight = px > layout.width / 2;
  ctx.font = palette.font(11.5, 600);
  ctx.textAlign = isRight ? 'right' : 'left';
  haloed(scene, clock(drill.clockAt(time)), px + (isRight ? -14 : 14), py - 8, palette.ink);
}

/**
 * @param {Flight} flight
 * @param {number} clockS
 */
function nominalAt({ nominalT: t, nominalEast: east, nominalNorth: north }, clockS) {
  if (t.length < 2 || clockS < t[0] || clockS > t[t.length - 1]) return null;
  const i = Math.min(indexAt(t, clockS), t.length - 2);
  const part = (clockS - t[i]) / (t[i + 1] - t[i] || 1);
  return { east: east[i] + (east[i + 1] - east[i]) * part, north: north[i] + (north[i + 1] - north[i]) * part };
}

/**
 * Sample nearest to a point of the plan, or −1 when none is near.
 * @param {Flight} flight
 * @param {PlanLayout} layout
 * @param {number} px
 * @param {number} py
 */
export function sampleNear(flight, layout, px, py) {
  let best = -1;
  let least = REACH_PX ** 2;
  for (let i = layout.from; i <= layout.to; i++) {
    const distance = (layout.x(flight.east[i]) - px) ** 2 + (layout.y(flight.north[i]) - py) ** 2;
    if (distance < least) [best, least] = [i, distance];
  }
  return best;
}
