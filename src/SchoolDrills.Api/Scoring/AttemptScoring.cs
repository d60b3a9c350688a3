using SchoolDrills.Api.Attempts;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Scoring;

/// <summary>What was entered with an upload, and what an assignment sets, as the engine takes it.</summary>
internal static class AttemptScoring
{
    /// <summary>Limits of the contract: 256 MiB inflated, 500,000 samples.</summary>
    public static readonly TrackReadOptions Limits = new() { MaxInflatedBytes = 256L << 20, MaxSamples = 500_000 };

    /// <summary>Marks of one flight: more than any instructor sets, so that an attempt cannot be filled up without end.</summary>
    public const int MaxEvents = 500;

    /// <summary>Largest upload as sent.</summary>
    public const long MaxRawBytes = 64L << 20;

    /// <summary>How a recording is read, with what was said of its columns.</summary>
    public static TrackReadOptions Reading(AttemptMeta meta) =>
        Limits with
        {
            ColumnMapping = meta.Columns,
            ColumnMappingIsRemembered = meta.ColumnsRemembered is true,
        };

    public static ScoringOptions Options(AttemptMeta meta, AssignmentOverrides? overrides) =>
        new()
        {
            QnhHpa = meta.QnhHpa,
            OutsideAirTemperatureC = meta.OatC,
            WindFromDegTrue = meta.WindFromDegTrue,
            WindKt = meta.WindKt,
            HeadingMagDeg = meta.HeadingMagDeg ?? overrides?.HeadingMagDeg,
            AltitudeFt = meta.AltitudeFt ?? overrides?.AltitudeFt,
            AirspeedKt = meta.AirspeedKt ?? overrides?.AirspeedKt,
            Mirrored = meta.Mirrored ?? overrides?.Mirrored,
            HalfRate = overrides?.HalfRate,
        };

    /// <summary>The same with what an instructor set by hand.</summary>
    public static ScoringOptions With(ScoringOptions entered, AttemptCorrection correction) =>
        entered with
        {
            QnhHpa = correction.QnhHpa ?? entered.QnhHpa,
            WindFromDegTrue = correction.WindFromDegTrue ?? entered.WindFromDegTrue,
            WindKt = correction.WindKt ?? entered.WindKt,
            Corrections = correction.ByHand.IsEmpty ? null : correction.ByHand,
        };

    /// <summary>What is impossible in what was entered, one sentence; null when nothing is.</summary>
    public static string? Problem(AttemptMeta meta)
    {
        // Whatever is not within, since JSON can also say that a number is none.
        if (meta.QnhHpa is not (null or (>= 850 and <= 1090)))
            return $"qnhHpa is {meta.QnhHpa}, which is no altimeter setting: give hectopascals between 850 and 1090.";
        if (meta.OatC is not (null or (>= -80 and <= 60)))
            return $"oatC is {meta.OatC}: give degrees Celsius between −80 and 60.";
        if (meta.WindKt is not (null or (>= 0 and <= 250)))
            return $"windKt is {meta.WindKt}: give knots between 0 and 250.";
        if (meta.WindFromDegTrue is not (null or (>= 0 and <= 360)))
            return $"windFromDegTrue is {meta.WindFromDegTrue}: give degrees between 0 and 360.";
        if (meta.WindFromDegTrue is null != meta.WindKt is null)
            return "Give both windFromDegTrue and windKt, or neither.";
        if (meta.HeadingMagDeg is not (null or (>= 0 and <= 360)))
            return $"headingMagDeg is {meta.HeadingMagDeg}: give degrees between 0 and 360.";
        if (meta.AltitudeFt is not (null or (>= -2_000 and <= 50_000)))
            return $"altitudeFt is {meta.AltitudeFt}: give feet between −2,000 and 50,000.";
        if (meta.AirspeedKt is not (null or (>= 20 and <= 500)))
            return $"airspeedKt is {meta.AirspeedKt}: give knots between 20 and 500.";
        if (meta.Aircraft?.Length > 100)
            return "aircraft is the slug of one of the school's profiles, at most 100 characters.";
        if (Problem(meta.Columns) is { } columns)
            return columns;
        if (meta.LoadRatings?.Any(r => r is < 1 or > 5) is true)
            return "loadRatings are numbers from 1 to 5.";
        if (meta.LoadRatings?.Count > 100)
            return "loadRatings are at most a hundred.";
        if (meta.Events?.Count > MaxEvents)
            return $"events are at most {MaxEvents}.";
        if (meta.Events?.Any(e => e is null || string.IsNullOrWhiteSpace(e.Kind) || e.Kind.Length > 60 || e.Detail?.Length > 2_000) is true)
            return "Each of events needs a kind of at most 60 characters and may have a detail of at most 2,000.";
        return null;
    }

    /// <summary>What is amiss with the form of a mapping; whether it fits the header is the reader's to say.</summary>
    public static string? Problem(IReadOnlyDictionary<string, ColumnChoice>? columns)
    {
        if (columns?.Count > 100)
            return "columns may map at most a hundred quantities.";
        return
            columns?.FirstOrDefault(c =>
                string.IsNullOrWhiteSpace(c.Value?.Column) || c.Value.Column.Length > 200 || c.Value.Unit?.Length > 20
            )
                is { Key: { } name }
            ? $"columns.{name} needs the name of a column, or none, and may have a unit."
            : null;
    }

    /// <summary>The standard to judge by: the assignment's, else the drill's.</summary>
    public static string StandardSlug(DrillTemplate template, AssignmentOverrides? overrides) =>
        overrides?.StandardSlug ?? template.StandardSlug;
}
