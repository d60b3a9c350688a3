using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>A tolerance standard in the line of its editions, and where it is in use.</summary>
/// <param name="Line">Slug of the first edition.</param>
/// <param name="Edition">1 for the first edition, one more for each after.</param>
/// <param name="SupersededBy">Slug of the next edition; null for the newest.</param>
/// <param name="RetiredAtUtc">No longer offered from then on; null while it is.</param>
/// <param name="Drills">Published drills whose newest version is judged by it.</param>
/// <param name="OpenAssignments">Assignments to fly that will be judged by it, of the students that the asker sees.</param>
/// <param name="Attempts">Attempts judged by it, of the same.</param>
public sealed record StandardEdition(
    ToleranceStandard Standard,
    string Line,
    int Edition,
    string? SupersededBy,
    DateTimeOffset? RetiredAtUtc,
    IReadOnlyList<DrillUse> Drills,
    int OpenAssignments,
    int Attempts
);

/// <summary>One version of an aircraft profile.</summary>
/// <param name="SavedAtUtc">Null for what the school started with.</param>
/// <param name="SavedBy">Name of who saved it; empty where nobody did.</param>
/// <param name="RetiredAtUtc">Of the newest version: the type is no longer offered.</param>
/// <param name="OpenAssignments">Assignments to fly for which the type is set, of the students that the asker sees.</param>
/// <param name="Attempts">Attempts flown in the type, of the same.</param>
public sealed record AircraftVersion(
    AircraftProfile Profile,
    int Version,
    DateTimeOffset? SavedAtUtc,
    string SavedBy,
    DateTimeOffset? RetiredAtUtc,
    int OpenAssignments,
    int Attempts
);

/// <summary>A published drill that uses something.</summary>
public sealed record DrillUse(string Slug, int Version, string Title);

/// <summary>Judges drills by a standard from their next version on.</summary>
/// <param name="Drills">Their slugs.</param>
public sealed record UseStandard(IReadOnlyList<string> Drills);
