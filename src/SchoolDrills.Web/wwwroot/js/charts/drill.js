// The drill beside the flight: what was flown when, what was asked by the clock, what was noted on board. Times are the plots' seconds.

/**
 * @param told what the page tells: segments, episodes, findings, events, clockZeroMs … with times in milliseconds since 1970
 * @param timeline the drill by the clock, or null
 * @param epochMs instant of the plots' second 0
 */
export function drillOf(told, timeline, epochMs) {
  const since = ms => (ms - epochMs) / 1000;
  const span = x => ({ ...x, startS: since(x.startMs), endS: since(x.endMs) });
  const zeroS = told.clockZeroMs === null || told.clockZeroMs === undefined ? 0 : since(told.clockZeroMs);
  return {
    zeroS,
    timeline,
    segments: told.segments.map(span),
    engine: (told.engine ?? []).map(span),
    leftOut: (told.leftOut ?? []).map(span),
    episodes: told.episodes.map(span),
    findings: told.findings.map(f => ({ ...f, atS: since(f.atMs) })),
    events: told.events.map(e => ({ ...e, atS: since(e.atMs) })),
    planned: planned(timeline, zeroS),
    ratings: told.ratings ?? [],
    wind: told.wind,
    /** Reading of the drill's clock. */
    clockAt: time => time - zeroS,
    msAt: time => epochMs + time * 1000,
  };
}

function planned(timeline, zeroS) {
  if (!timeline) return [];
  return [
    ...timeline.checks.map(c => ({ kind: 'check', name: c.name, fromS: c.fromS + zeroS, toS: c.toS + zeroS, about: c.items.join(', ') })),
    ...timeline.loadTasks.map(l => ({ kind: 'load-task', name: l.name, fromS: l.atS + zeroS, toS: l.atS + zeroS, about: l.script })),
  ].sort((a, b) => a.fromS - b.fromS);
}

/** What is asked at a reading of the clock: segment, targets by the second, and what comes next; null outside the drill. */
export function askedAt(timeline, clockS) {
  if (!timeline) return null;
  const segment = timeline.segments.find(s => clockS >= s.startS && clockS < s.endS);
  const gate = timeline.gates.find(g => g.atS > clockS) ?? null;
  const cue = timeline.cues.find(c => c.atS > clockS) ?? null;
  if (!segment) return { segment: null, gate, cue };
  const elapsed = clockS - segment.startS;
  const part = Math.min(1, elapsed / Math.max(1e-9, segment.endS - segment.startS));
  const climbed = segment.verticalSpeedFpm / 60 * elapsed, whole = segment.endAltitudeFt - segment.startAltitudeFt;
  const turned = segment.turnRateDegPerS * elapsed;
  return {
    segment, gate, cue,
    headingMagDeg: segment.startHeadingMagDeg + (Math.abs(turned) < Math.abs(segment.turnDeg ?? turned) ? turned : segment.turnDeg ?? turned),
    altitudeFt: segment.startAltitudeFt + Math.sign(whole) * Math.min(Math.abs(whole), Math.abs(climbed)),
    verticalSpeedFpm: segment.verticalSpeedFpm,
    turnRateDegPerS: segment.turnRateDegPerS,
    airspeedKt: segment.startAirspeedKt + (segment.airspeedKt - segment.startAirspeedKt) * part,
  };
}

export function segmentAt(segments, time) {
  return segments.find(s => time >= s.startS && time < s.endS);
}
