using System.Text.Json.Serialization;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>
/// Corrects what the engine found by itself. Every request holds all corrections, so that what it does not
/// mention is the engine's own again.
/// </summary>
/// <param name="Segments">Segments with a moved start or end; the others keep the engine's.</param>
/// <param name="Excluded">Stretches that are not judged, each with its reason.</param>
/// <param name="Run">Which of the report's <c>runs</c> to score, where the drill was flown more than once.</param>
/// <param name="QnhHpa">Altimeter setting instead of the one given with the upload, hPa.</param>
/// <param name="WindFromDegTrue">Wind instead of the one given with the upload, from, degrees true.</param>
/// <param name="WindKt">Its speed, knots.</param>
/// <param name="Reason">Why, in the instructor's words.</param>
/// <param name="Revision">
/// The attempt's revision this was written over; a change made by someone else since then is not overwritten. When null, it is not checked.
/// </param>
public sealed record PutBoundaries(
    IReadOnlyList<ManualBoundary>? Segments = null,
    [property: JsonPropertyName("leftOut")] IReadOnlyList<ExcludedStretch>? Excluded = null,
    int? Run = null,
    double? QnhHpa = null,
    double? WindFromDegTrue = null,
    double? WindKt = null,
    string? Reason = null,
    int? Revision = null
);

/// <summary>
/// Chooses one of the report's readings. A stretch left out, a setting or a wind set by hand stay; boundaries belong to the reading in
/// which they were moved, and do not.
/// </summary>
/// <param name="Index">Place in the report's <c>readings</c>, from 0.</param>
/// <param name="Reason">Why, in the instructor's words.</param>
/// <param name="Revision">As for boundaries.</param>
public sealed record PutReading(int Index, string? Reason = null, int? Revision = null);

/// <summary>Manual corrections: the current one, and all before it, newest first.</summary>
/// <param name="Revision">The attempt's, to be sent back with the next change.</param>
/// <param name="Standing">The current one; null where the engine's own boundaries apply.</param>
public sealed record BoundariesView(int Revision, CorrectionView? Standing, IReadOnlyList<CorrectionView> History);

/// <summary>One correction as it was made, or its undoing.</summary>
/// <param name="Undone">Back to the engine's own.</param>
public sealed record CorrectionView(
    int Revision,
    Guid PersonId,
    string PersonName,
    DateTimeOffset AtUtc,
    string? Reason,
    bool Undone,
    IReadOnlyList<ManualBoundary> Segments,
    [property: JsonPropertyName("leftOut")] IReadOnlyList<ExcludedStretch> Excluded,
    int? Run,
    double? QnhHpa,
    double? WindFromDegTrue,
    double? WindKt
);
