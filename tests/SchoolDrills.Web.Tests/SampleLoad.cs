using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Tests;

/// <summary>A student's flying under load.</summary>
internal static class SampleLoad
{
    private static readonly AttemptGroup Group = new("two-turns", 2, null, HasAirData: true);

    /// <summary>Nobody took notes.</summary>
    public static StudentLoad Nothing { get; } = Of();

    /// <summary>One attempt for each level and share, the oldest first; no check and no own rating unless given.</summary>
    public static StudentLoad Of(params (int Level, double WithinShare, double? OwnRating, IReadOnlyList<CheckResult> Checks)[] attempts) =>
        new(
            SampleSchool.StudentId,
            "Rewi Marsh",
            0.9,
            attempts.Length,
            LoadProgress.Of(
                [
                    .. attempts.Select(
                        (a, i) =>
                            new LoadAttempt(
                                Guid.CreateVersion7(),
                                Group,
                                new DateTimeOffset(2026, 3, 1, 0, 0, 0, TimeSpan.Zero).AddDays(i),
                                a.Level,
                                a.WithinShare,
                                a.OwnRating,
                                a.Checks
                            )
                    ),
                ],
                0.9
            )
        );

    /// <summary>A check and how it ended.</summary>
    public static CheckResult Check(string name, CheckKind kind, LoadOutcome outcome) =>
        new(name, 0, default, default, null, outcome) { Kind = kind };
}
