// Track columns from the API, made ready for drawing: NaN for what is missing, headings unwrapped, metres instead of degrees.

export const QUANTITIES = [
  { name: 'Altitude', parameter: 'altitude', unit: 'ft', value: 'altitudeFt', target: 'altitudeTargetFt', band: 'altitudeBandFt', leastSpan: 300, held: true },
  { name: 'Heading', parameter: 'heading', unit: '°', value: 'headingMagDeg', target: 'headingTargetMagDeg', band: 'headingBandDeg', leastSpan: 30, held: true },
  { name: 'Vertical speed', parameter: 'vertical-speed', unit: 'fpm', value: 'verticalSpeedFpm', target: 'verticalSpeedTargetFpm', band: 'verticalSpeedBandFpm', leastSpan: 800 },
  { name: 'Turn rate', parameter: 'turn-rate', unit: '°/s', value: 'turnRateDegPerS', target: 'turnRateTargetDegPerS', band: 'turnRateBandDegPerS', leastSpan: 3, steps: [0.5, 1.5, 3, 6, 15] },
  { name: 'Airspeed', parameter: 'airspeed', unit: 'kt', value: 'airspeedKt', target: 'airspeedTargetKt', band: 'airspeedBandKt', leastSpan: 24, held: true },
];

const METRES_PER_DEGREE = 111_195;

export function prepare(columns) {
  const t = Float64Array.from(columns.timeS);
  const n = t.length;
  const strips = QUANTITIES.map(q => {
    const value = numbers(columns[q.value], n);
    const target = numbers(columns[q.target], n);
    const band = numbers(columns[q.band], n);
    if (q.unit === '°') unwrap(value, target);
    return { ...q, angle: q.unit === '°', value, target, band, empty: value.every(Number.isNaN), outside: outside(value, target, band) };
  });
  return { n, t, strips, segment: whole(columns.segmentIndex, n), breaks: breaks(t), ...ground(columns) };
}

/** Index of the last sample at or before the time. */
export function indexAt(t, time) {
  let lo = 0, hi = t.length - 1;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (t[mid] <= time) lo = mid; else hi = mid - 1;
  }
  return lo;
}

/** Index of the sample nearest to the time. */
export function nearestTo(t, time) {
  const i = indexAt(t, time);
  return i + 1 < t.length && t[i + 1] - time < time - t[i] ? i + 1 : i;
}

function numbers(column, n) {
  const out = new Float64Array(n).fill(NaN);
  for (let i = 0; i < n && column; i++) if (column[i] !== null && column[i] !== undefined) out[i] = column[i];
  return out;
}

// Segment of each sample, −1 where none is being flown.
function whole(column, n) {
  const out = new Int32Array(n).fill(-1);
  for (let i = 0; i < n && column; i++) if (column[i] >= 0 && column[i] !== null) out[i] = column[i];
  return out;
}

// The trace runs on across north; the target lies on the turn of the circle that is nearest to the trace.
function unwrap(value, target) {
  let last = NaN;
  for (let i = 0; i < value.length; i++) {
    if (!Number.isNaN(value[i])) {
      if (!Number.isNaN(last)) value[i] = last + shortest(value[i] - last);
      last = value[i];
    }
    if (!Number.isNaN(target[i]) && !Number.isNaN(last)) target[i] = last + shortest(target[i] - last);
  }
}

function shortest(deg) {
  return deg - 360 * Math.round(deg / 360);
}

function outside(value, target, band) {
  return Uint8Array.from(value, (v, i) => Math.abs(v - target[i]) > band[i] ? 1 : 0);
}

// A line is not drawn across a gap: five usual intervals without a sample, and at least five seconds.
function breaks(t) {
  const steps = Array.from(t.subarray(1), (x, i) => x - t[i]).sort((a, b) => a - b);
  const longest = Math.max(5, 5 * (steps[steps.length >> 1] ?? 1));
  return Uint8Array.from(t, (x, i) => i > 0 && x - t[i - 1] > longest ? 1 : 0);
}

/** Value of a column at any time: along the straight line between two samples, the nearer one beside a gap. */
export function valueAt(flight, column, time) {
  const i = indexAt(flight.t, time), j = Math.min(i + 1, flight.n - 1);
  if (j === i || flight.breaks[j] || time <= flight.t[i]) return column[i];
  const part = Math.min(1, (time - flight.t[i]) / (flight.t[j] - flight.t[i]));
  return column[i] + (column[j] - column[i]) * part;
}

function ground(columns) {
  const lat = columns.latDeg, lon = columns.lonDeg;
  const lat0 = lat.length ? lat[0] : 0, lon0 = lon.length ? lon[0] : 0;
  const perLon = METRES_PER_DEGREE * Math.cos(lat0 * Math.PI / 180);
  const east = column => Float64Array.from(column ?? [], v => shortest(v - lon0) * perLon);
  const north = column => Float64Array.from(column ?? [], v => (v - lat0) * METRES_PER_DEGREE);
  return {
    east: east(lon), north: north(lat),
    nominalT: Float64Array.from(columns.nominalTimeS ?? []), nominalEast: east(columns.nominalLonDeg), nominalNorth: north(columns.nominalLatDeg),
  };
}
