using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Contracts;

/// <summary>A line of the catalogue.</summary>
/// <param name="State"><c>draft</c>, <c>published</c> or <c>retired</c>.</param>
/// <param name="Level">Difficulty, 1 to 5.</param>
public sealed record DrillSummary(
    string Slug,
    int Version,
    string Title,
    string Purpose,
    double DurationS,
    int SegmentCount,
    int Level,
    string State,
    string StandardSlug
)
{
    /// <summary>What keeps a draft from being flown, counted; its duration, segments and level are then 0.</summary>
    public int Problems { get; init; }

    /// <summary>The kinds of its segments, each once.</summary>
    public IReadOnlyList<SegmentKind> Kinds
    {
        get => field ?? [];
        init;
    }

    /// <summary>Checks or load tasks run on top of the flying.</summary>
    public bool LoadOnTop { get; init; }

    /// <summary>It has turns, which can be flown at half rate.</summary>
    [JsonIgnore]
    public bool Turns => Kinds.Any(k => k is SegmentKind.LevelTurn or SegmentKind.ClimbTurn or SegmentKind.DescendTurn);
}

/// <summary>A drill's draft.</summary>
/// <param name="Revision">Counts its saves; what <c>If-Match</c> names.</param>
/// <param name="SavedBy">Name of who saved it; empty where that is not known.</param>
/// <param name="Problems">What keeps it from being published, one sentence each.</param>
/// <param name="BasedOnVersion">The newest version when it was begun, 0 where there was none.</param>
public sealed record DrillDraft(
    DrillTemplate Template,
    int Revision,
    DateTimeOffset SavedAtUtc,
    string SavedBy,
    IReadOnlyList<string> Problems,
    int BasedOnVersion
);

/// <summary>A draft that was saved over or discarded.</summary>
/// <param name="ReplacedAtUtc">When; it stays for 30 days from then.</param>
/// <param name="ReplacedBy">Name of who did it.</param>
/// <param name="Discarded">It was discarded rather than saved over.</param>
public sealed record DraftRevisionSummary(
    int Revision,
    DateTimeOffset SavedAtUtc,
    string SavedBy,
    DateTimeOffset ReplacedAtUtc,
    string ReplacedBy,
    bool Discarded
);

/// <summary>Asks how a draft would judge an attempt that is stored.</summary>
public sealed record TryDraft(Guid AttemptId);

/// <summary>A drill with everything that is known of it.</summary>
public sealed record DrillDetail(DrillSummary Summary, DrillTemplate Template);

/// <summary>Path of a drill over still air, for drawing it: metres east and north of the entry, one column a quantity.</summary>
public sealed record DrillPicture(double[] TimeS, double[] EastM, double[] NorthM, double[] AltitudeFt, int[] SegmentIndex);
