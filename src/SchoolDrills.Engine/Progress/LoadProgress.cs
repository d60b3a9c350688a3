using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>How a student flies under load, over attempts on which notes were taken on board.</summary>
/// <param name="OwnRating">The student's own load ratings against the load flown.</param>
/// <param name="Checks">Checks not done: of each kind, flows first, then of each name, most often missed first.</param>
/// <param name="Reached">Load at which the drill was held, by like attempts, the newest first.</param>
public sealed record LoadProgress(LoadCalibration OwnRating, IReadOnlyList<MissedChecks> Checks, IReadOnlyList<ReachedLoad> Reached)
{
    /// <summary>The progress of one student.</summary>
    /// <param name="attempts">Attempts with notes, in any order.</param>
    /// <param name="requiredShare">Share of time in tolerance from which a drill is held, 0 to 1.</param>
    public static LoadProgress Of(IReadOnlyList<LoadAttempt> attempts, double requiredShare) =>
        new(
            LoadCalibration.Of(attempts),
            MissedChecks.Of(attempts),
            [
                .. attempts
                    .Where(a => a.WithinShare is not null)
                    .GroupBy(a => a.Group)
                    .Select(g => ReachedLoad.Of(g.Key, [.. g.OrderBy(a => a.FlownAtUtc).ThenBy(a => a.AttemptId)], requiredShare))
                    .OrderByDescending(r => r.Points[^1].FlownAtUtc)
                    .ThenBy(r => r.Group.DrillSlug, StringComparer.Ordinal),
            ]
        );
}

/// <summary>One attempt on which notes were taken on board.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="Group">What the attempt can be compared with.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="Level">Load flown, 1 (none) to 5 (<see cref="WorkloadReport.Level"/>).</param>
/// <param name="WithinShare">Share of its time in tolerance, 0 to 1; null where it was not measured.</param>
/// <param name="OwnRating">Mean of the student's own load ratings, 1 to 5; null where he gave none.</param>
/// <param name="Checks">Checks whose window was flown.</param>
public sealed record LoadAttempt(
    Guid AttemptId,
    AttemptGroup Group,
    DateTimeOffset FlownAtUtc,
    int Level,
    double? WithinShare,
    double? OwnRating,
    IReadOnlyList<CheckResult> Checks
);

/// <summary>How a student's own load ratings differ from the load flown.</summary>
/// <remarks>
/// The bias of an attempt is its mean rating less its level; over attempts it has the interval of Student's t distribution. Drills are
/// joined: a rating is of the load, whatever drill it came with.
/// </remarks>
/// <param name="Attempts">Attempts with both.</param>
/// <param name="Bias">Above 0: feels more loaded than the tasks and checks say. Null with too few attempts.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Reason">Why no bias is given.</param>
public sealed record LoadCalibration(int Attempts, double? Bias, Interval? Interval, string? Reason)
{
    /// <summary>Fewest attempts of which a bias is told.</summary>
    public const int FewestAttempts = ProgressModel.FewestAttempts;

    /// <summary>Scatter of a difference of two whole numbers by their coarseness alone: each uniform within its step.</summary>
    private const double StepVariance = 2.0 / 12;

    /// <summary>The farthest that two ratings can be apart.</summary>
    private const double MostBias = 4;

    internal static LoadCalibration Of(IEnumerable<LoadAttempt> attempts)
    {
        var biases = attempts.Where(a => a.OwnRating is not null).Select(a => a.OwnRating!.Value - a.Level).ToList();
        if (biases.Count < FewestAttempts)
            return new(biases.Count, null, null, ProgressModel.TooLittle(biases.Count, FewestAttempts));
        var mean = biases.Average();
        var variance = Math.Max(biases.Sum(b => (b - mean) * (b - mean)) / (biases.Count - 1), StepVariance);
        var half = StudentT.InvCDF(0, 1, biases.Count - 1, 1 - ProgressModel.Tail) * Math.Sqrt(variance / biases.Count);
        return new(biases.Count, mean, new(Math.Max(-MostBias, mean - half), Math.Min(MostBias, mean + half)), null);
    }
}

/// <summary>How many checks were not done.</summary>
/// <param name="Kind">Flow or checklist; null where the drill did not say.</param>
/// <param name="Name">Name of the check; null for all of the kind.</param>
/// <param name="Due">Checks whose window was flown.</param>
/// <param name="Late">Of these, done late.</param>
/// <param name="Missed">Of these, not done: the share with its interval.</param>
public sealed record MissedChecks(CheckKind? Kind, string? Name, int Due, int Late, CountedShare Missed)
{
    internal static IReadOnlyList<MissedChecks> Of(IEnumerable<LoadAttempt> attempts)
    {
        var due = attempts
            .SelectMany(a => a.Checks.Select(c => (a.AttemptId, Check: c)))
            .Where(d => d.Check.Outcome != LoadOutcome.NotNoted)
            .ToList();
        return
        [
            .. due.GroupBy(d => d.Check.Kind).Select(g => One(g.Key, null, [.. g])).OrderBy(m => m.Kind ?? (CheckKind)int.MaxValue),
            .. due.GroupBy(d => (d.Check.Kind, d.Check.Name))
                .Select(g => One(g.Key.Kind, g.Key.Name, [.. g]))
                .OrderByDescending(m => m.Missed.NotMet / (double)m.Due)
                .ThenByDescending(m => m.Due)
                .ThenBy(m => m.Name, StringComparer.Ordinal),
        ];
    }

    private static MissedChecks One(CheckKind? kind, string? name, IReadOnlyList<(Guid AttemptId, CheckResult Check)> due) =>
        new(
            kind,
            name,
            due.Count,
            due.Count(d => d.Check.Outcome == LoadOutcome.Late),
            CountedShare.Of(
                due.Select(d => d.AttemptId).Distinct().Count(),
                due.Count,
                due.Count(d => d.Check.Outcome == LoadOutcome.Missed)
            )
        );
}

/// <summary>The load at which a drill was held, over like attempts.</summary>
/// <param name="Group">What the attempts have in common.</param>
/// <param name="Points">One an attempt, oldest first.</param>
/// <param name="HighestHeld">Highest load at which it was held; null where it never was.</param>
/// <param name="Trend">Change of the load from one attempt that was held to the next.</param>
public sealed record ReachedLoad(AttemptGroup Group, IReadOnlyList<LoadPoint> Points, int? HighestHeld, Trend Trend)
{
    internal static ReachedLoad Of(AttemptGroup group, IReadOnlyList<LoadAttempt> attempts, double requiredShare)
    {
        var points = attempts
            .Select(a => new LoadPoint(a.AttemptId, a.FlownAtUtc, a.Level, a.WithinShare!.Value, a.WithinShare >= requiredShare))
            .ToList();
        var held = points.Where(p => p.Held).Select(p => (double)p.Level).ToList();
        return new(group, points, held.Count > 0 ? (int)held.Max() : null, Trend.Of(held));
    }
}

/// <summary>One attempt's load, and how it was flown.</summary>
/// <param name="AttemptId">Attempt.</param>
/// <param name="FlownAtUtc">When it was flown.</param>
/// <param name="Level">Load flown, 1 (none) to 5.</param>
/// <param name="WithinShare">Share of its time in tolerance, 0 to 1.</param>
/// <param name="Held">That is at least what the standard asks for.</param>
public sealed record LoadPoint(Guid AttemptId, DateTimeOffset FlownAtUtc, int Level, double WithinShare, bool Held);
