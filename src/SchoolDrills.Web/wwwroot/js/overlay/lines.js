// @ts-check
// The traces of both attempts as lines over the common axis, every segment from its own flown start.

/** Without a sample for so long no line is drawn. */
const GAP_S = 6;

/**
 * @param {Overlay} overlay
 * @returns {OverlayStrip[]}
 */
export function stripsOf(overlay) {
  const heading = unwrapped(overlay);
  return [
    strip('Altitude', 'ft', 200, overlay, t => [t.altitudeFt, t.altitudeTargetFt]),
    strip('Heading', '°', 30, overlay, t => heading.get(t) ?? [[], []]),
    strip('Airspeed', 'kt', 20, overlay, t => [t.airspeedKt, t.airspeedTargetKt]),
  ];
}

/**
 * @param {string} name
 * @param {string} unit
 * @param {number} leastSpan
 * @param {Overlay} overlay
 * @param {(trace: SegmentTrace) => [Readings, Readings]} read values and targets
 * @returns {OverlayStrip}
 */
function strip(name, unit, leastSpan, overlay, read) {
  /** @type {OverlayStrip} */
  const made = { name, unit, leastSpan, one: [], other: [], target: [] };
  for (const segment of overlay.segments) {
    for (const [line, trace, which] of /** @type {const} */ ([
      [made.one, segment.this, 0],
      [made.other, segment.other, 0],
      [made.target, segment.this ?? segment.other, 1],
    ])) {
      if (!trace) continue;
      const values = read(trace)[which];
      trace.timeS.forEach((t, i) => {
        const v = values[i];
        if (i > 0 && t - trace.timeS[i - 1] > GAP_S) line.push(null);
        line.push(v === null || v === undefined ? null : { s: segment.startS + t, v });
      });
      line.push(null);
    }
  }
  return made;
}

/**
 * Headings without the jump at north; both attempts and the target of a segment begin on the same turn of the compass.
 * @param {Overlay} overlay
 */
function unwrapped(overlay) {
  /** @type {Map<SegmentTrace, [Readings, Readings]>} */
  const made = new Map();
  /** @type {number | null} */
  let before = null;
  for (const segment of overlay.segments) {
    /** @type {number | null} */
    let ending = null;
    const first = segment.this ?? segment.other;
    const lead = first?.headingTargetMagDeg.find(v => v !== null) ?? first?.headingMagDeg.find(v => v !== null) ?? null;
    if (lead === null) continue;
    /** @type {number} */
    const start = before === null ? lead : near(lead, before);
    for (const trace of [segment.this, segment.other]) {
      if (!trace) continue;
      const targets = follow(trace.headingTargetMagDeg, start);
      made.set(trace, [follow(trace.headingMagDeg, start), targets]);
      ending ??= targets.findLast(v => v !== null) ?? null;
    }
    before = ending ?? start;
  }
  return made;
}

/**
 * @param {Readings} values
 * @param {number} start
 * @returns {Readings}
 */
function follow(values, start) {
  let last = start;
  return values.map(v => (v === null ? null : (last = near(v, last))));
}

/**
 * @param {number} deg
 * @param {number} reference
 */
function near(deg, reference) {
  return deg + 360 * Math.round((reference - deg) / 360);
}

/**
 * The path over the ground: from the drill's start, or one segment's from its own.
 * @param {Overlay} overlay
 * @param {'this' | 'other'} whose
 * @param {number | null} selected
 */
export function pathsOf(overlay, whose, selected) {
  return overlay.segments
    .filter(s => selected === null || s.index === selected)
    .flatMap(segment => {
      const trace = segment[whose];
      if (!trace) return [];
      const [x, y] = selected === null ? [0, 0] : [trace.eastM[0], trace.northM[0]];
      return [trace.eastM.map((east, i) => /** @type {const} */ ([east - x, trace.northM[i] - y]))];
    });
}
