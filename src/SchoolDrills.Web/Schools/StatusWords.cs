using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Schools;

/// <summary>How the app runs, in sentences, with what to do where something is amiss.</summary>
public static class StatusWords
{
    public static string Opening(SchoolStatus status) =>
        status.Troubles.Count == 0 ? T["All is well."]
        : status.Troubles.Count == 1 ? T["One thing needs attention."]
        : T["{0} things need attention.", status.Troubles.Count];

    public static string Of(StatusTrouble trouble, SchoolStatus status) =>
        trouble switch
        {
            StatusTrouble.NoWorker => status.Workers.LastSeenAtUtc is { } seen
                ? T[
                    "No worker has shown itself for {0}, so nothing is scored. Ask whoever runs the server to start one.",
                    Length(status.AtUtc - seen)
                ]
                : T["No worker is running, so nothing is scored. Ask whoever runs the server to start one."],
            StatusTrouble.ScoringStandsStill => T[
                "A recording has waited {0} for its score. Ask whoever runs the server to look at its log.",
                Length(status.AtUtc - (status.Waiting.OldestSinceUtc ?? status.AtUtc))
            ],
            StatusTrouble.DiskLow => T[
                "The server's disk is nearly full: {0} free. Ask whoever runs the server to make room before uploads are refused.",
                Figures.Bytes(status.Storage.DiskFreeBytes ?? 0)
            ],
            StatusTrouble.BackupOld => T[
                "The last backup is {0} old. Ask whoever runs the server to make one, and to have it made every day.",
                Length(status.AtUtc - (status.Backup?.AtUtc ?? status.AtUtc))
            ],
            _ => T["No backup is known. Ask whoever runs the server whether there is one, and where it is kept."],
        };

    public static string Waiting(SchoolStatus status) =>
        status.Waiting switch
        {
            { OfSchool: 0, All: 0 } => T["No recording waits to be scored."],
            { OldestSinceUtc: { } since } waiting => T[
                "{0} of your school to be scored, {1} on this server; the oldest for {2}.",
                Figures.Count(waiting.OfSchool, "recording waits", "recordings wait"),
                Figures.Whole(Math.Max(waiting.All, waiting.OfSchool)),
                Length(status.AtUtc - since)
            ],
            var waiting => T["{0} of your school to be scored.", Figures.Count(waiting.OfSchool, "recording waits", "recordings wait")],
        };

    public static string Scored(SchoolStatus status, SchoolTime time) =>
        status.LastScored is { } last
            ? T[
                "The newest score is of {0}; it took {1} from upload to score.",
                time.DayAndClock(last.ScoredAtUtc),
                Length(TimeSpan.FromSeconds(last.TookS))
            ]
            : T["No recording of your school has been scored yet."];

    public static string Workers(SchoolStatus status) =>
        status.Workers switch
        {
            { Count: > 0 } workers => T["{0}.", Figures.Count(workers.Count, "worker is ready", "workers are ready")],
            { LastSeenAtUtc: { } seen } => T["No worker is ready; one was last seen {0} ago.", Length(status.AtUtc - seen)],
            _ => T["No worker is ready."],
        };

    public static string Backup(SchoolStatus status, SchoolTime time) =>
        status.Backup is { } made
            ? T[
                "Last backed up {0}, {1} ago: {2}.",
                time.DayAndClock(made.AtUtc),
                Length(status.AtUtc - made.AtUtc),
                Figures.Bytes(made.Bytes)
            ]
            : T["No backup known."];

    public static string Kept(StorageUsed storage) =>
        storage.RecordingBytes == 0
            ? T["Your school keeps no recordings yet."]
            : T["Your school's recordings take {0}.", Figures.Bytes(storage.RecordingBytes)];

    public static string Disk(StorageUsed storage) =>
        storage is { DiskFreeBytes: { } free, DiskBytes: { } size }
            ? T["Free on the database's disk: {0} of {1}.", Figures.Bytes(free), Figures.Bytes(size)]
            : T["Free on the database's disk: not known."];

    /// <summary>40 seconds, 12 minutes, 5 hours, 3 days.</summary>
    /// <param name="length">Of time; what is below zero, by clocks that differ, counts as none.</param>
    public static string Length(TimeSpan length) =>
        length.TotalSeconds switch
        {
            < 1 => T["less than a second"],
            < 90 => Figures.Count((int)Math.Round(length.TotalSeconds), "second", "seconds"),
            < 90 * 60 => Figures.Count((int)Math.Round(length.TotalMinutes), "minute", "minutes"),
            < 48 * 3600 => Figures.Count((int)Math.Round(length.TotalHours), "hour", "hours"),
            _ => Figures.Count((int)length.TotalDays, "day", "days"),
        };
}
