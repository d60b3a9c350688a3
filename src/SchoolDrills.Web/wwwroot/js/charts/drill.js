// @ts-check
// The drill beside the flight: what was flown when, what was planned by the clock, what was noted on board.

/**
 * @param {PlotSource} source
 * @param {Timeline | null} timeline
 * @param {number} epochMs instant of the plots' second 0
 * @returns {Drill}
 */
export function drillOf(source, timeline, epochMs) {
  /** @param {number} ms */
  const since = ms => (ms - epochMs) / 1000;
  /**
   * @template {{ startMs: number, endMs: number }} T
   * @param {T} span
   */
  const stretch = span => ({ ...span, startS: since(span.startMs), endS: since(span.endMs) });
  const zeroS = source.clockZeroMs === null ? 0 : since(source.clockZeroMs);
  return {
    zeroS,
    timeline,
    segments: source.segments.map(stretch),
    engine: source.engine.map(stretch),
    excluded: source.excluded.map(stretch),
    paused: source.paused.map(stretch),
    stoppedS: source.stoppedMs === null ? null : since(source.stoppedMs),
    episodes: source.episodes.map(stretch),
    findings: source.findings.map(finding => ({ ...finding, atS: since(finding.atMs) })),
    events: source.events.map(event => ({ ...event, atS: since(event.atMs), toS: event.toMs === null ? null : since(event.toMs) })),
    planned: planned(timeline, zeroS),
    ratings: source.ratings,
    wind: source.wind,
    clockAt: time => time - zeroS,
    msAt: time => epochMs + time * 1000,
  };
}

/**
 * @param {Timeline | null} timeline
 * @param {number} zeroS
 * @returns {Planned[]}
 */
function planned(timeline, zeroS) {
  if (!timeline) return [];
  /** @type {Planned[]} */
  const checks = timeline.checks.map(c => ({ kind: 'check', name: c.name, fromS: c.fromS + zeroS, toS: c.toS + zeroS }));
  /** @type {Planned[]} */
  const tasks = timeline.loadTasks.map(l => ({ kind: 'load-task', name: l.name, fromS: l.atS + zeroS, toS: l.atS + zeroS }));
  return [...checks, ...tasks].sort((a, b) => a.fromS - b.fromS);
}

/**
 * What is planned at a reading of the clock: segment, targets by the second, and what comes next.
 * @param {Timeline} timeline
 * @param {number} clockS
 */
export function plannedAt(timeline, clockS) {
  const segment = timeline.segments.find(s => clockS >= s.startS && clockS < s.endS) ?? null;
  return {
    segment,
    gate: timeline.gates.find(g => g.atS > clockS) ?? null,
    cue: timeline.cues.find(c => c.atS > clockS) ?? null,
    targets: segment && targetsAt(segment, clockS),
  };
}

/**
 * @param {TimelineSegment} segment
 * @param {number} clockS
 */
function targetsAt(segment, clockS) {
  const elapsed = clockS - segment.startS;
  const part = Math.min(1, elapsed / Math.max(1e-9, segment.endS - segment.startS));
  const climbed = (segment.verticalSpeedFpm / 60) * elapsed;
  const climb = segment.endAltitudeFt - segment.startAltitudeFt;
  const turned = segment.turnRateDegPerS * elapsed;
  const turn = segment.turnDeg ?? turned;
  return {
    headingMagDeg: segment.startHeadingMagDeg + (Math.abs(turned) < Math.abs(turn) ? turned : turn),
    altitudeFt: segment.startAltitudeFt + Math.sign(climb) * Math.min(Math.abs(climb), Math.abs(climbed)),
    verticalSpeedFpm: segment.verticalSpeedFpm,
    turnRateDegPerS: segment.turnRateDegPerS,
    airspeedKt: segment.startAirspeedKt + (segment.airspeedKt - segment.startAirspeedKt) * part,
  };
}

/**
 * @template {Stretch} T
 * @param {T[]} segments
 * @param {number} time
 */
export function segmentAt(segments, time) {
  return segments.find(s => time >= s.startS && time < s.endS);
}
