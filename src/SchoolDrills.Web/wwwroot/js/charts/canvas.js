// @ts-check
// Canvases, and the strokes that all drawings share.

/** @typedef {CanvasRenderingContext2D} Context */

/**
 * Sizes a canvas for the screen's pixels and clears it; answers its context in CSS pixels.
 * @param {HTMLCanvasElement} canvas
 * @param {number} width
 * @param {number} height
 */
export function clearCanvas(canvas, width, height) {
  const ratio = Math.max(1, window.devicePixelRatio || 1);
  const pixels = { width: Math.round(width * ratio), height: Math.round(height * ratio) };
  if (canvas.width !== pixels.width || canvas.height !== pixels.height) Object.assign(canvas, pixels);
  const ctx = contextOf(canvas);
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.clearRect(0, 0, width, height);
  ctx.lineJoin = 'round';
  return ctx;
}

/** @param {HTMLCanvasElement} canvas */
export function contextOf(canvas) {
  return /** @type {Context} */ (canvas.getContext('2d'));
}

/**
 * Diagonal hatching, so that an exceedance is seen without color as well.
 * @param {string} color
 */
export function hatching(color) {
  const tile = document.createElement('canvas');
  tile.width = tile.height = 6;
  const hatch = contextOf(tile);
  hatch.strokeStyle = color;
  hatch.lineWidth = 1.1;
  hatch.beginPath();
  for (const x of [-6, 0, 6]) {
    hatch.moveTo(x, 6);
    hatch.lineTo(x + 6, 0);
  }
  hatch.stroke();
  return hatch.createPattern(tile, 'repeat') ?? color;
}

/**
 * @param {Context} ctx
 * @param {number} alpha
 * @param {() => void} draw
 */
export function fade(ctx, alpha, draw) {
  const before = ctx.globalAlpha;
  ctx.globalAlpha = before * alpha;
  draw();
  ctx.globalAlpha = before;
}

/**
 * @param {Context} ctx
 * @param {number} x1
 * @param {number} y1
 * @param {number} x2
 * @param {number} y2
 */
export function line(ctx, x1, y1, x2, y2) {
  polyline(ctx, [
    [x1, y1],
    [x2, y2],
  ]);
  ctx.stroke();
}

/**
 * Begins a path along points; closed, stroked or filled by the caller.
 * @param {Context} ctx
 * @param {(readonly [number, number])[]} points
 */
export function polyline(ctx, points) {
  ctx.beginPath();
  points.forEach(([x, y], k) => (k === 0 ? ctx.moveTo(x, y) : ctx.lineTo(x, y)));
}

/**
 * Strokes a line of another attempt, which a null breaks.
 * @param {Context} ctx
 * @param {OverlayLine} points
 * @param {(s: number) => number} x
 * @param {(v: number) => number} y
 */
export function brokenLine(ctx, points, x, y) {
  ctx.beginPath();
  let isDown = false;
  for (const point of points) {
    if (point && isDown) ctx.lineTo(x(point.s), y(point.v));
    else if (point) ctx.moveTo(x(point.s), y(point.v));
    isDown = point !== null;
  }
  ctx.stroke();
}

/**
 * Fills what lies between two lines over the same points.
 * @template T
 * @param {Context} ctx
 * @param {T[]} points
 * @param {(point: T) => number} x
 * @param {(point: T) => number} upper
 * @param {(point: T) => number} lower
 */
export function area(ctx, points, x, upper, lower) {
  polyline(ctx, [
    ...points.map(p => /** @type {[number, number]} */ ([x(p), upper(p)])),
    ...points.toReversed().map(p => /** @type {[number, number]} */ ([x(p), lower(p)])),
  ]);
  ctx.fill();
}

/**
 * A vertical hairline on whole pixels.
 * @param {Context} ctx
 * @param {number} x
 * @param {number} from
 * @param {number} to
 */
export function upright(ctx, x, from, to) {
  line(ctx, Math.round(x) + 0.5, from, Math.round(x) + 0.5, to);
}

/**
 * A horizontal hairline on whole pixels.
 * @param {Context} ctx
 * @param {number} y
 * @param {number} from
 * @param {number} to
 */
export function level(ctx, y, from, to) {
  line(ctx, from, Math.round(y) + 0.5, to, Math.round(y) + 0.5);
}

/**
 * Letter of a finding on paper ground, as it stands in the list of findings.
 * @param {{ ctx: Context, palette: Palette }} scene
 * @param {string} letter
 * @param {number} x
 * @param {number} y
 */
export function letterTag({ ctx, palette }, letter, x, y) {
  ctx.font = palette.font(10.5, 700);
  ctx.textAlign = 'center';
  ctx.fillStyle = palette.paper;
  ctx.strokeStyle = palette['not-met'];
  ctx.lineWidth = 1.2;
  ctx.beginPath();
  ctx.rect(x - 6.5, y - 7, 13, 14);
  ctx.fill();
  ctx.stroke();
  ctx.fillStyle = palette['not-met'];
  ctx.fillText(letter, x, y + 4);
}

/**
 * Text with a border of paper, to be read over lines.
 * @param {{ ctx: Context, palette: Palette }} scene
 * @param {string} text
 * @param {number} x
 * @param {number} y
 * @param {string} color
 */
export function haloed({ ctx, palette }, text, x, y, color) {
  ctx.strokeStyle = palette.paper;
  ctx.lineWidth = 3.5;
  ctx.strokeText(text, x, y);
  ctx.fillStyle = color;
  ctx.fillText(text, x, y);
}
