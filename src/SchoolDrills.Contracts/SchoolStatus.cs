using System.Text.Json.Serialization;

namespace SchoolDrills.Contracts;

/// <summary>How the app runs, for the chief: the school's own figures, and of the whole installation numbers and times alone.</summary>
/// <param name="HostSinceUtc">Since when the host that answers runs.</param>
/// <param name="Backup">The last one that is known of; null where none is.</param>
/// <param name="LastScored">The school's newest recording that has a score; null before the first.</param>
/// <param name="Troubles">What somebody should see to, the gravest first.</param>
public sealed record SchoolStatus(
    DateTimeOffset AtUtc,
    DateTimeOffset HostSinceUtc,
    IReadOnlyList<StatusTrouble> Troubles,
    WaitingToBeScored Waiting,
    WorkersSeen Workers,
    StorageUsed Storage,
    RunningVersions Versions,
    BackupMade? Backup = null,
    LastScored? LastScored = null
);

/// <summary>What is amiss.</summary>
[JsonConverter(typeof(Engine.KebabCase<StatusTrouble>))]
public enum StatusTrouble
{
    /// <summary>No worker has shown itself lately: nothing is scored.</summary>
    NoWorker,

    /// <summary>A recording has waited for ten minutes or more.</summary>
    ScoringStandsStill,

    /// <summary>Less than a tenth of the database's disk is free.</summary>
    DiskLow,

    /// <summary>The last backup is more than two days old.</summary>
    BackupOld,

    NoBackupKnown,
}

/// <summary>Recordings that wait for their score.</summary>
/// <param name="OfSchool">Of this school.</param>
/// <param name="All">Of all schools of the installation.</param>
/// <param name="OldestSinceUtc">Since when the oldest of all waits.</param>
public sealed record WaitingToBeScored(int OfSchool, int All, DateTimeOffset? OldestSinceUtc = null);

/// <summary>The programs that score.</summary>
/// <param name="LastSeenAtUtc">When one of them last showed itself; null where none is known.</param>
public sealed record WorkersSeen(int Count, DateTimeOffset? LastSeenAtUtc = null);

/// <summary>What the school's recordings take, as they are kept, and what is left where the database is.</summary>
/// <param name="DiskFreeBytes">Null where the database is on a machine the host does not see.</param>
public sealed record StorageUsed(long RecordingBytes, long? DiskFreeBytes = null, long? DiskBytes = null);

/// <param name="Schema">The newest migration of the database.</param>
public sealed record RunningVersions(string App, string Engine, string Schema, string Postgres);

public sealed record BackupMade(DateTimeOffset AtUtc, long Bytes);

/// <param name="TookS">Seconds from its being accepted to its first score.</param>
public sealed record LastScored(Guid AttemptId, DateTimeOffset ScoredAtUtc, double TookS);
