// Shapes that the script of the overlay works with, for the checks alone.

/** As FlightOverlay.cs has it. */
interface Overlay {
    segments: OverlaidSegment[];
}

interface OverlaidSegment {
    index: number;
    name: string;
    startS: number;
    lengthS: number;
    this: SegmentTrace | null;
    other: SegmentTrace | null;
}

type Readings = (number | null)[];

interface SegmentTrace {
    durationS: number;
    timeS: number[];
    eastM: number[];
    northM: number[];
    altitudeFt: Readings;
    headingMagDeg: Readings;
    airspeedKt: Readings;
    altitudeTargetFt: Readings;
    headingTargetMagDeg: Readings;
    airspeedTargetKt: Readings;
}

/** A line over the common axis; a null ends a stroke. */
type OverlayLine = ({ s: number; v: number } | null)[];

interface OverlayStrip {
    name: string;
    unit: string;
    leastSpan: number;
    one: OverlayLine;
    other: OverlayLine;
    target: OverlayLine;
}
