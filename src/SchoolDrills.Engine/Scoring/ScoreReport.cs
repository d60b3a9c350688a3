using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>How a measurement stands against its tolerance.</summary>
[JsonConverter(typeof(KebabCase<Verdict>))]
public enum Verdict
{
    /// <summary>Within the standard.</summary>
    Met,

    /// <summary>Outside, by little or for a short time.</summary>
    Close,

    /// <summary>Outside the standard.</summary>
    NotMet,

    /// <summary>The recording cannot tell.</summary>
    NotMeasured,
}

/// <summary>Whether a segment was flown.</summary>
[JsonConverter(typeof(KebabCase<SegmentStatus>))]
public enum SegmentStatus
{
    /// <summary>From start to end.</summary>
    Flown,

    /// <summary>Begun but given up, or cut by the recording.</summary>
    Partial,

    /// <summary>Not flown.</summary>
    Skipped,
}

/// <summary>The engine's whole answer about one recording and one drill.</summary>
public sealed record ScoreReport
{
    /// <summary>Version of the engine that made this.</summary>
    public required string EngineVersion { get; init; }

    /// <summary>The drill looked for.</summary>
    public required DrillReference Drill { get; init; }

    /// <summary>What the recording held.</summary>
    public required RecordingSummary Recording { get; init; }

    /// <summary>The drill is in the recording.</summary>
    public required bool Found { get; init; }

    /// <summary>How much better the drill explains the flight than "no drill here", 0 to 1.</summary>
    public required double Confidence { get; init; }

    /// <summary>Start of the drill.</summary>
    public DateTimeOffset? StartUtc { get; init; }

    /// <summary>End of the drill.</summary>
    public DateTimeOffset? EndUtc { get; init; }

    /// <summary>Entry as given or as estimated from the recording.</summary>
    public DrillEntry? Entry { get; init; }

    /// <summary>Standard judged against.</summary>
    public string? StandardSlug { get; init; }

    /// <summary>Wind during the drill.</summary>
    public WindReport? Wind { get; init; }

    /// <summary>Magnetic declination, degrees, east positive; null outside the model's years.</summary>
    public double? DeclinationDeg { get; init; }

    /// <summary>Where heading, altitude and airspeed come from.</summary>
    public required SourcesReport Sources { get; init; }

    /// <summary>Segments in the drill's order; empty when the drill was not found.</summary>
    public IReadOnlyList<SegmentReport> Segments { get; init; } = [];

    /// <summary>What went wrong, most telling first.</summary>
    public IReadOnlyList<Finding> Findings { get; init; } = [];

    /// <summary>Times when several parameters ran away together.</summary>
    public IReadOnlyList<SaturationEpisode> Saturation { get; init; } = [];

    /// <summary>Ways of scanning that would explain what was seen.</summary>
    public IReadOnlyList<ScanHint> ScanHints
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Every flight of the drill in the recording, in time; the one scored is marked.</summary>
    public IReadOnlyList<FoundRun> Runs
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>What was set by hand before this was scored; null in the engine's own report.</summary>
    public HandCorrections? Corrections { get; init; }

    /// <summary>The drill as a whole.</summary>
    public required OverallReport Overall { get; init; }

    /// <summary>What could not be measured and why, one sentence each.</summary>
    public IReadOnlyList<string> NotMeasured { get; init; } = [];

    /// <summary>What was amiss with the recording though it could be used, one sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}

/// <summary>A drill and its version.</summary>
/// <param name="Slug">Name in addresses.</param>
/// <param name="Version">Published version.</param>
public sealed record DrillReference(string Slug, int Version);

/// <summary>What a recording held.</summary>
public sealed record RecordingSummary
{
    /// <summary>Format it was written in.</summary>
    public required string Format { get; init; }

    /// <summary>Samples used.</summary>
    public required int Samples { get; init; }

    /// <summary>Records left out.</summary>
    public required int Dropped { get; init; }

    /// <summary>Gaps across which nothing was filled in.</summary>
    public required int Gaps { get; init; }

    /// <summary>First sample.</summary>
    public required DateTimeOffset StartUtc { get; init; }

    /// <summary>Last sample.</summary>
    public required DateTimeOffset EndUtc { get; init; }

    /// <summary>Median time between samples, seconds.</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>What each column was taken from.</summary>
    public required IReadOnlyDictionary<string, string> Columns { get; init; }
}

/// <summary>Wind during the drill.</summary>
/// <param name="FromDegTrue">Direction it blows from, degrees true.</param>
/// <param name="SpeedKt">Speed, knots.</param>
/// <param name="SigmaKt">One standard deviation of the vector's error per axis, knots.</param>
/// <param name="Source"><c>air-data</c>, <c>turns</c>, <c>given</c> or <c>none</c>.</param>
public sealed record WindReport(double? FromDegTrue, double? SpeedKt, double? SigmaKt, string Source);

/// <summary>Where the three quantities a pilot flies by come from.</summary>
/// <param name="Heading"><c>recorded</c>, <c>wind-corrected</c> or <c>ground-track</c>.</param>
/// <param name="Altitude"><c>indicated</c>, <c>pressure</c> or <c>gps</c>.</param>
/// <param name="Airspeed"><c>recorded</c>, <c>derived</c> or <c>none</c>.</param>
public sealed record SourcesReport(string Heading, string Altitude, string Airspeed);

/// <summary>One segment as flown.</summary>
public sealed record SegmentReport
{
    /// <summary>Position in the drill, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>Name as the template gives it.</summary>
    public required string Name { get; init; }

    /// <summary>What it asks for.</summary>
    public required SegmentKind Kind { get; init; }

    /// <summary>Start on the drill clock, seconds.</summary>
    public required double NominalStartS { get; init; }

    /// <summary>End on the drill clock, seconds.</summary>
    public required double NominalEndS { get; init; }

    /// <summary>Whether it was flown.</summary>
    public required SegmentStatus Status { get; init; }

    /// <summary>When the pilot began its manoeuvre; null when skipped.</summary>
    public DateTimeOffset? StartUtc { get; init; }

    /// <summary>When the pilot began the next; null when skipped.</summary>
    public DateTimeOffset? EndUtc { get; init; }

    /// <summary>Start against the clock started at the drill's found start, seconds, late positive.</summary>
    public double? StartErrorS { get; init; }

    /// <summary>End against the same clock, seconds, late positive.</summary>
    public double? EndErrorS { get; init; }

    /// <summary>Deviations by parameter.</summary>
    public IReadOnlyList<DeviationReport> Deviations { get; init; } = [];

    /// <summary>Change of heading asked, degrees, right positive; null in reports of earlier engines.</summary>
    public double? TurnDeg { get; init; }

    /// <summary>The segment as a whole.</summary>
    public required Verdict Verdict { get; init; }
}

/// <summary>How far one parameter was from its target over a segment.</summary>
public sealed record DeviationReport
{
    /// <summary>What was measured.</summary>
    public required Parameter Parameter { get; init; }

    /// <summary><c>ft</c>, <c>deg</c>, <c>kt</c>, <c>fpm</c>, <c>deg/s</c> or <c>s</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>Allowed either side.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Mean of the absolute deviation.</summary>
    public double? MeanAbs { get; init; }

    /// <summary>Root mean square of the deviation.</summary>
    public double? Rms { get; init; }

    /// <summary>Largest absolute deviation.</summary>
    public double? MaxAbs { get; init; }

    /// <summary>Signed deviation, actual minus target, where it was largest.</summary>
    public double? Worst { get; init; }

    /// <summary>When it was largest.</summary>
    public DateTimeOffset? WorstAtUtc { get; init; }

    /// <summary>One standard deviation of the measurement itself.</summary>
    public double? Sigma { get; init; }

    /// <summary>Share of the segment's time within tolerance, 0 to 1.</summary>
    public double? WithinShare { get; init; }

    /// <summary>Time outside tolerance, seconds.</summary>
    public double? OutsideS { get; init; }

    /// <summary>Longest single time outside, seconds.</summary>
    public double? LongestOutsideS { get; init; }

    /// <summary>Median time from leaving tolerance to starting back, seconds; null where tolerance was never left.</summary>
    public double? CorrectionS { get; init; }

    /// <summary>How it stands.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>The rule and the numbers that gave the verdict, one sentence.</summary>
    public required string Why { get; init; }
}

/// <summary>What a finding is about.</summary>
[JsonConverter(typeof(KebabCase<FindingKind>))]
public enum FindingKind
{
    /// <summary>Begun after its time.</summary>
    LateStart,

    /// <summary>Begun before its time.</summary>
    EarlyStart,

    /// <summary>Rolled out past the heading.</summary>
    OvershotHeading,

    /// <summary>Rolled out short of the heading.</summary>
    UndershotHeading,

    /// <summary>Levelled off past the altitude.</summary>
    AltitudeOvershoot,

    /// <summary>Levelled off short of the altitude.</summary>
    AltitudeUndershoot,

    /// <summary>Turn rate or vertical speed too high.</summary>
    RateHigh,

    /// <summary>Turn rate or vertical speed too low.</summary>
    RateLow,

    /// <summary>Turned the wrong way.</summary>
    WrongDirection,

    /// <summary>Not flown.</summary>
    SkippedSegment,

    /// <summary>Altitude left its target and was not brought back promptly.</summary>
    AltitudeDrift,

    /// <summary>Heading left its target and was not brought back promptly.</summary>
    HeadingDrift,

    /// <summary>Airspeed left its target and was not brought back promptly.</summary>
    AirspeedDrift,

    /// <summary>Given up before its end.</summary>
    Aborted,

    /// <summary>A check was not done.</summary>
    MissedCheck,

    /// <summary>A check was done after its window.</summary>
    LateCheck,
}

/// <summary>One thing that went wrong, with time, size and a plain sentence.</summary>
/// <param name="SegmentIndex">The segment it belongs to, null for the whole drill.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Parameter">What it was seen in.</param>
/// <param name="Magnitude">How much, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Unit of the magnitude.</param>
/// <param name="AtUtc">When.</param>
/// <param name="Text">One sentence in an instructor's words.</param>
public sealed record Finding(
    int? SegmentIndex,
    FindingKind Kind,
    Parameter Parameter,
    double Magnitude,
    string Unit,
    DateTimeOffset? AtUtc,
    string Text
);

/// <summary>A time when several parameters were out together after having been in.</summary>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Parameters">Which.</param>
/// <param name="Peak">How bad at the worst moment, 0 to 1.</param>
public sealed record SaturationEpisode(DateTimeOffset StartUtc, DateTimeOffset EndUtc, IReadOnlyList<Parameter> Parameters, double Peak);

/// <summary>The drill as a whole.</summary>
/// <param name="WithinShare">Share of the drill's time with every judged parameter within tolerance, 0 to 1.</param>
/// <param name="Verdict">How it stands.</param>
/// <param name="Why">The rule and the numbers that gave the verdict, one sentence.</param>
public sealed record OverallReport(double? WithinShare, Verdict Verdict, string Why);
