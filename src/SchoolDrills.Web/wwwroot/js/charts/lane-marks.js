// @ts-check
// Marks of what was noted on board: each is told by its shape alone, as EventMark.razor draws it in the list.
import { line, polyline } from './canvas.js';

/** @typedef {CanvasRenderingContext2D} Context */

/** What went wrong is drawn in the color of what is not met as well. */
const TROUBLE = ['task-missed', 'answered-late', 'answered-wrong', 'check-late', 'check-missed', 'stopped'];

/**
 * @param {Pick<StripScene, 'ctx' | 'palette' | 'x'>} scene
 * @param {Noted} noted
 * @param {number} y
 */
export function drawMark({ ctx, palette, x }, noted, y) {
  const at = x(noted.atS);
  ctx.strokeStyle = ctx.fillStyle = TROUBLE.includes(noted.mark) ? palette['not-met'] : palette.ink;
  ctx.lineWidth = 1.6;
  if (noted.mark === 'rating') {
    ctx.font = palette.font(11.5, 700);
    ctx.textAlign = 'center';
    ctx.fillText(noted.outcome.charAt(0) || '?', at, y + 4);
    return;
  }
  MARKS[noted.mark](ctx, at, y);
}

/** @type {Record<Exclude<Mark, 'rating'>, (ctx: Context, x: number, y: number) => void>} */
const MARKS = {
  // A flag.
  clock(ctx, x, y) {
    line(ctx, x, y - 6, x, y + 6);
    path(ctx, [
      [x, y - 6],
      [x + 7, y - 3],
      [x, y],
    ]);
    ctx.fill();
  },
  task(ctx, x, y) {
    lozenge(ctx, x, y);
    ctx.fill();
  },
  'task-missed'(ctx, x, y) {
    lozenge(ctx, x, y);
    ctx.stroke();
    line(ctx, x - 5, y + 5, x + 5, y - 5);
  },
  answered(ctx, x, y) {
    disc(ctx, x, y);
    ctx.fill();
  },
  'answered-late'(ctx, x, y) {
    disc(ctx, x, y);
    ctx.stroke();
  },
  'answered-wrong': cross,
  check: tick,
  // A tick in a frame that is open on the right: after its window.
  'check-late'(ctx, x, y) {
    tick(ctx, x, y);
    polyline(ctx, [
      [x + 2, y - 6],
      [x - 7, y - 6],
      [x - 7, y + 6],
      [x + 2, y + 6],
    ]);
    ctx.stroke();
  },
  'check-missed'(ctx, x, y) {
    ctx.strokeRect(x - 6, y - 6, 12, 12);
    ctx.lineWidth = 1.3;
    line(ctx, x - 3, y - 3, x + 3, y + 3);
    line(ctx, x - 3, y + 3, x + 3, y - 3);
  },
  relief(ctx, x, y) {
    path(ctx, [
      [x - 5, y - 4],
      [x + 5, y - 4],
      [x, y + 5],
    ]);
    ctx.fill();
  },
  // Two bars: paused.
  traffic(ctx, x, y) {
    ctx.lineWidth = 2.2;
    line(ctx, x - 2.5, y - 5, x - 2.5, y + 5);
    line(ctx, x + 2.5, y - 5, x + 2.5, y + 5);
  },
  // A ring about a point: other hands.
  control(ctx, x, y) {
    disc(ctx, x, y, 5.5);
    ctx.stroke();
    disc(ctx, x, y, 1.8);
    ctx.fill();
  },
  stopped(ctx, x, y) {
    ctx.fillRect(x - 5, y - 5, 10, 10);
  },
  note(ctx, x, y) {
    line(ctx, x, y - 5, x, y + 5);
  },
};

/**
 * @param {Context} ctx
 * @param {number} x
 * @param {number} y
 */
export function lozenge(ctx, x, y) {
  path(ctx, [
    [x, y - 4.5],
    [x + 4.5, y],
    [x, y + 4.5],
    [x - 4.5, y],
  ]);
}

/**
 * @param {Context} ctx
 * @param {number} x
 * @param {number} y
 */
function tick(ctx, x, y) {
  polyline(ctx, [
    [x - 4, y],
    [x - 1, y + 4],
    [x + 5, y - 5],
  ]);
  ctx.stroke();
}

/**
 * @param {Context} ctx
 * @param {number} x
 * @param {number} y
 */
function cross(ctx, x, y) {
  line(ctx, x - 4.5, y - 4.5, x + 4.5, y + 4.5);
  line(ctx, x - 4.5, y + 4.5, x + 4.5, y - 4.5);
}

/**
 * @param {Context} ctx
 * @param {number} x
 * @param {number} y
 * @param {number} r
 */
function disc(ctx, x, y, r = 4) {
  ctx.beginPath();
  ctx.arc(x, y, r, 0, 2 * Math.PI);
}

/**
 * @param {Context} ctx
 * @param {(readonly [number, number])[]} points
 */
function path(ctx, points) {
  polyline(ctx, points);
  ctx.closePath();
}
