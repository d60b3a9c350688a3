// @ts-check
// Load and events: what was planned when, what was noted on board, and when several quantities ran away together.
import { fade, level, line } from './canvas.js';
import { clock } from './format.js';
import { drawMark, lozenge } from './lane-marks.js';

const TITLE = 'Load and events';

/** What stands beside each row. */
const SIDES = { planned: 'asked', tasks: 'tasks', checks: 'checks', notes: 'noted', together: 'several' };

/**
 * Row in which something noted on board stands.
 * @param {Noted} noted
 */
function rowOf({ mark }) {
  return mark.startsWith('check') ? 'checks' : mark.startsWith('task') || mark.startsWith('answered') ? 'tasks' : 'notes';
}

/**
 * Rows of the lane: what was planned, what was noted, saturation; those with nothing in them are missing.
 * @param {Drill} drill
 */
export function laneRows(drill) {
  /** @type {(keyof typeof SIDES)[]} */
  const rows = [];
  if (drill.planned.length) rows.push('planned');
  for (const row of /** @type {const} */ (['tasks', 'checks', 'notes'])) if (drill.events.some(e => rowOf(e) === row)) rows.push(row);
  if (drill.episodes.length) rows.push('together');
  return rows;
}

/** @param {Drill} drill */
function summary(drill) {
  const rated = drill.ratings.length ? `load rated ${drill.ratings.join(', ')} of 5` : 'load not rated';
  return drill.events.length ? rated : `${rated}; nothing noted on board`;
}

/** @param {StripScene} scene */
export function drawLane(scene) {
  const { ctx, drill, layout, palette } = scene;
  const { lane, laneRow } = layout;
  ctx.textAlign = 'left';
  ctx.font = palette.font(12, 600);
  ctx.fillStyle = palette.ink;
  ctx.fillText(TITLE, layout.left, lane.head + 11);
  const title = ctx.measureText(`${TITLE}  `).width;
  ctx.font = palette.font(11.5);
  ctx.fillStyle = palette.muted;
  const words = summary(drill);
  if (title + ctx.measureText(words).width < layout.right - layout.left) ctx.fillText(words, layout.left + title, lane.head + 11);
  ctx.strokeStyle = palette.hairline;
  ctx.lineWidth = 1;
  level(ctx, lane.bottom, layout.left, layout.right);

  const rows = laneRows(drill).map((row, k) => ({ row, y: lane.top + k * laneRow + laneRow / 2 }));
  ctx.save();
  ctx.beginPath();
  ctx.rect(layout.left, lane.top - 2, layout.right - layout.left, lane.height + 4);
  ctx.clip();
  for (const { row, y } of rows) {
    if (row === 'planned') drill.planned.forEach((planned, i) => drawPlanned(scene, planned, drill.planned[i + 1], y));
    for (const noted of drill.events) if (rowOf(noted) === row) drawNoted(scene, noted, y);
    if (row === 'together') for (const episode of drill.episodes) drawTogether(scene, episode, y);
  }
  ctx.restore();
  if (layout.isNarrow) return;
  for (const { row, y } of rows) {
    ctx.font = palette.font(10);
    ctx.fillStyle = palette.muted;
    ctx.textAlign = 'right';
    ctx.fillText(SIDES[row], layout.left - 4, y + 3.5);
  }
}

/**
 * A check is a window, open at both ends; a load task a lozenge where it is given.
 * @param {StripScene} scene
 * @param {Planned} planned
 * @param {Planned | undefined} next
 * @param {number} y
 */
function drawPlanned({ ctx, palette, x }, planned, next, y) {
  const isCheck = planned.kind === 'check';
  const from = x(planned.fromS);
  const to = x(planned.toS);
  ctx.strokeStyle = ctx.fillStyle = palette.accent;
  ctx.lineWidth = 1.2;
  if (isCheck) {
    fade(ctx, 0.12, () => ctx.fillRect(from, y - 5, Math.max(2, to - from), 10));
    for (const edge of [from, to]) line(ctx, edge, y - 5, edge, y + 5);
  } else {
    lozenge(ctx, from, y);
    ctx.stroke();
  }
  const start = to + (isCheck ? 4 : 8);
  const end = next ? x(next.fromS) - 8 : Infinity;
  ctx.font = palette.font(10.5);
  ctx.fillStyle = palette.muted;
  ctx.textAlign = 'left';
  if (ctx.measureText(planned.name).width <= end - start) ctx.fillText(planned.name, start, y + 3.5);
}

/**
 * Its mark, and a line for as long as it lasted: from a task to its answer, through a pause.
 * @param {StripScene} scene
 * @param {Noted} noted
 * @param {number} y
 */
function drawNoted(scene, noted, y) {
  const { ctx, palette, x } = scene;
  if (noted.toS !== null) {
    ctx.strokeStyle = palette.muted;
    ctx.lineWidth = 2;
    line(ctx, x(noted.atS), y, x(noted.toS), y);
  }

  drawMark(scene, noted, y);
}

/**
 * @param {StripScene} scene
 * @param {Stretch} episode
 * @param {number} y
 */
function drawTogether({ ctx, palette, x }, episode, y) {
  const from = x(episode.startS);
  const to = Math.max(x(episode.endS), from + 3);
  ctx.fillStyle = palette['not-met'];
  fade(ctx, 0.14, () => ctx.fillRect(from, y - 5, to - from, 10));
  ctx.fillStyle = palette.hatch;
  ctx.fillRect(from, y - 5, to - from, 10);
  ctx.strokeStyle = palette['not-met'];
  ctx.lineWidth = 1;
  ctx.strokeRect(from, y - 5, to - from, 10);
}

/**
 * What stands in the lane at a time, in words.
 * @param {Drill} drill
 * @param {number} time
 */
export function laneAt(drill, time) {
  const words = [];
  for (const { kind, name, fromS, toS } of drill.planned) {
    if (kind === 'check' && time >= fromS && time <= toS) words.push(`${name} due by ${clock(drill.clockAt(toS))}`);
    if (kind === 'load-task' && time >= fromS && time < fromS + 10) words.push(`${name} given`);
  }
  for (const { what, outcome, atS } of drill.events) if (time >= atS && time < atS + 5) words.push(outcome ? `${what}, ${outcome}` : what);
  for (const { why, startS, endS } of drill.paused) if (time >= startS && time < endS) words.push(`paused: ${why}`);
  if (drill.stoppedS !== null && time >= drill.stoppedS) words.push('drill stopped');
  for (const { what, startS, endS } of drill.episodes) if (time >= startS && time < endS) words.push(`out together: ${what}`);
  return words;
}
