using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Storage;

/// <summary>Who was signed in when this device last reached the school, and when that was.</summary>
public sealed record StoredPerson(Guid Id, string DisplayName, IReadOnlyList<string> Phrases, DateTimeOffset FetchedAtUtc);

/// <summary>An assignment with all that is needed to fly and score it with no network.</summary>
public sealed record StoredWork(AssignmentSummary Assignment, DrillTemplate Template, ToleranceStandard Standard)
{
    /// <summary>The drill as this student is to fly it.</summary>
    public DrillTimeline Timeline() => DrillTimeline.Resolve(Template, Template.EntryWith(Assignment.Overrides));
}

/// <summary>One flight, from opening the page for it until the landing; several drills may be flown in it.</summary>
/// <param name="PersonId">Who noted it: nobody else's session sends it.</param>
/// <param name="ClockAheadS">This device's clock ahead of the server's when it was last compared; null where it never was.</param>
public sealed record StoredFlight(Guid Id, Guid PersonId, DateTimeOffset StartedAtUtc, bool Recorded, double? ClockAheadS)
{
    public DateTimeOffset? EndedAtUtc { get; init; }
}

/// <summary>One run of a drill in a flight.</summary>
public sealed record StoredLog(Guid Id, Guid FlightId, Guid AssignmentId, string DrillTitle, string StudentName, DateTimeOffset OpenedAtUtc)
{
    /// <summary>When the drill's clock was started, by this device's clock.</summary>
    public DateTimeOffset? StartedAtUtc { get; init; }

    public DateTimeOffset? EndedAtUtc { get; init; }

    /// <summary>Rises with every change.</summary>
    public int Version { get; init; }
}

/// <summary>What the server has of a log, and what was made of it. Apart from the log, which is written while it is being sent.</summary>
/// <param name="Id">The log's.</param>
public sealed record StoredSending(Guid Id)
{
    /// <summary>The version of the log that the server has.</summary>
    public int Version { get; init; }

    /// <summary>Why the server did not take the marks; they are sent again when asked.</summary>
    public string? Refused { get; init; }

    /// <summary>The attempt that the marks belong to.</summary>
    public Guid? AttemptId { get; init; }

    /// <summary>The server has this device's recording.</summary>
    public bool RecordingSent { get; init; }

    /// <summary>Why the server did not take the recording.</summary>
    public string? RecordingRefused { get; init; }

    /// <summary>What the device made of the flight by itself, or the server's report in its place.</summary>
    public ScoreReport? Report { get; init; }

    /// <summary>The report is the server's.</summary>
    public bool ReportIsServers { get; init; }
}

/// <summary>A mark: what happened, when, by this device's clock.</summary>
/// <param name="Number">From 1, in the order made.</param>
public sealed record StoredMark(Guid Id, Guid LogId, int Number, string Kind, DateTimeOffset AtUtc, string? Detail, bool Undone = false);

/// <summary>How the page looks and sounds, as set on this device.</summary>
/// <param name="CueLeadS">Seconds ahead of a segment that it is called.</param>
/// <param name="StartInS">Seconds from the tap to the start of the clock; 0 starts at the tap.</param>
/// <param name="Look"><c>day</c>, <c>sun</c> or <c>night</c>.</param>
public sealed record CockpitSettings(
    int CueLeadS = 10,
    int StartInS = 10,
    bool Tone = true,
    bool Voice = false,
    bool Record = true,
    string Look = "day"
);
