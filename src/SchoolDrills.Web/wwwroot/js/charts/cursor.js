// @ts-check
// The cursor's layer over the strips: one line through all of them, the values at it beside each title.
import { upright } from './canvas.js';
import { clock, figure } from './format.js';
import { RAIL } from './layout.js';

/**
 * @param {StripScene} scene
 * @param {number} time
 * @param {number} sample
 */
export function drawStripCursor(scene, time, sample) {
  const { ctx, flight, drill, layout, palette } = scene;
  const px = scene.x(time);
  if (px >= layout.left - 1 && px <= layout.right + 1) {
    ctx.strokeStyle = palette.ink;
    ctx.lineWidth = 1;
    upright(ctx, px, RAIL - 8, layout.axis);
    drawReading(scene, px, clock(drill.clockAt(time)));
  }
  flight.strips.forEach((strip, k) => {
    if (!strip.isEmpty) drawValues(scene, strip, layout.boxes[k], sample);
  });
}

/**
 * @param {StripScene} scene
 * @param {number} px
 * @param {string} text
 */
function drawReading({ ctx, layout, palette }, px, text) {
  ctx.font = palette.font(11.5, 600);
  const half = ctx.measureText(text).width / 2 + 5;
  const middle = Math.min(Math.max(px, layout.left + half), layout.right - half);
  ctx.fillStyle = palette.paper;
  ctx.fillRect(middle - half - 16, layout.axis + 5, half * 2 + 32, 17);
  ctx.fillStyle = palette.ink;
  ctx.fillRect(middle - half, layout.axis + 5, half * 2, 17);
  ctx.fillStyle = palette.paper;
  ctx.textAlign = 'center';
  ctx.fillText(text, middle, layout.axis + 17.5);
}

/**
 * Beside the title what there is room for: value, deviation, target, in this order of worth.
 * @param {StripScene} scene
 * @param {Strip} strip
 * @param {Box} box
 * @param {number} sample
 */
function drawValues({ ctx, layout, palette }, strip, box, sample) {
  const value = strip.value[sample];
  const target = strip.target[sample];
  const isOut = strip.outside[sample] === 1;
  const parts = [{ text: figure(value, strip.unit), color: palette.ink, weight: 600 }];
  if (Number.isFinite(target)) {
    parts.push({ text: `target ${figure(target, strip.unit)}`, color: palette.muted, weight: 400 });
    if (Number.isFinite(value))
      parts.push({
        text: figure(value - target, strip.unit, true) + (isOut ? ' outside' : ''),
        color: isOut ? palette['not-met'] : palette.muted,
        weight: isOut ? 600 : 400,
      });
  }
  ctx.textAlign = 'right';
  ctx.font = palette.font(11.5, 600);
  const room = layout.right - layout.left - ctx.measureText(`${strip.name}  `).width;
  if (parts.length === 3 && parts.reduce((sum, p) => sum + ctx.measureText(p.text).width + 12, 0) > room) parts.splice(1, 1);
  let right = layout.right;
  for (const { text, color, weight } of parts.reverse()) {
    ctx.font = palette.font(11.5, weight);
    ctx.fillStyle = color;
    ctx.fillText(text, right, box.head + 11);
    right -= ctx.measureText(text).width + 12;
  }
}
