using System.Text.Json.Serialization;

namespace SchoolDrills.Contracts;

/// <summary>
/// What a device noted of one flight of an assignment, whole each time it is sent: an event that is missing was taken back. All times
/// are by the device's own clock.
/// </summary>
public sealed record PutFlightLog
{
    /// <summary>When the clock of the drill was started; null where it was not.</summary>
    public DateTimeOffset? StartedAtUtc { get; init; }

    /// <summary>When it was stopped.</summary>
    public DateTimeOffset? EndedAtUtc { get; init; }

    /// <summary>
    /// Device's clock minus server's, seconds, as the device measured it when it last reached the server before the drill; null where it
    /// did not.
    /// </summary>
    public double? ClockAheadS { get; init; }

    /// <summary>When this was sent.</summary>
    public required DateTimeOffset SentAtUtc { get; init; }

    /// <summary>What was noted, each under the number its device gave it.</summary>
    public IReadOnlyList<AttemptEvent> Events
    {
        get;
        init => field = value ?? [];
    } = [];
}

/// <summary>How it is known by how much a device's clock was wrong.</summary>
[JsonConverter(typeof(Engine.KebabCase<ClockSource>))]
public enum ClockSource
{
    /// <summary>The device compared its clock with the server's before the flight.</summary>
    Measured,

    /// <summary>From the time at which it was sent and the time at which it arrived.</summary>
    OnArrival,

    /// <summary>A person said it.</summary>
    ByHand,
}

/// <summary>What was noted of one flight. All times are corrected: by the server's clock.</summary>
/// <param name="AttemptId">The attempt whose recording it belongs to; null while it waits for one.</param>
/// <param name="ClockAheadS">What the device measured before the flight, as sent.</param>
/// <param name="ShiftS">By how much the device's clock was ahead, seconds: taken off every time it noted.</param>
/// <param name="Clock">Where that comes from.</param>
/// <param name="UnshiftedS">What it is without a person's word; the same unless <paramref name="Clock"/> is by hand.</param>
/// <param name="StartDiffersS">
/// Start as tapped (corrected) minus the drill's start as found in the recording, seconds; null where there is not both.
/// </param>
public sealed record FlightLogView(
    Guid Id,
    Guid AssignmentId,
    Guid? AttemptId,
    Guid NotedById,
    string NotedBy,
    DateTimeOffset? StartedAtUtc,
    DateTimeOffset? EndedAtUtc,
    DateTimeOffset ReceivedAtUtc,
    double? ClockAheadS,
    double ShiftS,
    ClockSource Clock,
    double UnshiftedS,
    double? StartDiffersS,
    IReadOnlyList<AttemptEvent> Events
);

/// <summary>Says by how much a device's clock was ahead.</summary>
/// <param name="ShiftS">Seconds, −3600 to 3600; null goes back to what was measured.</param>
public sealed record ShiftFlightLog(double? ShiftS);

/// <summary>Who said how loaded the student was.</summary>
[JsonConverter(typeof(Engine.KebabCase<LoadSource>))]
public enum LoadSource
{
    Student,
    Instructor,
}

/// <summary>A load rating, 1 to 5, with who said it.</summary>
/// <param name="Number">The n-th time it was asked for, from 1.</param>
/// <param name="AtUtc">When, where it was noted in flight.</param>
public sealed record SaidLoad(int Number, int Rating, LoadSource By, DateTimeOffset? AtUtc = null);
