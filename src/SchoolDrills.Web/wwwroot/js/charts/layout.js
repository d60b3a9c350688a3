// @ts-check
// Where everything on the strips' canvas lies: a rail of segments, a strip for each quantity, a lane of load and events, the clock.

export const RAIL = 34;

const HEAD = 17;
const FOOT = 24;
const GAP = 9;
const EMPTY = 40;
const LOWEST = 34;
const LANE_ROW = 15;

/**
 * @param {Flight} flight
 * @param {number} width
 * @param {number} rows rows that the lane's contents need
 * @param {number} room height that all of it may take, where it is to fit the screen; else Infinity
 * @returns {StripLayout}
 */
export function layStrips(flight, width, rows, room) {
  const isNarrow = width < 560;
  const full = flight.strips.filter(strip => !strip.isEmpty).length;
  const laneHeight = Math.max(1, rows) * LANE_ROW + 4;
  const around = RAIL + GAP + (flight.strips.length - full) * (EMPTY + GAP) + full * (HEAD + GAP) + HEAD + laneHeight + FOOT;
  const fitting = Math.max(LOWEST, Math.floor((room - around) / Math.max(1, full)));
  const each = Math.min(isNarrow ? 74 : 84, fitting);
  let top = RAIL + GAP;
  /** @param {number} height */
  const place = height => {
    const box = { head: top, top: top + HEAD, bottom: top + HEAD + height, height };
    top = box.bottom + GAP;
    return box;
  };
  const boxes = flight.strips.map(strip => place(strip.isEmpty ? EMPTY - HEAD : each));
  const lane = place(laneHeight);
  const axis = top - GAP;
  return { width, height: axis + FOOT, left: 46, right: width - (isNarrow ? 6 : 10), boxes, lane, laneRow: LANE_ROW, axis, isNarrow };
}

/**
 * @param {StripLayout} layout
 * @param {View} view
 * @param {number} time
 */
export function xOf(layout, view, time) {
  return layout.left + ((time - view.from) / (view.to - view.from)) * (layout.right - layout.left);
}

/**
 * @param {StripLayout} layout
 * @param {View} view
 * @param {number} x
 */
export function timeOf(layout, view, x) {
  return view.from + ((x - layout.left) / (layout.right - layout.left)) * (view.to - view.from);
}
