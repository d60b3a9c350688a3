// @ts-check
// Strips over one time axis on one canvas, drawn once for each view; the cursor has a canvas of its own above them.
import { clearCanvas, fade, letterTag, line, polyline, upright } from './canvas.js';
import { indexAt } from './columns.js';
import { clock } from './format.js';
import { drawLane } from './lane.js';
import { RAIL, xOf } from './layout.js';
import { drawTrace } from './trace.js';

const CLOCK_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];

/**
 * A cleared canvas with all that is drawn on it.
 * @param {HTMLCanvasElement} canvas
 * @param {Omit<StripScene, 'ctx' | 'x'>} parts
 * @returns {StripScene}
 */
export function stripScene(canvas, parts) {
  const { layout, view } = parts;
  const ctx = clearCanvas(canvas, layout.width, layout.height);
  return { ...parts, ctx, x: time => xOf(layout, view, time) };
}

/**
 * @param {StripScene} scene
 * @param {number | null} selected index of the segment chosen
 * @param {boolean} isComparing the engine's boundaries go through all strips
 */
export function drawStrips(scene, selected, isComparing) {
  const { ctx, flight, drill, layout, view, palette } = scene;
  const from = Math.max(0, indexAt(flight.t, view.from) - 1);
  const to = Math.min(flight.count - 1, indexAt(flight.t, view.to) + 2);
  ctx.save();
  ctx.beginPath();
  ctx.rect(layout.left, 0, layout.right - layout.left, layout.axis);
  ctx.clip();
  for (const episode of drill.episodes) wash(scene, palette['not-met'], 0.045, episode);
  for (const stretch of drill.excluded) drawExcluded(scene, stretch);
  for (const pause of drill.paused) drawPaused(scene, pause);
  drawSegmentRules(scene, selected);
  drawGates(scene);
  drawRail(scene, selected);
  drawEngineBoundaries(scene, isComparing);
  ctx.restore();
  const scales = flight.strips.map((strip, k) => drawTrace(scene, strip, layout.boxes[k], from, to));
  drawFindings(scene, scales);
  drawLane(scene);
  drawStopped(scene);
  drawClock(scene);
}

/**
 * @param {StripScene} scene
 * @param {string} color
 * @param {number} alpha
 * @param {Stretch} stretch
 */
function wash({ ctx, layout, x }, color, alpha, { startS, endS }) {
  ctx.fillStyle = color;
  fade(ctx, alpha, () => ctx.fillRect(x(startS), RAIL, x(endS) - x(startS), layout.axis - RAIL));
}

/**
 * @param {StripScene} scene
 * @param {number | null} selected
 */
function drawSegmentRules(scene, selected) {
  const { ctx, drill, layout, palette, x } = scene;
  for (const segment of drill.segments) {
    if (segment.index === selected) wash(scene, palette.accent, 0.06, segment);
    ctx.strokeStyle = palette.hairline;
    ctx.lineWidth = 1;
    for (const edge of [segment.startS, segment.endS]) upright(ctx, x(edge), RAIL, layout.axis);
  }
}

/**
 * Gates by the clock: small marks at the foot of the rail, so that a boundary that drifts from its gate is seen.
 * @param {StripScene} scene
 */
function drawGates({ ctx, drill, palette, x }) {
  ctx.fillStyle = palette.muted;
  for (const gate of drill.timeline?.gates ?? []) {
    const at = x(gate.atS + drill.zeroS);
    polyline(ctx, [
      [at - 3.5, RAIL + 6],
      [at + 3.5, RAIL + 6],
      [at, RAIL],
    ]);
    ctx.fill();
  }
}

/**
 * A stretch that is not judged.
 * @param {StripScene} scene
 * @param {Stretch} stretch
 */
export function drawExcluded(scene, stretch) {
  const { ctx, layout, palette, x } = scene;
  const [from, to] = [x(stretch.startS), x(stretch.endS)];
  wash(scene, palette.muted, 0.16, stretch);
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  ctx.setLineDash([3, 3]);
  for (const edge of [from, to]) upright(ctx, edge, RAIL, layout.axis);
  ctx.setLineDash([]);
  ctx.font = palette.font(10.5);
  ctx.fillStyle = palette.muted;
  ctx.textAlign = 'center';
  if (to - from > 48) ctx.fillText('left out', (from + to) / 2, RAIL + 12);
}

/**
 * A pause noted on board: hatched over all strips, so that it is told from what was left out by hand.
 * @param {StripScene} scene
 * @param {Drill['paused'][number]} pause
 */
function drawPaused(scene, pause) {
  const { ctx, layout, palette, x } = scene;
  const [from, to] = [x(pause.startS), x(pause.endS)];
  wash(scene, palette.muted, 0.1, pause);
  ctx.fillStyle = palette.pause;
  fade(ctx, 0.55, () => ctx.fillRect(from, RAIL, to - from, layout.axis - RAIL));
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  for (const edge of [from, to]) upright(ctx, edge, RAIL, layout.axis);
}

/**
 * Where the instructor stopped the drill: a double line through all strips.
 * @param {StripScene} scene
 */
function drawStopped({ ctx, drill, layout, palette, x }) {
  if (drill.stoppedS === null) return;
  const at = x(drill.stoppedS);
  if (at < layout.left || at > layout.right) return;
  ctx.strokeStyle = palette['not-met'];
  ctx.lineWidth = 1.4;
  for (const side of [-1.5, 1.5]) upright(ctx, at + side, RAIL, layout.axis);
}

/**
 * The ribbon again, to the flown times: number and a line in the verdict's color and stroke; saturation as a bracket below.
 * @param {StripScene} scene
 * @param {number | null} selected
 */
function drawRail({ ctx, drill, layout, palette, x }, selected) {
  for (const segment of drill.segments) {
    const [from, to] = [x(segment.startS), x(segment.endS)];
    ctx.strokeStyle = palette[segment.verdict];
    ctx.lineWidth = segment.verdict === 'not-met' ? 4 : 2.5;
    ctx.setLineDash(segment.verdict === 'close' ? [7, 3] : segment.verdict === 'not-measured' ? [2, 3] : []);
    line(ctx, from + 1.5, 20, to - 1.5, 20);
    ctx.setLineDash([]);
    if (to - from < 13) continue;
    const isChosen = segment.index === selected;
    ctx.font = palette.font(11.5, isChosen ? 700 : 400);
    ctx.fillStyle = isChosen ? palette.ink : palette.muted;
    ctx.textAlign = 'center';
    const [left, right] = [Math.max(from, layout.left), Math.min(to, layout.right)];
    const full = `${segment.index + 1}  ${segment.name}`;
    const fits = ctx.measureText(full).width < right - left - 10;
    ctx.fillText(fits ? full : String(segment.index + 1), (left + right) / 2, 12);
  }
  ctx.strokeStyle = palette['not-met'];
  ctx.lineWidth = 1.2;
  for (const episode of drill.episodes) {
    const from = x(episode.startS);
    const to = Math.max(x(episode.endS), from + 4);
    polyline(ctx, [
      [from, 31],
      [from, 26],
      [to, 26],
      [to, 31],
    ]);
    ctx.stroke();
  }
}

/**
 * The engine's own boundaries beside those set by hand: thin ticks, the whole height while comparing.
 * @param {StripScene} scene
 * @param {boolean} isComparing
 */
function drawEngineBoundaries({ ctx, drill, layout, palette, x }, isComparing) {
  if (drill.engine.length === 0) return;
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  ctx.setLineDash([2, 2]);
  for (const edge of new Set(drill.engine.flatMap(s => [s.startS, s.endS]))) upright(ctx, x(edge), 16, isComparing ? layout.axis : RAIL);
  ctx.setLineDash([]);
}

/**
 * The letters of the findings stand where each was at its worst.
 * @param {StripScene} scene
 * @param {ReturnType<typeof drawTrace>[]} scales
 */
function drawFindings(scene, scales) {
  const { flight, drill, layout, view, x } = scene;
  for (const { letter, parameter, atS } of drill.findings) {
    if (!letter || atS < view.from || atS > view.to) continue;
    const k = flight.strips.findIndex(s => s.parameter === parameter);
    const value = flight.strips[k]?.value[indexAt(flight.t, atS)];
    const box = layout.boxes[k];
    const scale = scales[k];
    const y = scale && Number.isFinite(value) ? Math.min(Math.max(scale.on(value) - 13, box.top + 6), box.bottom - 8) : RAIL + 8;
    letterTag(scene, letter, Math.min(Math.max(x(atS), layout.left + 8), layout.right - 8), y);
  }
}

/** @param {StripScene} scene */
function drawClock({ ctx, drill, layout, view, palette, x }) {
  const room = (layout.right - layout.left) / (layout.isNarrow ? 52 : 68);
  const step = CLOCK_STEPS.find(s => (view.to - view.from) / s <= room) ?? 7200;
  ctx.font = palette.font(11);
  ctx.textAlign = 'center';
  ctx.fillStyle = palette.muted;
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  for (let reading = Math.ceil(drill.clockAt(view.from) / step) * step; reading <= drill.clockAt(view.to); reading += step) {
    const at = Math.round(x(reading + drill.zeroS)) + 0.5;
    line(ctx, at, layout.axis, at, layout.axis + 4);
    if (at > layout.left - 8 && at < layout.right - 12) ctx.fillText(clock(reading), at, layout.axis + 17);
  }
}
