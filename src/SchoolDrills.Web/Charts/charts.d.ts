// Shapes that the scripts of the plots share, for the checks alone. Names end in Ms (since 1970) or S (seconds of the plots).

/** A component of a page, called from its script. */
interface DotNetObject {
    invokeMethodAsync(method: string, ...args: unknown[]): Promise<unknown>;
}

type Verdict = 'met' | 'close' | 'not-met' | 'not-measured';

/** As PlotSource.cs has it. */
interface PlotSource {
    clockZeroMs: number | null;
    segments: PlotSpan[];
    engine: PlotSpan[];
    excluded: PlotSpan[];
    paused: { why: string; startMs: number; endMs: number }[];
    stoppedMs: number | null;
    episodes: { what: string; startMs: number; endMs: number }[];
    findings: { letter: string | null; parameter: string; atMs: number }[];
    events: { mark: Mark; atMs: number; toMs: number | null; what: string; outcome: string }[];
    ratings: number[];
    wind: Wind | null;
}

interface PlotSpan {
    index: number;
    name: string;
    verdict: Verdict;
    startMs: number;
    endMs: number;
}

interface Wind {
    fromDegTrue?: number | null;
    speedKt?: number | null;
}

/** Where the columns and the drill come from. */
interface TrackSource {
    url: string;
    /** Name under which the columns of a preview are kept. */
    keptAs: string | null;
    timelineUrl: string | null;
}

interface TrackColumns {
    epochUtc: string;
    values: Record<string, ArrayLike<number | null> | undefined>;
}

/** The drill by the clock, as the API answers it. */
interface Timeline {
    segments: TimelineSegment[];
    gates: { atS: number; label: string }[];
    cues: { atS: number; text: string }[];
    checks: { name: string; fromS: number; toS: number; items: string[] }[];
    loadTasks: { name: string; atS: number; script: string }[];
}

interface TimelineSegment {
    index: number;
    name: string;
    startS: number;
    endS: number;
    startHeadingMagDeg: number;
    turnDeg?: number;
    turnRateDegPerS: number;
    startAltitudeFt: number;
    endAltitudeFt: number;
    verticalSpeedFpm: number;
    startAirspeedKt: number;
    airspeedKt: number;
}

/** A stretch of time on the plots. */
interface Stretch {
    startS: number;
    endS: number;
}

type Segment = PlotSpan & Stretch;

/** A check or a load task of the drill. */
interface Planned {
    kind: 'check' | 'load-task';
    name: string;
    fromS: number;
    toS: number;
}

/** As EventTimeline.cs has it. */
type Mark =
    | 'clock'
    | 'task'
    | 'task-missed'
    | 'answered'
    | 'answered-late'
    | 'answered-wrong'
    | 'check'
    | 'check-late'
    | 'check-missed'
    | 'rating'
    | 'relief'
    | 'traffic'
    | 'control'
    | 'stopped'
    | 'note';

/** Something noted on board. */
interface Noted {
    mark: Mark;
    atS: number;
    /** Until when it lasted; null for a moment. */
    toS: number | null;
    what: string;
    outcome: string;
}

/** The drill beside the flight, in the plots' seconds. */
interface Drill {
    zeroS: number;
    timeline: Timeline | null;
    segments: Segment[];
    engine: Segment[];
    excluded: Stretch[];
    paused: (Stretch & { why: string })[];
    stoppedS: number | null;
    episodes: (Stretch & { what: string })[];
    findings: { letter: string | null; parameter: string; atS: number }[];
    events: Noted[];
    planned: Planned[];
    ratings: number[];
    wind: Wind | null;
    /** Another attempt under the traces, where it was asked for. */
    laidOver?: LaidOver | null;
    /** Reading of the drill's clock. */
    clockAt(time: number): number;
    /** Milliseconds since 1970. */
    msAt(time: number): number;
}

/** The lines of another attempt by parameter, on this flight's time axis. */
type LaidOver = Map<string, OverlayLine>;

/** One quantity over the samples of a flight. */
interface Strip {
    name: string;
    parameter: string;
    unit: string;
    isAngle: boolean;
    /** Held between changes, as altitude, heading and airspeed are; rates flicker. */
    isHeld: boolean;
    /** The least that the strip's height stands for. */
    leastSpan: number;
    /** Steps of the grid, where round numbers are not the usual ones. */
    steps?: number[];
    value: Float64Array;
    target: Float64Array;
    band: Float64Array;
    isEmpty: boolean;
    /** 1 where the value is outside its band. */
    outside: Uint8Array;
}

/** A flight's samples, made ready for drawing. */
interface Flight {
    count: number;
    t: Float64Array;
    strips: Strip[];
    /** Index of the segment being flown, −1 where none is. */
    segment: Int32Array;
    /** 1 where no line is drawn from the sample before. */
    breaks: Uint8Array;
    east: Float64Array;
    north: Float64Array;
    nominalT: Float64Array;
    nominalEast: Float64Array;
    nominalNorth: Float64Array;
}

/** The seconds that the strips show. */
interface View {
    from: number;
    to: number;
}

interface Box {
    head: number;
    top: number;
    bottom: number;
    height: number;
}

interface StripLayout {
    width: number;
    height: number;
    left: number;
    right: number;
    boxes: Box[];
    lane: Box;
    laneRow: number;
    /** Where the clock's axis lies. */
    axis: number;
    isNarrow: boolean;
}

interface PlanLayout {
    width: number;
    height: number;
    /** Pixels a metre. */
    scale: number;
    /** First and last sample in view. */
    from: number;
    to: number;
    x(east: number): number;
    y(north: number): number;
}

/** Colors of the page's theme, and its type. */
type Palette = Record<'ink' | 'paper' | 'hairline' | 'muted' | 'accent' | Verdict, string> & {
    font(px: number, weight?: number): string;
    /** Marks what is out of tolerance without color as well. */
    hatch: CanvasPattern | string;
    /** Marks pauses noted on board. */
    pause: CanvasPattern | string;
};

/** All that a drawing of the strips needs. */
interface StripScene {
    ctx: CanvasRenderingContext2D;
    flight: Flight;
    drill: Drill;
    layout: StripLayout;
    view: View;
    palette: Palette;
    x(time: number): number;
}

/** All that a drawing of the plan needs; x and y are those of a sample. */
interface PlanScene {
    ctx: CanvasRenderingContext2D;
    flight: Flight;
    drill: Drill;
    layout: PlanLayout;
    palette: Palette;
    x(sample: number): number;
    y(sample: number): number;
}

/** What has been moved and marked on the strips and is not yet scored, as PendingAdjustments.cs has it. */
interface PendingAdjustments {
    boundaries: { index: number; edge: 'start' | 'end'; atMs: number; engineMs: number }[];
    excluded: { startMs: number; endMs: number }[];
    steps: number;
}
