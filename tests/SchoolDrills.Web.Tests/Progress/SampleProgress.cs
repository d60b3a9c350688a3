using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Web.Tests.Progress;

/// <summary>Progress of a student with so many attempts, one a day.</summary>
internal static class SampleProgress
{
    public static readonly AttemptGroup Box = new("two-turns", 2, null, HasAirData: true);

    public static ParameterProgress Of(
        Parameter parameter,
        double[] shares,
        double half = 0.03,
        double? trend = null,
        Interval? interval = null,
        AttemptGroup? group = null,
        int daysAgo = 0
    ) =>
        new(
            parameter,
            "ft",
            [
                .. shares.Select(
                    (s, i) =>
                        new ProgressPoint(
                            new Guid(i + 1, 0, (short)daysAgo, new byte[8]),
                            "two-turns",
                            SampleSchool.Now.AddDays(i - shares.Length - daysAgo),
                            s,
                            s - half,
                            Math.Min(1, s + half)
                        )
                ),
            ],
            0.9,
            trend,
            shares.Length < 5 ? $"too little data: {shares.Length} of 5 attempts" : "no gain so far to look ahead from"
        )
        {
            Group = group ?? Box,
            TrendInterval = interval,
        };

    public static StudentProgress With(params ParameterProgress[] parameters) => new(SampleSchool.StudentId, "Rewi Marsh", parameters);
}
