using System.Text.Json.Serialization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Contracts;

/// <summary>What is entered with an upload; every field may be left out.</summary>
public sealed record AttemptMeta
{
    /// <summary>Drill slug, for an attempt without an assignment.</summary>
    public string? Drill { get; init; }

    /// <summary>Whose attempt, for one without an assignment; the signed-in student otherwise.</summary>
    public Guid? StudentId { get; init; }

    /// <summary>Day it was flown, in the school's zone.</summary>
    public DateOnly? FlownOn { get; init; }

    /// <summary>Slug of the school's aircraft profile it was flown in; the assignment's otherwise.</summary>
    public string? Aircraft { get; init; }

    /// <summary>Altimeter setting, hPa.</summary>
    public double? QnhHpa { get; init; }

    /// <summary>Outside air temperature, Celsius.</summary>
    public double? OatC { get; init; }

    /// <summary>Wind from, degrees true.</summary>
    public double? WindFromDegTrue { get; init; }

    /// <summary>Wind speed, knots.</summary>
    public double? WindKt { get; init; }

    /// <summary>Entry heading, degrees magnetic.</summary>
    public double? HeadingMagDeg { get; init; }

    /// <summary>Entry altitude, feet indicated.</summary>
    public double? AltitudeFt { get; init; }

    /// <summary>Airspeed to hold, knots indicated.</summary>
    public double? AirspeedKt { get; init; }

    /// <summary>Left and right exchanged.</summary>
    public bool? Mirrored { get; init; }

    /// <summary>What happened on board.</summary>
    public IReadOnlyList<AttemptEvent>? Events { get; init; }

    /// <summary>The student's own load ratings, 1 to 5, in the order asked.</summary>
    public IReadOnlyList<int>? LoadRatings { get; init; }

    /// <summary>
    /// Which column of a CSV holds which quantity, where the names in its header do not tell; see <see cref="AttemptColumns"/>.
    /// </summary>
    public IReadOnlyDictionary<string, ColumnChoice>? Columns { get; init; }

    /// <summary>The school is to take the same header so from now on.</summary>
    public bool? RememberColumns { get; init; }

    /// <summary>The columns were not given with this upload: the school remembered them. Set by the server.</summary>
    public bool? ColumnsRemembered { get; init; }
}

/// <summary>Something that happened on board: a check ticked, a load task given, relief used, a mark.</summary>
public sealed record AttemptEvent(Guid Id, string Kind, DateTimeOffset AtUtc, string? Detail = null);

/// <summary>The columns of an attempt's CSV and what they were taken as.</summary>
/// <param name="Columns">In the order of the header; none for other formats.</param>
/// <param name="Mapping">
/// What was set by hand or remembered: quantity (<see cref="ColumnQuantity"/>) to column; empty where the names said it.
/// </param>
/// <param name="Remembered">The mapping is the school's for this header, not set for this attempt.</param>
/// <param name="MayChange">Whether who asks may set them.</param>
public sealed record AttemptColumns(
    IReadOnlyList<HeaderColumn> Columns,
    IReadOnlyDictionary<string, ColumnChoice> Mapping,
    bool Remembered,
    bool MayChange
);

/// <summary>Sets the columns of an attempt's CSV; it is then read and re-scored.</summary>
/// <param name="Columns">Quantity to column; an empty one goes back to what the names tell.</param>
/// <param name="Remember">The school is to take the same header so from now on.</param>
public sealed record SetColumns(IReadOnlyDictionary<string, ColumnChoice> Columns, bool Remember = false);

/// <summary>Answer to an upload.</summary>
public sealed record AttemptAccepted(Guid AttemptId, AttemptStatus Status);

/// <summary>Where scoring stands.</summary>
[JsonConverter(typeof(Engine.KebabCase<AttemptStatus>))]
public enum AttemptStatus
{
    Queued,
    Scoring,
    Scored,
    Unscorable,
}

/// <summary>An attempt in a list, with what the segment ribbon needs.</summary>
/// <param name="GradeState"><c>none</c>, <c>draft</c>, <c>signed</c> or <c>acknowledged</c>.</param>
public sealed record AttemptSummary(
    Guid AttemptId,
    Guid? AssignmentId,
    Guid StudentId,
    string StudentName,
    DrillReference Drill,
    string DrillTitle,
    AttemptStatus Status,
    string? Reason,
    DateTimeOffset UploadedAtUtc,
    DateTimeOffset? FlownAtUtc,
    double? WithinShare,
    Verdict? Verdict,
    string GradeState,
    IReadOnlyList<RibbonSegment> Ribbon
)
{
    /// <summary>Slug of the overall grade as signed last; null where none is signed.</summary>
    public string? Grade { get; init; }
}

/// <summary>One segment of the ribbon: as wide as its time, with its mark and its worst deviation.</summary>
/// <param name="TurnDeg">Signed heading change, degrees, right positive; null where not known.</param>
public sealed record RibbonSegment(
    int Index,
    string Name,
    SegmentKind Kind,
    double DurationS,
    Verdict Verdict,
    string? Worst,
    double? TurnDeg = null
);

/// <summary>An attempt with all that is known of it.</summary>
/// <param name="QueuePosition">Attempts to be scored before this one, while queued.</param>
public sealed record AttemptDetail(
    Guid AttemptId,
    Guid? AssignmentId,
    Guid StudentId,
    string StudentName,
    DrillReference Drill,
    string DrillTitle,
    AttemptStatus Status,
    string? Reason,
    int? QueuePosition,
    DateTimeOffset UploadedAtUtc,
    string UploadedBy,
    string FileName,
    long FileBytes,
    string Sha256,
    AttemptMeta Meta,
    ScoreReport? Score,
    GradeView? Grade,
    IReadOnlyList<AttemptEvent> Events,
    IReadOnlyList<int> LoadRatings
)
{
    /// <summary>
    /// What the worker is doing, while scoring: <c>reading</c>, <c>cleaning</c>, <c>reconstructing</c>, <c>aligning</c> or
    /// <c>judging</c>.
    /// </summary>
    public string? Stage { get; init; }

    /// <summary>Rises with every change of what the attempt is scored with; sent back with corrections.</summary>
    public int Revision { get; init; }

    /// <summary>The report that <c>score</c> is.</summary>
    public Guid? ReportId { get; init; }

    /// <summary>The engine's own report, where <c>score</c> was made with corrections by hand.</summary>
    public ScoreReport? EngineScore { get; init; }

    /// <summary>What was set by hand, newest first.</summary>
    public IReadOnlyList<CorrectionView> Corrections
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>
    /// Every load rating with who said it; <c>loadRatings</c> are the student's own, and what others noted where he gave none.
    /// </summary>
    public IReadOnlyList<SaidLoad> SaidLoad
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>What the student thought of it; null before.</summary>
    public SelfAssessmentView? SelfAssessment { get; init; }

    /// <summary>What the attempt can be laid over.</summary>
    public IReadOnlyList<ComparedWith> ComparableWith
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>What holds of the corrections; null where the engine's own boundaries do.</summary>
    [JsonIgnore]
    public CorrectionView? StandingCorrection => Corrections is [{ Undone: false } standing, ..] ? standing : null;

    /// <summary>A score is there and a newer one on its way.</summary>
    [JsonIgnore]
    public bool IsRescoring => Score is { Found: true } && Status is AttemptStatus.Queued or AttemptStatus.Scoring;
}

/// <summary>A report of which nothing is kept, with the columns for its plots.</summary>
public sealed record ScoredPreview(ScoreReport Report, TrackColumns Track);

/// <summary>Attempts, newest first.</summary>
/// <param name="Total">How many there are on all pages; of many no more than a thousand beyond this page are counted.</param>
/// <param name="More">Whether there are more than were counted.</param>
public sealed record AttemptPage(IReadOnlyList<AttemptSummary> Items, int Page, int PageSize, int Total, bool More = false);

/// <summary>Saves a grade as a draft, or signs it.</summary>
/// <param name="Overall">A word of the school's scale, by slug; a draft may still lack it.</param>
/// <param name="Revision">
/// Revision of the draft this was written over, 0 where none was seen. A draft saved by someone else since is then not overwritten.
/// </param>
public sealed record SaveGrade(string? Overall, IReadOnlyList<SegmentGrade> Segments, string? Comment, bool Sign, uint? Revision = null);

/// <summary>An amendment of a signed grade: the signed one stays as it is.</summary>
public sealed record AmendGrade(string Overall, IReadOnlyList<SegmentGrade> Segments, string? Comment, string Reason);

/// <summary>The student's answer to a signed grade.</summary>
public sealed record AcknowledgeGrade(string? Reply = null);

/// <summary>Grade of one segment.</summary>
/// <param name="Grade">A word of the school's scale, by slug; empty where there is a comment alone.</param>
public sealed record SegmentGrade(int Index, string Grade, string? Comment = null);

/// <summary>A grade as it stands.</summary>
public sealed record GradeView(
    Guid Id,
    string Overall,
    string? Comment,
    IReadOnlyList<SegmentGrade> Segments,
    Guid InstructorId,
    string InstructorName,
    DateTimeOffset SavedAtUtc,
    DateTimeOffset? SignedAtUtc,
    DateTimeOffset? AcknowledgedAtUtc,
    string? StudentReply,
    string? AmendmentReason,
    IReadOnlyList<GradeView> Earlier,
    uint Revision = 0
)
{
    /// <summary>The report it was signed against; null for a draft.</summary>
    public Guid? ReportId { get; init; }
}

/// <summary>The grade as it stands, for who keeps an eye on it; null where there is none.</summary>
public sealed record GradeStanding(GradeView? Grade);

/// <summary>An event as a device sends it.</summary>
public sealed record PutEvent(string Kind, DateTimeOffset AtUtc, string? Detail = null);

/// <summary>A load rating as a device sends it, 1 to 5.</summary>
public sealed record PutLoadRating(int Rating);
