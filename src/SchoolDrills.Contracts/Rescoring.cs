using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Contracts;

/// <summary>Which of the attempts that an older engine scored are scored anew; what is null does not narrow it.</summary>
/// <param name="EngineVersion">Scored with this one.</param>
/// <param name="FlownFrom">First day, at the school, on which it was flown.</param>
/// <param name="FlownTo">Last day.</param>
public sealed record RescoringChoice(
    string? EngineVersion = null,
    string? DrillSlug = null,
    Guid? StudentId = null,
    DateOnly? FlownFrom = null,
    DateOnly? FlownTo = null
);

/// <summary>Attempts that an older engine scored.</summary>
public sealed record OlderScores(string EngineVersion, int Attempts);

/// <summary>What there is to rescore, and the newest rescoring.</summary>
/// <param name="EngineVersion">Of the engine that scores now.</param>
/// <param name="WouldChoose">How many attempts the asked choice has.</param>
/// <param name="Older">By engine, the newest first.</param>
/// <param name="Newest">Running, ended or stopped; null where there was none.</param>
public sealed record RescoringStanding(
    string EngineVersion,
    int WouldChoose,
    IReadOnlyList<OlderScores> Older,
    RescoringProgress? Newest = null
);

/// <summary>How far a rescoring is.</summary>
/// <param name="StartedBy">Name; null where whoever looks after the server started it.</param>
/// <param name="Done">Failed ones too.</param>
/// <param name="Changed">Of the done, those whose verdict or share reads differently now.</param>
/// <param name="EndedAtUtc">Null while it runs.</param>
/// <param name="StoppedBy">Who stopped it before its end.</param>
public sealed record RescoringProgress(
    Guid Id,
    DateTimeOffset StartedAtUtc,
    string? StartedBy,
    RescoringChoice Choice,
    int Chosen,
    int Done,
    int Changed,
    int Failed,
    DateTimeOffset? EndedAtUtc = null,
    string? StoppedBy = null
);

/// <summary>An attempt whose score reads differently since it was rescored, or that could not be rescored and keeps its score.</summary>
/// <param name="Failure">Why it could not be.</param>
/// <param name="Graded">A grade was signed; it stays, with the report it was given against.</param>
public sealed record RescoredAttempt(
    Guid AttemptId,
    string StudentName,
    string DrillTitle,
    DateTimeOffset FlownAtUtc,
    string? EngineBefore,
    Verdict? VerdictBefore,
    double? WithinShareBefore,
    Verdict? VerdictNow,
    double? WithinShareNow,
    bool Graded,
    string? Failure = null
);

/// <summary>A page of what the newest rescoring changed, what failed first.</summary>
public sealed record RescoredPage(IReadOnlyList<RescoredAttempt> Items, int Page, int PageSize, int Total);
