using MathNet.Numerics.Distributions;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Tests.Progress;

/// <summary>Attempts of students whose true skill is known.</summary>
internal static class Students
{
    public static readonly DateTimeOffset Today = new(2026, 6, 1, 0, 0, 0, TimeSpan.Zero);

    public static readonly AttemptGroup Group = new("box-circles", 3, null, HasAirData: false);

    /// <summary>One segment flown that many days ago.</summary>
    public static SegmentMeasurement Segment(
        Guid attemptId,
        double daysAgo,
        Verdict verdict = Verdict.Met,
        double? withinShare = 1,
        int index = 0,
        SegmentKind kind = SegmentKind.ClimbTurn,
        Parameter parameter = Parameter.Altitude,
        double durationS = 120,
        AttemptGroup? group = null
    ) => new(attemptId, group ?? Group, Today.AddDays(-daysAgo), index, kind, parameter, durationS, withinShare, verdict);

    /// <summary>Attempts with these verdicts on like segments, one string an attempt: <c>x</c> is not met, anything else met.</summary>
    public static List<SegmentMeasurement> Flown(params string[] attempts) =>
        [
            .. attempts.SelectMany(
                (verdicts, i) =>
                {
                    var id = Guid.NewGuid();
                    return verdicts.Select(
                        (v, index) => Segment(id, 7 * (attempts.Length - i), v == 'x' ? Verdict.NotMet : Verdict.Met, index: index)
                    );
                }
            ),
        ];

    /// <summary>Attempts of somebody who fails that share of segments; those of one attempt are correlated as the model takes it.</summary>
    public static List<SegmentMeasurement> Flown(Random random, double notMetShare, int attempts, int segments, double daysApart) =>
        [
            .. Enumerable
                .Range(0, attempts)
                .SelectMany(i =>
                {
                    var id = Guid.NewGuid();
                    var today = OfDay(random, notMetShare, (1 / ProgressModel.WithinAttemptCorrelation) - 1);
                    return Enumerable
                        .Range(0, segments)
                        .Select(index =>
                            Segment(
                                id,
                                daysApart * (attempts - 1 - i),
                                random.NextDouble() < today ? Verdict.NotMet : Verdict.Met,
                                index: index
                            )
                        );
                }),
        ];

    /// <summary>A chance that varies about its mean, from day to day or from student to student.</summary>
    public static double OfDay(Random random, double mean, double strength) =>
        Beta.Sample(random, Math.Max(1e-3, mean * strength), Math.Max(1e-3, (1 - mean) * strength));

    /// <summary>Points of attempts with these shares, each of ten independent samples.</summary>
    public static List<SharePoint> Points(params double[] shares) =>
        [.. shares.Select((s, i) => new SharePoint(Guid.NewGuid(), Today.AddDays(i), s, 10, ShareInterval.OfSamples(s, 10)))];

    public static ParameterTrend TrendOf(IReadOnlyList<SharePoint> points) =>
        new(Group, Parameter.Altitude, null, points, Trend.Of([.. points.Select(p => p.WithinShare)]));

    /// <summary>Share of that many trials that come out true.</summary>
    public static double ShareOf(int trials, Func<bool> trial) => Enumerable.Range(0, trials).Count(_ => trial()) / (double)trials;
}
