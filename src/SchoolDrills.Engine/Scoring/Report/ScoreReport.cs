using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

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

    /// <summary>One standard deviation of the entry heading, degrees; null where it was given or could not be seen.</summary>
    public double? EntryHeadingSigmaDeg { get; init; }

    /// <summary>One standard deviation of the entry altitude, feet; null where it was given or could not be seen.</summary>
    public double? EntryAltitudeSigmaFt { get; init; }

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

    /// <summary>What went wrong, most important first.</summary>
    public IReadOnlyList<Finding> Findings { get; init; } = [];

    /// <summary>Times when several parameters were outside tolerance together.</summary>
    public IReadOnlyList<SaturationEpisode> Saturation { get; init; } = [];

    /// <summary>What was laid on top of the flying and what it did; null where nobody took notes on board.</summary>
    public WorkloadReport? Workload { get; init; }

    /// <summary>Times within the drill that are not judged, as noted on board, in time.</summary>
    public IReadOnlyList<PausedTime> Paused
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>When the instructor stopped the drill: nothing after it is judged; null where he did not.</summary>
    public DateTimeOffset? StoppedUtc { get; init; }

    /// <summary>Ways of scanning that would explain what was seen.</summary>
    public IReadOnlyList<ScanHint> ScanHints
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Every run of the drill in the recording, in time; the scored one is marked.</summary>
    public IReadOnlyList<DrillRun> Runs
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>
    /// How the scored stretch can be read, likeliest first; more than one only where it can be read in more than one way.
    /// </summary>
    public IReadOnlyList<Reading> Readings
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>The instructor's corrections with which this was scored; null in the engine's own report.</summary>
    public ManualCorrections? Corrections { get; init; }

    /// <summary>The drill as a whole.</summary>
    public required OverallReport Overall { get; init; }

    /// <summary>What could not be measured and why, one sentence each.</summary>
    public IReadOnlyList<string> NotMeasured { get; init; } = [];

    /// <summary>What is wrong with the recording though it could be used, one sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}

/// <summary>A drill and its version.</summary>
/// <param name="Slug">Name in addresses.</param>
/// <param name="Version">Published version.</param>
public sealed record DrillReference(string Slug, int Version);

/// <summary>Wind during the drill.</summary>
/// <param name="FromDegTrue">Direction it blows from, degrees true.</param>
/// <param name="SpeedKt">Speed, knots.</param>
/// <param name="SigmaKt">One standard deviation of the vector's error per axis, knots.</param>
/// <param name="Source">Where it comes from.</param>
public sealed record WindReport(double? FromDegTrue, double? SpeedKt, double? SigmaKt, WindSource Source);

/// <summary>Where the three quantities a pilot flies by come from.</summary>
/// <param name="Heading">Source of the heading.</param>
/// <param name="Altitude">Source of the altitude.</param>
/// <param name="Airspeed">Source of the airspeed.</param>
public sealed record SourcesReport(HeadingSource Heading, AltitudeSource Altitude, AirspeedSource Airspeed);

/// <summary>The drill as a whole.</summary>
/// <param name="WithinShare">Share of the drill's time with every judged parameter within tolerance, 0 to 1.</param>
/// <param name="Verdict">How it stands.</param>
/// <param name="Why">The rule and the numbers that gave the verdict, one sentence.</param>
public sealed record OverallReport(double? WithinShare, Verdict Verdict, string Why);
