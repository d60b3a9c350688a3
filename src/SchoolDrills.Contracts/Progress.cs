using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Contracts;

/// <summary>A student's share of time in tolerance over attempts, by parameter.</summary>
/// <param name="Parameters">One for each parameter and group of like attempts, the newest group of a parameter first.</param>
public sealed record StudentProgress(Guid StudentId, string StudentName, IReadOnlyList<ParameterProgress> Parameters)
{
    /// <summary>How the student's own verdicts differ from the measured ones, by like attempts.</summary>
    public IReadOnlyList<Calibration> SelfAssessment { get; init; } = [];
}

/// <summary>How a student flies under load, by the newest 100 scored attempts.</summary>
/// <param name="StandardShare">Share of time in tolerance from which a drill is held.</param>
/// <param name="Attempts">Of these attempts, those on which notes were taken on board.</param>
public sealed record StudentLoad(Guid StudentId, string StudentName, double StandardShare, int Attempts, LoadProgress Load);

/// <summary>One parameter over like attempts.</summary>
/// <param name="StandardShare">Share the standard asks for.</param>
/// <param name="TrendPerAttempt">Change of share an attempt; null where none is claimed.</param>
/// <param name="Reason">Why no forecast is given.</param>
public sealed record ParameterProgress(
    Parameter Parameter,
    string Unit,
    IReadOnlyList<ProgressPoint> Points,
    double StandardShare,
    double? TrendPerAttempt,
    string? Reason
)
{
    /// <summary>What the attempts have in common.</summary>
    public required AttemptGroup Group { get; init; }

    /// <summary>80 % interval of the trend; null with too few attempts.</summary>
    public Interval? TrendInterval { get; init; }

    /// <summary>Attempts to the standard.</summary>
    public ProgressForecast? Forecast { get; init; }

    /// <summary>The same by kind of segment.</summary>
    public IReadOnlyList<KindProgress> Kinds { get; init; } = [];
}

/// <summary>One kind of segment over the attempts of its parameter.</summary>
/// <param name="TrendPerAttempt">Change of share an attempt; null where none is claimed.</param>
/// <param name="Reason">Why none is claimed.</param>
public sealed record KindProgress(SegmentKind SegmentKind, IReadOnlyList<ProgressPoint> Points, double? TrendPerAttempt, string? Reason);

/// <summary>One attempt: the share and its 80 % interval.</summary>
public sealed record ProgressPoint(Guid AttemptId, string DrillSlug, DateTimeOffset FlownOn, double WithinShare, double Lo, double Hi);

/// <summary>Attempts to the standard and their 80 % interval, whole attempts.</summary>
public sealed record ProgressForecast(int AttemptsToStandard, int Lo, int Hi);

/// <summary>A kind of segment on which a parameter was not met.</summary>
/// <param name="Level">Level of the drills, 1 to 5.</param>
/// <param name="NotMetShare">Estimated share not met now, 0 to 1.</param>
/// <param name="Lo">Lower bound of its 80 % interval.</param>
/// <param name="Hi">Upper bound.</param>
/// <param name="Recurring">Too often not met for chance.</param>
/// <param name="LastSeenOn">When one was last not met.</param>
public sealed record WeakSegmentSummary(
    SegmentKind SegmentKind,
    Parameter Parameter,
    int Level,
    int Attempts,
    double NotMetShare,
    double Lo,
    double Hi,
    bool Recurring,
    DateTimeOffset LastSeenOn,
    SegmentExample Example
)
{
    /// <summary>Drills in which such segments were flown.</summary>
    public required IReadOnlyList<string> DrillSlugs { get; init; }

    /// <summary>Aircraft flown; null where nobody said.</summary>
    public string? Aircraft { get; init; }

    /// <summary>Airspeed was recorded in the aircraft.</summary>
    public required bool HasAirData { get; init; }

    /// <summary>What was expected before the student flew.</summary>
    public required SchoolPrior Prior { get; init; }

    /// <summary>Why nothing is concluded.</summary>
    public string? Reason { get; init; }
}

/// <summary>A segment to look at.</summary>
/// <param name="SegmentIndex">Place in the drill, from 0.</param>
public sealed record SegmentExample(Guid AttemptId, int SegmentIndex);

/// <summary>A drill to fly next.</summary>
/// <param name="Why">The reason, in words.</param>
/// <param name="ExpectedMetShare">Share of its segments that the student is expected to meet.</param>
public sealed record NextDrillSuggestion(string DrillSlug, string Why, string DrillTitle, double ExpectedMetShare);

/// <summary>The school at a glance, for the chief: students by name, drills by title.</summary>
public sealed record SchoolOverview(IReadOnlyList<StudentOverview> Students, IReadOnlyList<DrillOverview> Drills)
{
    /// <summary>What was flown and graded in the days asked for.</summary>
    public SchoolPeriod? Period { get; init; }

    /// <summary>What waits for somebody now, whatever the days.</summary>
    public IReadOnlyList<AgeingWork> Ageing { get; init; } = [];

    /// <summary>The room for recordings.</summary>
    public SchoolStorage? Storage { get; init; }
}

/// <summary>Recordings that a school keeps, and what the operator lets it keep and send.</summary>
/// <param name="Bytes">As they are kept, compressed.</param>
/// <param name="MostBytes">Null where there is no limit.</param>
/// <param name="MostUploadsAnHour">Null where there is no limit.</param>
public sealed record SchoolStorage(long Bytes, long? MostBytes, int? MostUploadsAnHour);

/// <summary>One student's work.</summary>
/// <param name="Attempts">Scored attempts.</param>
/// <param name="NotYetFlown">Assignments without an attempt.</param>
/// <param name="Overdue">Of these, past their day.</param>
public sealed record StudentOverview(
    Guid StudentId,
    string StudentName,
    int Attempts,
    DateTimeOffset? LastFlownOn,
    int NotYetFlown,
    int Overdue
);

/// <summary>One drill as the school flies it.</summary>
/// <param name="Students">Students with a scored attempt.</param>
/// <param name="Attempts">Scored attempts.</param>
/// <param name="NotMet">Of these, not met.</param>
public sealed record DrillOverview(string DrillSlug, string DrillTitle, int Students, int Attempts, int NotMet);

/// <summary>How evenly the school grades.</summary>
/// <param name="Pairs">Instructors with the engine, then instructors with one another, each by name.</param>
public sealed record GradingAgreement(IReadOnlyList<AgreementOfTwo> Pairs);

/// <summary>Two who graded the same attempts.</summary>
/// <param name="SecondId">Null for the engine.</param>
/// <param name="Shared">Attempts that both graded.</param>
/// <param name="Kappa">Quadratic weighted kappa: 1 full agreement, 0 as by chance; null where it is not given.</param>
/// <param name="Lo">Lower bound of its 80 % interval.</param>
/// <param name="Hi">Upper bound.</param>
/// <param name="Reason">Why it is not given.</param>
public sealed record AgreementOfTwo(
    Guid FirstId,
    string FirstName,
    Guid? SecondId,
    string SecondName,
    int Shared,
    double? Kappa,
    double? Lo,
    double? Hi,
    string? Reason
)
{
    /// <summary>With the engine: this half-year's grades beside those of the one before.</summary>
    public GradingDrift? Drift { get; init; }
}
