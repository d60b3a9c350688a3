// @ts-check
// Track columns from the API, made ready for drawing: NaN for what is missing, headings unwrapped, metres instead of degrees.

const METRES_PER_DEGREE = 111_195;

/** In the order of the strips; columns are those of value, target and band. */
const QUANTITIES = [
  {
    name: 'Altitude',
    parameter: 'altitude',
    unit: 'ft',
    columns: ['altitudeFt', 'altitudeTargetFt', 'altitudeBandFt'],
    leastSpan: 300,
    isHeld: true,
  },
  {
    name: 'Heading',
    parameter: 'heading',
    unit: '°',
    columns: ['headingMagDeg', 'headingTargetMagDeg', 'headingBandDeg'],
    leastSpan: 30,
    isHeld: true,
  },
  {
    name: 'Vertical speed',
    parameter: 'vertical-speed',
    unit: 'fpm',
    columns: ['verticalSpeedFpm', 'verticalSpeedTargetFpm', 'verticalSpeedBandFpm'],
    leastSpan: 800,
    isHeld: false,
  },
  {
    name: 'Turn rate',
    parameter: 'turn-rate',
    unit: '°/s',
    columns: ['turnRateDegPerS', 'turnRateTargetDegPerS', 'turnRateBandDegPerS'],
    leastSpan: 3,
    isHeld: false,
    steps: [0.5, 1.5, 3, 6, 15],
  },
  {
    name: 'Airspeed',
    parameter: 'airspeed',
    unit: 'kt',
    columns: ['airspeedKt', 'airspeedTargetKt', 'airspeedBandKt'],
    leastSpan: 24,
    isHeld: true,
  },
];

/**
 * @param {TrackColumns} columns
 * @returns {Flight}
 */
export function prepare({ values }) {
  const t = numbers(values.timeS, values.timeS?.length ?? 0);
  const count = t.length;
  const strips = QUANTITIES.map(({ columns, ...quantity }) => {
    const [value, target, band] = columns.map(name => numbers(values[name], count));
    const isAngle = quantity.unit === '°';
    if (isAngle) unwrap(value, target);
    return { ...quantity, isAngle, value, target, band, isEmpty: value.every(Number.isNaN), outside: outside(value, target, band) };
  });
  return { count, t, strips, segment: segments(values.segmentIndex, count), breaks: breaks(t), ...ground(values) };
}

/**
 * Index of the last sample at or before the time.
 * @param {Float64Array} t
 * @param {number} time
 */
export function indexAt(t, time) {
  let low = 0;
  let high = t.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (t[middle] <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Index of the sample nearest to the time.
 * @param {Float64Array} t
 * @param {number} time
 */
export function nearestTo(t, time) {
  const i = indexAt(t, time);
  return i + 1 < t.length && t[i + 1] - time < time - t[i] ? i + 1 : i;
}

/**
 * Value of a column at any time: along the straight line between two samples, the nearer one beside a gap.
 * @param {Flight} flight
 * @param {Float64Array} column
 * @param {number} time
 */
export function valueAt(flight, column, time) {
  const i = indexAt(flight.t, time);
  const j = Math.min(i + 1, flight.count - 1);
  if (j === i || flight.breaks[j] || time <= flight.t[i]) return column[i];
  const part = Math.min(1, (time - flight.t[i]) / (flight.t[j] - flight.t[i]));
  return column[i] + (column[j] - column[i]) * part;
}

/**
 * @param {ArrayLike<number | null> | undefined} column
 * @param {number} count
 */
function numbers(column, count) {
  return Float64Array.from({ length: count }, (_, i) => column?.[i] ?? NaN);
}

/**
 * Segment of each sample, −1 where none is being flown.
 * @param {ArrayLike<number | null> | undefined} column
 * @param {number} count
 */
function segments(column, count) {
  return Int32Array.from({ length: count }, (_, i) => {
    const index = column?.[i] ?? -1;
    return index >= 0 ? index : -1;
  });
}

/**
 * The trace runs on across north; the target lies on the turn of the circle that is nearest to the trace.
 * @param {Float64Array} value
 * @param {Float64Array} target
 */
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

/** @param {number} deg */
function shortest(deg) {
  return deg - 360 * Math.round(deg / 360);
}

/**
 * @param {Float64Array} value
 * @param {Float64Array} target
 * @param {Float64Array} band
 */
function outside(value, target, band) {
  return Uint8Array.from(value, (v, i) => (Math.abs(v - target[i]) > band[i] ? 1 : 0));
}

/**
 * A line is not drawn across a gap: five usual intervals without a sample, and at least five seconds.
 * @param {Float64Array} t
 */
function breaks(t) {
  const steps = Array.from(t.subarray(1), (x, i) => x - t[i]).sort((a, b) => a - b);
  const longest = Math.max(5, 5 * (steps[steps.length >> 1] ?? 1));
  return Uint8Array.from(t, (x, i) => (i > 0 && x - t[i - 1] > longest ? 1 : 0));
}

/** @param {TrackColumns['values']} values */
function ground(values) {
  const lat0 = values.latDeg?.[0] ?? 0;
  const lon0 = values.lonDeg?.[0] ?? 0;
  const perLon = METRES_PER_DEGREE * Math.cos((lat0 * Math.PI) / 180);
  /** @param {string} name */
  const column = name => numbers(values[name], values[name]?.length ?? 0);
  /** @param {string} name */
  const east = name => column(name).map(deg => shortest(deg - lon0) * perLon);
  /** @param {string} name */
  const north = name => column(name).map(deg => (deg - lat0) * METRES_PER_DEGREE);
  return {
    east: east('lonDeg'),
    north: north('latDeg'),
    nominalT: column('nominalTimeS'),
    nominalEast: east('nominalLonDeg'),
    nominalNorth: north('nominalLatDeg'),
  };
}
