using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What an instructor corrected in what the engine found by itself.</summary>
/// <param name="Boundaries">Segments with their times as the instructor sees them; segments not listed keep the engine's.</param>
/// <param name="Excluded">Stretches that are not judged, such as traffic avoided.</param>
/// <param name="Run">
/// Which run of the drill to score, by its place in <see cref="ScoreReport.Runs"/>; the engine's choice when null.
/// </param>
public sealed record ManualCorrections(
    IReadOnlyList<ManualBoundary>? Boundaries = null,
    [property: JsonPropertyName("leftOut")] IReadOnlyList<ExcludedStretch>? Excluded = null,
    int? Run = null
)
{
    /// <summary>Nothing is corrected.</summary>
    public bool IsEmpty => Boundaries is not { Count: > 0 } && Excluded is not { Count: > 0 } && Run is null;
}

/// <summary>The times of one segment as an instructor set them.</summary>
/// <param name="Index">The segment, from 0.</param>
/// <param name="StartUtc">Its start, and so the end of the one before; the engine's when null.</param>
/// <param name="EndUtc">Its end, and so the start of the next; the engine's when null.</param>
public sealed record ManualBoundary(int Index, DateTimeOffset? StartUtc = null, DateTimeOffset? EndUtc = null);

/// <summary>A stretch of the drill that is not judged.</summary>
/// <param name="StartUtc">From.</param>
/// <param name="EndUtc">To.</param>
/// <param name="Reason">Why, in the instructor's words.</param>
public sealed record ExcludedStretch(DateTimeOffset StartUtc, DateTimeOffset EndUtc, string Reason);
