using System.Text.Json.Serialization;

namespace SchoolDrills.Engine.Drills;

/// <summary>
/// A drill as data: an ordered list of segments with checks and load tasks. This record is the wire JSON, the stored JSON and what the
/// engine resolves.
/// </summary>
/// <remarks>
/// The JSON source generator ignores defaults of init-only members, so here and below a default is either a constructor parameter's
/// or restored in <c>init</c>.
/// </remarks>
/// <param name="SchemaVersion">Version of this JSON form.</param>
public sealed record DrillTemplate(int SchemaVersion = 1)
{
    /// <summary>Name in addresses, lower case with hyphens.</summary>
    public required string Slug { get; init; }

    /// <summary>Published version, 0 for a draft.</summary>
    public int Version { get; init; }

    /// <summary>Title an instructor recognises.</summary>
    public required string Title { get; init; }

    /// <summary>What the drill is for, one or two sentences.</summary>
    public required string Purpose { get; init; }

    /// <summary>What it trains in the scan.</summary>
    public string? Trains { get; init; }

    /// <summary>Drills or skills to have first.</summary>
    public IReadOnlyList<string> Prerequisites
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Errors an instructor should expect.</summary>
    public IReadOnlyList<string> CommonErrors
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Where the pattern and its numbers come from.</summary>
    public IReadOnlyList<string> Sources
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Standard judged against unless the assignment says otherwise.</summary>
    public required string StandardSlug { get; init; }

    /// <summary>Entry used where none is given.</summary>
    public required DrillEntry Entry { get; init; }

    /// <summary>The segments in order, repetitions not yet expanded.</summary>
    public required IReadOnlyList<Segment> Segments { get; init; }

    /// <summary>Flow checks and checklists on a timetable.</summary>
    public IReadOnlyList<Check> Checks
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Load tasks on a timetable.</summary>
    public IReadOnlyList<LoadTask> LoadTasks
    {
        get;
        init => field = value ?? [];
    } = [];
}

/// <summary>
/// One flown phase: hold, turn, climb, descend or change speed, alone or together, ended by time, by heading or by altitude. With
/// <see cref="Repeat"/> and <see cref="Segments"/> it is instead a group flown several times.
/// </summary>
public sealed record Segment
{
    /// <summary>Name an instructor uses; of a group, a prefix such as "Side".</summary>
    public string Name
    {
        get;
        init => field = value ?? "";
    } = "";

    /// <summary>Length, seconds; may be omitted where a turn or a change of altitude sets it.</summary>
    public double? DurationS { get; init; }

    /// <summary>Signed heading change, degrees, right positive.</summary>
    public double? TurnDeg { get; init; }

    /// <summary>Rate of turn, degrees per second, without sign; 3 where a turn gives none.</summary>
    public double? TurnRateDegPerS { get; init; }

    /// <summary>Signed change of altitude, feet, up positive.</summary>
    public double? ClimbFt { get; init; }

    /// <summary>Vertical speed, feet per minute, without sign; 500 where a change of altitude gives none.</summary>
    public double? VerticalSpeedFpm { get; init; }

    /// <summary>Change of indicated airspeed over the segment, knots.</summary>
    public double? SpeedChangeKt { get; init; }

    /// <summary>Tolerances for this segment alone.</summary>
    public IReadOnlyList<Tolerance> Tolerances
    {
        get;
        init => field = value ?? [];
    } = [];

    /// <summary>Times the group below is flown.</summary>
    public int? Repeat { get; init; }

    /// <summary>The group.</summary>
    public IReadOnlyList<Segment> Segments
    {
        get;
        init => field = value ?? [];
    } = [];
}

/// <summary>What kind of check.</summary>
[JsonConverter(typeof(KebabCase<CheckKind>))]
public enum CheckKind
{
    /// <summary>Done from memory, by position in the cockpit.</summary>
    Flow,

    /// <summary>Read and verified.</summary>
    Checklist,
}

/// <summary>A group of items to be done within a time window.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Kind">Flow or checklist.</param>
/// <param name="Items">The items in order.</param>
/// <param name="FromS">Window opens, seconds from the drill's start.</param>
/// <param name="WindowS">How long it stays open, seconds.</param>
public sealed record Check(string Name, CheckKind Kind, IReadOnlyList<string> Items, double FromS, double WindowS);

/// <summary>A task given to the pilot in flight.</summary>
/// <param name="Name">Short name.</param>
/// <param name="Script">The words the instructor says.</param>
/// <param name="AtS">When, seconds from the drill's start.</param>
/// <param name="ExpectedAnswer">The right answer where there is one.</param>
public sealed record LoadTask(string Name, string Script, double AtS, string? ExpectedAnswer = null);
