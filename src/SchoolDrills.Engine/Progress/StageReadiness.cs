using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>A stage of a school's training, as its chief defines it.</summary>
/// <param name="Slug">Name in addresses; stays when the title is changed.</param>
/// <param name="Title">Name in sentences.</param>
/// <param name="Drills">Drills that have to be met.</param>
public sealed record TrainingStage(string Slug, string Title, IReadOnlyList<StageDrill> Drills);

/// <summary>A drill that a stage asks for.</summary>
/// <param name="DrillSlug">The drill, in whatever version.</param>
/// <param name="Met">How many of the newest attempts have to be met.</param>
/// <param name="Newest">How many of the newest attempts count.</param>
public sealed record StageDrill(string DrillSlug, int Met, int Newest);

/// <summary>An attempt as evidence for a stage.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="DrillSlug">Drill flown.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="Verdict">Of the newest report.</param>
/// <param name="Graded">An instructor signed a grade of it.</param>
public sealed record StageAttempt(Guid AttemptId, string DrillSlug, DateTimeOffset FlownAtUtc, Verdict Verdict, bool Graded);

/// <summary>A drill of a stage with a student's newest attempts at it.</summary>
/// <param name="Drill">What is asked for.</param>
/// <param name="Evidence">The newest attempts that count, newest first.</param>
/// <param name="Met">How many of them are met.</param>
/// <param name="Missing">What is missing, in words; null where nothing is.</param>
public sealed record DrillReadiness(StageDrill Drill, IReadOnlyList<StageAttempt> Evidence, int Met, string? Missing)
{
    /// <summary>Whether enough of the newest attempts are met.</summary>
    public bool Ready => Missing is null;

    /// <summary>Where a student stands with one drill.</summary>
    /// <param name="drill">What is asked for.</param>
    /// <param name="attempts">The student's attempts at it, in any order.</param>
    public static DrillReadiness Of(StageDrill drill, IEnumerable<StageAttempt> attempts)
    {
        var newest = attempts.OrderByDescending(a => a.FlownAtUtc).ThenByDescending(a => a.AttemptId).Take(drill.Newest).ToList();
        var met = newest.Count(a => a.Verdict == Verdict.Met);
        return new(drill, newest, met, MissingOf(drill, newest.Count, met));
    }

    private static string? MissingOf(StageDrill drill, int flown, int met) =>
        met >= drill.Met ? null
        : flown == 0 ? $"not flown yet; {drill.Met} of the last {drill.Newest} have to be met"
        : $"{met} of the last {flown} met; {drill.Met} of the last {drill.Newest} have to be";
}

/// <summary>
/// Where a student stands in the school's stages: the first stage of which something is missing, or the last one where nothing is.
/// It says what the evidence is; whether a student moves on is for people to decide.
/// </summary>
/// <param name="Stage">That stage; null where the school has none.</param>
/// <param name="Drills">Its drills, in their order.</param>
/// <param name="Ready">Nothing is missing in this stage, nor in any before it.</param>
public sealed record StageReadiness(TrainingStage? Stage, IReadOnlyList<DrillReadiness> Drills, bool Ready)
{
    /// <summary>Where a student stands.</summary>
    /// <param name="stages">The school's stages, in their order.</param>
    /// <param name="attempts">The student's scored attempts, in any order.</param>
    public static StageReadiness Of(IReadOnlyList<TrainingStage> stages, IEnumerable<StageAttempt> attempts)
    {
        var flown = attempts.ToLookup(a => a.DrillSlug);
        IReadOnlyList<DrillReadiness> drills = [];
        foreach (var stage in stages)
        {
            drills = [.. stage.Drills.Select(d => DrillReadiness.Of(d, flown[d.DrillSlug]))];
            if (drills.Any(d => !d.Ready))
                return new(stage, drills, false);
        }

        return new(stages.Count > 0 ? stages[^1] : null, drills, stages.Count > 0);
    }
}
