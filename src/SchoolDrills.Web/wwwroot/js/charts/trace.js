// @ts-check
// One quantity over time: the trace over its target and tolerance band, what lies outside hatched.
import { area, fade, level, polyline } from './canvas.js';
import { bearing, figure, roundStep } from './format.js';
import { drawOther, within } from './laid-over.js';

const DEGREE_STEPS = [2, 5, 10, 15, 30, 45, 90, 180];

/** More samples than this are thinned before they are drawn. */
const MOST_UNTHINNED = 3000;

/**
 * A strip with its samples to draw, and the height of a value.
 * @typedef {{ strip: Strip, samples: number[], y: (value: number) => number }} Line
 */

/**
 * @param {StripScene} scene
 * @param {Strip} strip
 * @param {Box} box
 * @param {number} from first sample
 * @param {number} to last sample
 * @returns {ReturnType<typeof scaleOf> | null} null where there is nothing to draw
 */
export function drawTrace(scene, strip, box, from, to) {
  const { ctx, flight, layout, palette } = scene;
  ctx.textAlign = 'left';
  ctx.font = palette.font(12, 600);
  ctx.fillStyle = palette.ink;
  ctx.fillText(strip.name, layout.left, box.head + 11);
  ctx.strokeStyle = palette.hairline;
  ctx.lineWidth = 1;
  level(ctx, box.bottom, layout.left, layout.right);
  if (strip.isEmpty) {
    ctx.font = palette.font(12);
    ctx.fillStyle = palette.muted;
    ctx.fillText('Not recorded, nor could it be worked out.', layout.left, box.top + 14);
    return null;
  }
  const other = scene.drill.laidOver?.get(strip.parameter) ?? [];
  const scale = scaleOf(strip, box, from, to, within(other, scene.view));
  drawGrid(scene, strip, box, scale);
  const samples = thin(flight.t, strip.value, from, to, scene.x);
  ctx.save();
  ctx.beginPath();
  ctx.rect(layout.left, box.top - 1, layout.right - layout.left, box.height + 2);
  ctx.clip();
  for (const turn of scale.turns) {
    /** @type {Line} */
    const line = { strip, samples, y: value => scale.y(value - turn * 360) };
    drawBand(scene, line);
    drawExceedances(scene, line);
    drawOther(scene, other, line.y);
    drawLine(scene, line);
  }
  ctx.restore();
  return scale;
}

/**
 * A heading that winds on for more than a turn and a quarter is shown on one circle, drawn once for every turn.
 * @param {Strip} strip
 * @param {Box} box
 * @param {number} from
 * @param {number} to
 * @param {number[]} others values of the attempt laid over
 */
function scaleOf({ value, target, band, isAngle, leastSpan }, box, from, to, others) {
  let low = Infinity;
  let high = -Infinity;
  for (let i = from; i <= to; i++) {
    for (const v of [value[i], target[i] - band[i], target[i] + band[i]]) {
      if (v < low) low = v;
      if (v > high) high = v;
    }
  }
  for (const v of others) [low, high] = [Math.min(low, v), Math.max(high, v)];
  if (!(high >= low)) [low, high] = [0, leastSpan];
  /** @type {number[]} */
  const turns = [];
  if (isAngle && high - low > 450) {
    for (let k = Math.floor(low / 360); k <= Math.floor(high / 360); k++) turns.push(k);
    [low, high] = [0, 360];
  } else {
    const pad = Math.max((leastSpan - (high - low)) / 2, (high - low) * 0.07);
    [low, high] = [low - pad, high + pad];
    turns.push(0);
  }
  /** @param {number} v */
  const y = v => box.bottom - ((v - low) / (high - low)) * box.height;
  /** @param {number} v */
  const on = v => y(turns.length > 1 ? ((v % 360) + 360) % 360 : v);
  return { low, high, turns, y, on };
}

/**
 * @param {StripScene} scene
 * @param {Strip} strip
 * @param {Box} box
 * @param {ReturnType<typeof scaleOf>} scale
 */
function drawGrid({ ctx, layout, palette }, strip, box, { low, high, y }) {
  const span = high - low;
  const steps = strip.isAngle ? DEGREE_STEPS : strip.steps;
  const step = steps ? (steps.find(s => span / s <= 4.6) ?? steps[steps.length - 1]) : roundStep(span, 4);
  ctx.font = palette.font(11);
  ctx.textAlign = 'right';
  for (let v = Math.ceil(low / step) * step; v <= high + 1e-9; v += step) {
    const isZero = !strip.isAngle && Math.abs(v) < 1e-9 && low < 0;
    ctx.strokeStyle = isZero ? palette.muted : palette.hairline;
    fade(ctx, isZero ? 0.6 : 0.7, () => level(ctx, y(v), layout.left, layout.right));
    ctx.fillStyle = palette.muted;
    if (y(v) > box.top - 2 && y(v) < box.bottom + 4) ctx.fillText(labelOf(v, strip), layout.left - 6, y(v) + 4);
  }
}

/**
 * @param {number} v
 * @param {Strip} strip
 */
function labelOf(v, strip) {
  return strip.isAngle ? bearing(v) : figure(v, strip.unit).replace(strip.unit, '').trim();
}

/**
 * @param {StripScene} scene
 * @param {Line} line
 */
function drawBand({ ctx, flight, palette, x }, { strip, samples, y }) {
  for (const run of runsOf(flight, samples, i => Number.isFinite(strip.target[i]))) {
    const points = run.samples.map(i => ({
      x: x(flight.t[i]),
      y: y(strip.target[i]),
      high: y(strip.target[i] + strip.band[i]),
      low: y(strip.target[i] - strip.band[i]),
    }));
    // The target holds until the next segment begins.
    if (run.until) points.push({ ...points[points.length - 1], x: x(flight.t[run.until]) });
    /** @param {'y' | 'high' | 'low'} side */
    const stroke = side => {
      polyline(
        ctx,
        points.map(p => [p.x, p[side]]),
      );
      ctx.stroke();
    };
    ctx.strokeStyle = ctx.fillStyle = palette.accent;
    ctx.lineWidth = 1;
    if (points.every(p => Number.isFinite(p.high))) {
      const fill = () =>
        area(
          ctx,
          points,
          p => p.x,
          p => p.high,
          p => p.low,
        );
      fade(ctx, 0.11, fill);
      fade(ctx, 0.35, () => stroke('high'));
      fade(ctx, 0.35, () => stroke('low'));
    }
    ctx.setLineDash([5, 3]);
    stroke('y');
    ctx.setLineDash([]);
  }
}

/**
 * From where the trace crosses the edge of the band to where it comes back.
 * @param {StripScene} scene
 * @param {Line} line
 */
function drawExceedances({ ctx, flight, palette, x }, { strip, samples, y }) {
  const { value, target, band, outside } = strip;
  /** @param {number} i */
  const beyond = i => Math.abs(value[i] - target[i]) - band[i];
  /** @param {number} i */
  const edge = i => target[i] + Math.sign(value[i] - target[i]) * band[i];
  /**
   * @param {number} a
   * @param {number} b
   */
  const crossing = (a, b) => {
    const f = beyond(a) / (beyond(a) - beyond(b));
    const height = y(value[a] + f * (value[b] - value[a]));
    return { x: x(flight.t[a] + f * (flight.t[b] - flight.t[a])), edge: height, value: height };
  };
  /** @type {{ x: number, edge: number, value: number }[]} */
  let points = [];
  const fill = () => {
    const shape = () =>
      area(
        ctx,
        points,
        p => p.x,
        p => p.edge,
        p => p.value,
      );
    if (points.length > 0) {
      ctx.fillStyle = palette['not-met'];
      fade(ctx, 0.14, shape);
      ctx.fillStyle = palette.hatch;
      shape();
    }
    points = [];
  };
  let last = -1;
  for (const i of samples) {
    const isJoined = last >= 0 && !flight.breaks[i] && flight.segment[i] === flight.segment[last];
    if (!isJoined) fill();
    if (outside[i]) {
      if (points.length === 0 && isJoined && beyond(last) < 0) points.push(crossing(last, i));
      points.push({ x: x(flight.t[i]), edge: y(edge(i)), value: y(value[i]) });
    } else if (points.length > 0) {
      if (beyond(i) < 0) points.push(crossing(last, i));
      fill();
    }
    last = i;
  }
  fill();
}

/**
 * @param {StripScene} scene
 * @param {Line} line
 */
function drawLine({ ctx, flight, palette, x }, { strip, samples, y }) {
  ctx.strokeStyle = palette.ink;
  ctx.lineWidth = 1.4;
  ctx.beginPath();
  let isDown = false;
  for (const i of samples) {
    const isKnown = !Number.isNaN(strip.value[i]);
    if (!isKnown || flight.breaks[i]) isDown = false;
    if (!isKnown) continue;
    if (isDown) ctx.lineTo(x(flight.t[i]), y(strip.value[i]));
    else ctx.moveTo(x(flight.t[i]), y(strip.value[i]));
    isDown = true;
  }
  ctx.stroke();
}

/**
 * Runs of one segment each, with the sample of the next segment that each lasts until.
 * @param {Flight} flight
 * @param {number[]} samples
 * @param {(sample: number) => boolean} isWanted
 */
function runsOf(flight, samples, isWanted) {
  /** @type {{ samples: number[], until?: number }[]} */
  const runs = [];
  /** @type {typeof runs[number] | null} */
  let run = null;
  let last = -1;
  for (const i of samples) {
    const isNext = last >= 0 && flight.segment[i] !== flight.segment[last];
    if (run && isNext && !flight.breaks[i]) run.until = i;
    if (!isWanted(i) || isNext || flight.breaks[i]) run = null;
    if (isWanted(i)) {
      if (!run) runs.push((run = { samples: [] }));
      run.samples.push(i);
    }
    last = i;
  }
  return runs;
}

/**
 * First, lowest, highest and last sample of every pixel column: no peak is lost, and 20,000 samples cost as little as 2,000.
 * @param {Float64Array} t
 * @param {Float64Array} value
 * @param {number} from
 * @param {number} to
 * @param {(time: number) => number} x
 */
function thin(t, value, from, to, x) {
  if (to - from < MOST_UNTHINNED) return Array.from({ length: Math.max(0, to - from + 1) }, (_, k) => from + k);
  const kept = [];
  for (let i = from; i <= to; ) {
    const column = Math.floor(x(t[i]));
    let [lowest, highest, last] = [i, i, i];
    for (let j = i; j <= to && Math.floor(x(t[j])) === column; j++) {
      if (!(value[j] >= value[lowest])) lowest = j;
      if (!(value[j] <= value[highest])) highest = j;
      last = j;
    }
    kept.push(...new Set([i, Math.min(lowest, highest), Math.max(lowest, highest), last]));
    i = last + 1;
  }
  return kept;
}
