// @ts-check
// What stands about the plan: north, wind, scale, legend, and the shapes of the aeroplane and of direction.
import { haloed, line, polyline } from './canvas.js';
import { bearing, roundStepBelow } from './format.js';

const METRES_PER_NM = 1852;

/** @typedef {{ east: number, north: number }} Direction */

/**
 * A small arrow head that shows which way the path was flown.
 * @param {PlanScene} scene
 * @param {number} sample
 * @param {Direction} direction
 * @param {string} color
 */
export function drawArrowHead({ ctx, x, y }, sample, direction, color) {
  turned(ctx, x(sample), y(sample), direction, () => {
    polyline(ctx, [
      [6, 0],
      [-4, -4],
      [-2, 0],
      [-4, 4],
    ]);
    ctx.fillStyle = color;
    ctx.fill();
  });
}

/**
 * @param {PlanScene} scene
 * @param {number} px
 * @param {number} py
 * @param {Direction} direction
 */
export function drawAeroplane({ ctx, palette }, px, py, direction) {
  turned(ctx, px, py, direction, () => {
    polyline(ctx, [
      [11, 0],
      [-7, -7],
      [-3, 0],
      [-7, 7],
    ]);
    ctx.closePath();
    ctx.fillStyle = palette.ink;
    ctx.strokeStyle = palette.paper;
    ctx.lineWidth = 2;
    ctx.stroke();
    ctx.fill();
  });
}

/**
 * @param {CanvasRenderingContext2D} ctx
 * @param {number} px
 * @param {number} py
 * @param {Direction} direction
 * @param {() => void} draw as if it pointed right
 */
function turned(ctx, px, py, direction, draw) {
  ctx.save();
  ctx.translate(px, py);
  ctx.rotate(Math.atan2(-direction.north, direction.east));
  draw();
  ctx.restore();
}

/** @param {PlanScene} scene */
export function drawCompass(scene) {
  const { ctx, drill, layout, palette } = scene;
  const [x, y] = [layout.width - 16, 30];
  ctx.strokeStyle = ctx.fillStyle = palette.muted;
  ctx.lineWidth = 1;
  line(ctx, x, y + 12, x, y - 10);
  polyline(ctx, [
    [x - 3.5, y - 4],
    [x, y - 11],
    [x + 3.5, y - 4],
  ]);
  ctx.stroke();
  ctx.font = palette.font(11);
  ctx.textAlign = 'center';
  ctx.fillText('N', x, y - 15);
  ctx.textAlign = 'left';
  const wind = known(drill.wind);
  if (!wind) {
    ctx.fillText('wind not known', 4, 14);
    return;
  }
  ctx.save();
  ctx.translate(18, 20);
  ctx.rotate(((wind.fromDegTrue + 180) * Math.PI) / 180);
  ctx.strokeStyle = palette.ink;
  ctx.lineWidth = 1.5;
  line(ctx, 0, 13, 0, -13);
  polyline(ctx, [
    [-4.5, -6],
    [0, -13],
    [4.5, -6],
  ]);
  ctx.stroke();
  ctx.restore();
  haloed(scene, `wind ${bearing(wind.fromDegTrue)}° true`, 40, 17, palette.ink);
  haloed(scene, `${Math.round(wind.speedKt)} kt`, 40, 31, palette.ink);
}

/**
 * @param {Wind | null} wind
 * @returns {{ fromDegTrue: number, speedKt: number } | null}
 */
function known(wind) {
  const { fromDegTrue, speedKt } = wind ?? {};
  return typeof fromDegTrue === 'number' && typeof speedKt === 'number' ? { fromDegTrue, speedKt } : null;
}

/** @param {PlanScene} scene */
export function drawScaleBar(scene) {
  const { ctx, layout, palette } = scene;
  const nm = roundStepBelow(Math.min(120, layout.width * 0.3) / layout.scale / METRES_PER_NM);
  const length = nm * METRES_PER_NM * layout.scale;
  const [right, y] = [layout.width - 6, layout.height - 8.5];
  ctx.strokeStyle = palette.muted;
  ctx.lineWidth = 1;
  polyline(ctx, [
    [right - length, y - 4],
    [right - length, y],
    [right, y],
    [right, y - 4],
  ]);
  ctx.stroke();
  ctx.font = palette.font(11);
  ctx.textAlign = 'right';
  haloed(scene, `${Number(nm.toPrecision(2))} NM`, right - length - 6, y + 1, palette.muted);
}

/** @param {PlanScene} scene */
export function drawLegend(scene) {
  const { ctx, flight, drill, layout, palette } = scene;
  if (flight.nominalEast.length === 0) return;
  const y = layout.height - 11;
  /**
   * @param {number} x
   * @param {string} color
   * @param {number} width
   * @param {number[]} dash
   */
  const sample = (x, color, width, dash) => {
    ctx.strokeStyle = color;
    ctx.lineWidth = width;
    ctx.setLineDash(dash);
    line(ctx, x, y, x + 20, y);
    ctx.setLineDash([]);
  };
  ctx.font = palette.font(11);
  ctx.textAlign = 'left';
  sample(4, palette.met, 1.7, []);
  haloed(scene, 'flown', 29, y + 4, palette.muted);
  sample(68, palette.accent, 1, [5, 3]);
  const nominal = layout.width < 340 ? 'asked' : known(drill.wind) ? 'asked, in this wind' : 'asked, in still air';
  haloed(scene, nominal, 93, y + 4, palette.muted);
}
