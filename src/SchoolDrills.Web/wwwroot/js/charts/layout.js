// Where everything on the strips' canvas lies: a rail of segments, a strip for each quantity, a lane of load and events, the clock.

export const RAIL = 34;
const HEAD = 17, FOOT = 24, GAP = 9, EMPTY = 40, LANE_ROW = 15;

/** @param rows rows that the lane's contents need */
export function layStrips(flight, width, rows) {
  const narrow = width < 560;
  const left = 46, right = narrow ? 6 : 10, each = narrow ? 74 : 84;
  let top = RAIL + GAP;
  const place = height => {
    const box = { head: top, top: top + HEAD, bottom: top + HEAD + height, height };
    top = box.bottom + GAP;
    return box;
  };
  const boxes = flight.strips.map(strip => place(strip.empty ? EMPTY - HEAD : each));
  const lane = place(Math.max(1, rows) * LANE_ROW + 4);
  return { width, left, right: width - right, boxes, lane, laneRow: LANE_ROW, axis: top - GAP, height: top - GAP + FOOT, narrow };
}

export function xOf(lay, view, time) {
  return lay.left + (time - view.from) / (view.to - view.from) * (lay.right - lay.left);
}

export function timeOf(lay, view, x) {
  return view.from + (x - lay.left) / (lay.right - lay.left) * (view.to - view.from);
}
