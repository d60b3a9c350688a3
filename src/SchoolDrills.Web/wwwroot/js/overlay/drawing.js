// @ts-check
// Plan and strips of two attempts: this one in ink, the other dashed in the accent.
import { brokenLine, clearCanvas, fade, haloed, level, line, polyline, upright } from '../charts/canvas.js';
import { bearing, clock, figure, roundStep, roundStepBelow } from '../charts/format.js';

const METERS_PER_NM = 1852;
const DASHES = [7, 4];

export const LEFT = 46;
const [RAIL, HEAD, EACH, FOOT] = [22, 18, 96, 22];

/** @typedef {{ from: number, to: number }} Span */

/** @param {number} strips */
export function stripsHeight(strips) {
  return RAIL + strips * (HEAD + EACH) + FOOT;
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {number} width
 * @param {{ strips: OverlayStrip[], overlay: Overlay, palette: Palette, view: Span, cursor: number }} scene
 */
export function drawOverlayStrips(canvas, width, { strips, overlay, palette, view, cursor }) {
  const height = stripsHeight(strips.length);
  const ctx = clearCanvas(canvas, width, height);
  const right = width - 8;
  /** @param {number} s */
  const x = s => LEFT + ((s - view.from) / (view.to - view.from)) * (right - LEFT);
  const foot = height - FOOT;
  ctx.font = palette.font(11);
  ctx.lineWidth = 1;
  ctx.textAlign = 'center';
  let labelled = -Infinity;
  for (const segment of overlay.segments) {
    const [start, end] = [x(segment.startS), x(segment.startS + segment.lengthS)];
    if (end < LEFT || start > right) continue;
    ctx.strokeStyle = palette.hairline;
    if (start >= LEFT - 1) upright(ctx, start, 4, foot);
    const middle = (Math.max(start, LEFT) + Math.min(end, right)) / 2;
    ctx.fillStyle = palette.muted;
    if (middle - labelled > 18 && end - start > 6) {
      ctx.fillText(String(segment.index + 1), middle, 15);
      labelled = middle;
    }
  }
  strips.forEach((strip, k) => {
    const top = RAIL + k * (HEAD + EACH) + HEAD;
    drawStrip({ ctx, palette }, strip, { top, bottom: top + EACH, right, view, x });
  });
  drawClock({ ctx, palette }, view, x, foot);
  ctx.strokeStyle = palette.accent;
  upright(ctx, x(cursor), 4, foot);
}

/**
 * @param {{ ctx: CanvasRenderingContext2D, palette: Palette }} on
 * @param {OverlayStrip} strip
 * @param {{ top: number, bottom: number, right: number, view: Span, x: (s: number) => number }} box
 */
function drawStrip({ ctx, palette }, strip, { top, bottom, right, view, x }) {
  ctx.textAlign = 'left';
  ctx.fillStyle = palette.muted;
  ctx.font = palette.font(11.5, 600);
  const values = [...strip.one, ...strip.other, ...strip.target].flatMap(p => (p && p.s >= view.from && p.s <= view.to ? [p.v] : []));
  const isMeasured = [...strip.one, ...strip.other].some(p => p !== null);
  ctx.fillText(`${strip.name}${strip.unit === '°' ? '' : `, ${strip.unit}`}${isMeasured ? '' : ': not measured'}`, LEFT, top - 5);
  ctx.strokeStyle = palette.hairline;
  ctx.lineWidth = 1;
  level(ctx, bottom, LEFT, right);
  if (!isMeasured || values.length === 0) return;
  let [low, high] = [Math.min(...values), Math.max(...values)];
  const pad = Math.max(strip.leastSpan - (high - low), (high - low) * 0.12) / 2;
  [low, high] = [low - pad, high + pad];
  /** @param {number} v */
  const y = v => bottom - ((v - low) / (high - low)) * (bottom - top);
  const step = strip.unit === '°' ? ([10, 30, 45, 90, 180, 360].find(s => (high - low) / s <= 5) ?? 720) : roundStep(high - low, 4);
  ctx.font = palette.font(10.5);
  ctx.textAlign = 'right';
  for (let v = Math.ceil(low / step) * step; v <= high; v += step) {
    level(ctx, y(v), LEFT, right);
    ctx.fillText(strip.unit === '°' ? bearing(v) : figure(v, strip.unit).replace(strip.unit, '').trim(), LEFT - 5, y(v) + 3.5);
  }
  ctx.save();
  ctx.beginPath();
  ctx.rect(LEFT, top - 4, right - LEFT, bottom - top + 8);
  ctx.clip();
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 5;
  fade(ctx, 0.25, () => brokenLine(ctx, strip.target, x, y));
  ctx.strokeStyle = palette.accent;
  ctx.lineWidth = 1.7;
  ctx.setLineDash(DASHES);
  brokenLine(ctx, strip.other, x, y);
  ctx.setLineDash([]);
  ctx.strokeStyle = palette.ink;
  brokenLine(ctx, strip.one, x, y);
  ctx.restore();
}

/**
 * Of the whole drill minutes of flying; of one segment seconds since its start.
 * @param {{ ctx: CanvasRenderingContext2D, palette: Palette }} on
 * @param {Span} view
 * @param {(s: number) => number} x
 * @param {number} foot
 */
function drawClock({ ctx, palette }, view, x, foot) {
  const step = [5, 10, 15, 30, 60, 120, 300, 600].find(s => x(view.from + s) - x(view.from) > 52) ?? 1200;
  ctx.textAlign = 'center';
  ctx.fillStyle = palette.muted;
  ctx.font = palette.font(10.5);
  for (let s = 0; s <= view.to - view.from + 0.01; s += step) {
    ctx.fillText(clock(s), Math.min(x(view.from + s), x(view.to) - 10), foot + 15);
  }
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {{ width: number, height: number }} size
 * @param {{ one: Path[], other: Path[], palette: Palette, at: { one: Place | null, other: Place | null } }} scene
 * @typedef {readonly [number, number]} Place
 * @typedef {Place[]} Path
 */
export function drawOverlayPlan(canvas, { width, height }, { one, other, palette, at }) {
  const ctx = clearCanvas(canvas, width, height);
  const all = [...one, ...other].flat();
  if (all.length === 0) return;
  const [west, east] = [Math.min(...all.map(p => p[0])), Math.max(...all.map(p => p[0]))];
  const [south, north] = [Math.min(...all.map(p => p[1])), Math.max(...all.map(p => p[1]))];
  const [pad, below] = [22, 18];
  const scale = Math.min((width - 2 * pad) / Math.max(east - west, 200), (height - 2 * pad - below) / Math.max(north - south, 200));
  /** @param {Place} place */
  const put = ([e, n]) =>
    /** @type {const} */ ([width / 2 + (e - (west + east) / 2) * scale, (height - below) / 2 - (n - (south + north) / 2) * scale]);
  ctx.lineWidth = 1.8;
  ctx.strokeStyle = palette.accent;
  ctx.setLineDash(DASHES);
  for (const path of other) trace(path);
  ctx.setLineDash([]);
  ctx.strokeStyle = palette.ink;
  for (const path of one) trace(path);
  for (const path of other) dot(path[0], 3.2, palette.paper, palette.accent);
  for (const path of one) dot(path[0], 2.2, palette.ink, palette.ink);
  if (at.other) dot(at.other, 6, palette.paper, palette.accent);
  if (at.one) dot(at.one, 6, palette.ink, palette.paper);
  drawScale();

  /** @param {Path} path */
  function trace(path) {
    polyline(ctx, path.map(put));
    ctx.stroke();
  }

  /**
   * @param {Place} place
   * @param {number} radius
   * @param {string} fill
   * @param {string} edge
   */
  function dot(place, radius, fill, edge) {
    const [x, y] = put(place);
    ctx.beginPath();
    ctx.arc(x, y, radius, 0, 2 * Math.PI);
    ctx.fillStyle = fill;
    ctx.strokeStyle = edge;
    ctx.fill();
    ctx.stroke();
  }

  function drawScale() {
    const nm = roundStepBelow((width * 0.3) / scale / METERS_PER_NM);
    const length = nm * METERS_PER_NM * scale;
    const y = height - 8;
    ctx.strokeStyle = palette.muted;
    ctx.lineWidth = 1;
    line(ctx, 8, y, 8 + length, y);
    for (const x of [8, 8 + length]) line(ctx, x, y - 3, x, y + 3);
    ctx.font = palette.font(11);
    ctx.textAlign = 'left';
    haloed({ ctx, palette }, `${nm} NM`, 14 + length, y + 3, palette.muted);
  }
}
