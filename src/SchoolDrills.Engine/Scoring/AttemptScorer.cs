using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What is known of a flight besides its recording; null where nothing is.</summary>
public sealed record ScoringOptions
{
    /// <summary>Altimeter setting, hPa.</summary>
    public double? QnhHpa { get; init; }

    /// <summary>Outside air temperature, Celsius.</summary>
    public double? OutsideAirTemperatureC { get; init; }

    /// <summary>Wind from, degrees true.</summary>
    public double? WindFromDegTrue { get; init; }

    /// <summary>Wind speed, knots.</summary>
    public double? WindKt { get; init; }

    /// <summary>Entry heading, degrees magnetic; estimated from the recording when null.</summary>
    public double? HeadingMagDeg { get; init; }

    /// <summary>Entry altitude, feet indicated; estimated from the recording when null.</summary>
    public double? AltitudeFt { get; init; }

    /// <summary>Airspeed to hold, knots indicated; the template's when null.</summary>
    public double? AirspeedKt { get; init; }

    /// <summary>Left and right exchanged; as the template's entry says when null.</summary>
    public bool? Mirrored { get; init; }

    /// <summary>Turns at half rate; as the template's entry says when null.</summary>
    public bool? HalfRate { get; init; }
}

/// <summary>Stages of scoring, told while it runs.</summary>
public enum ScoringStage
{
    /// <summary>Ordering, removing jumps, marking gaps.</summary>
    Cleaning,

    /// <summary>Smoothing, wind, heading, airspeed.</summary>
    Reconstructing,

    /// <summary>Finding the drill and its segments.</summary>
    Aligning,

    /// <summary>Measuring and judging.</summary>
    Judging,
}

/// <summary>A report with the columns for its plots.</summary>
/// <param name="Report">The report.</param>
/// <param name="Columns">Reconstructed flight for plots.</param>
public sealed record ScoredAttempt(ScoreReport Report, TrackColumns Columns);

/// <summary>The engine's front door: a recording and a drill in, a report out. Pure and deterministic.</summary>
public static class AttemptScorer
{
    /// <summary>Version of the engine; part of every report.</summary>
    public const string EngineVersion = "1.0.0";

    /// <summary>Scores one recording against one drill.</summary>
    /// <param name="track">The recording as read.</param>
    /// <param name="template">The drill.</param>
    /// <param name="standard">Tolerances to judge by.</param>
    /// <param name="options">What else is known.</param>
    /// <param name="stage">Told at the start of each stage.</param>
    /// <param name="cancellation">Stops between stages.</param>
    public static ScoredAttempt Score(
        Track track,
        DrillTemplate template,
        ToleranceStandard standard,
        ScoringOptions options,
        Action<ScoringStage>? stage = null,
        CancellationToken cancellation = default) => throw new NotImplementedException();
}
