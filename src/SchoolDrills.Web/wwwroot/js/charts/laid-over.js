// @ts-check
// Another attempt at the same drill under the traces: every segment from where it began in this one, and no longer than it lasted.
import { stripsOf } from '../overlay/lines.js';
import { brokenLine } from './canvas.js';
import { valueAt } from './columns.js';
import { jsonOf } from './track-data.js';

/**
 * The other attempt's lines by parameter, on this flight's time axis.
 * @param {string} url
 * @param {Flight} flight
 * @param {Drill} drill
 * @returns {Promise<LaidOver>}
 */
export async function laidOver(url, flight, drill) {
  /** @type {Overlay} */
  const { segments } = await jsonOf(url, 'The other attempt could not be fetched');
  /** @type {LaidOver} */
  const lines = new Map();
  for (const own of drill.segments) {
    const segment = segments.find(s => s.index === own.index);
    if (!segment?.other) continue;
    const strips = stripsOf({ segments: [{ ...segment, startS: own.startS, this: null }] });
    for (const { name, other } of strips) {
      const strip = flight.strips.find(s => s.name === name);
      if (!strip || strip.isEmpty) continue;
      const stroke = onTheSameTurn(other, strip, flight).filter(point => !point || point.s <= own.endS);
      lines.set(strip.parameter, [...(lines.get(strip.parameter) ?? []), ...stroke, null]);
    }
  }
  if (![...lines.values()].some(line => line.some(point => point)))
    throw new Error('Nothing that the other attempt recorded can be laid over.');
  return lines;
}

/**
 * A heading on the turn of the compass that this trace has reached.
 * @param {OverlayLine} line
 * @param {Strip} strip
 * @param {Flight} flight
 * @returns {OverlayLine}
 */
function onTheSameTurn(line, strip, flight) {
  const first = line.find(point => point);
  if (!strip.isAngle || !first) return line;
  const turns = Math.round((valueAt(flight, strip.value, first.s) - first.v) / 360);
  return Number.isFinite(turns) ? line.map(point => point && { s: point.s, v: point.v + 360 * turns }) : line;
}

/**
 * The attempt laid over, dashed under this one's line.
 * @param {StripScene} scene
 * @param {OverlayLine} points
 * @param {(value: number) => number} y
 */
export function drawOther({ ctx, palette, x }, points, y) {
  ctx.strokeStyle = palette.accent;
  ctx.lineWidth = 1.6;
  ctx.setLineDash([7, 4]);
  brokenLine(ctx, points, x, y);
  ctx.setLineDash([]);
}

/**
 * @param {OverlayLine} points
 * @param {View} view
 */
export function within(points, view) {
  return points.flatMap(point => (point && point.s >= view.from && point.s <= view.to ? [point.v] : []));
}
