using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Web.Progress;

/// <summary>Attempts that may be compared with one another, and what each of their parameters shows.</summary>
/// <param name="Group">What they have in common.</param>
/// <param name="Parameters">Those measured in one attempt at least.</param>
public sealed record LikeAttempts(AttemptGroup Group, IReadOnlyList<ParameterProgress> Parameters)
{
    /// <summary>Attempts in which anything was measured.</summary>
    public int Attempts { get; } = Parameters.SelectMany(p => p.Points).Select(p => p.AttemptId).Distinct().Count();

    public DateTimeOffset NewestOn { get; } = Parameters.SelectMany(p => p.Points).Max(p => p.FlownOn);

    /// <summary>There is enough to say where the student stands.</summary>
    public bool IsEnough => Attempts >= ParameterTrend.FewestAttempts;

    /// <summary>By like attempts, those of the newest first.</summary>
    public static IReadOnlyList<LikeAttempts> Of(StudentProgress progress) =>
        [
            .. progress
                .Parameters.Where(p => p.Points.Count > 0)
                .GroupBy(p => p.Group)
                .Select(g => new LikeAttempts(g.Key, [.. g]))
                .OrderByDescending(l => l.NewestOn),
        ];
}

/// <summary>How the newest attempt of a parameter lies to the standard.</summary>
internal enum Standing
{
    /// <summary>Fewer attempts than allow a word.</summary>
    TooLittleData,

    /// <summary>The whole interval is at the standard or above.</summary>
    AtStandard,

    /// <summary>The standard lies inside the interval.</summary>
    TooCloseToTell,

    /// <summary>The whole interval is below.</summary>
    Below,
}

/// <summary>What one parameter's attempts allow to be said.</summary>
internal static class Standings
{
    /// <summary>The newest attempt.</summary>
    public static ProgressPoint Newest(ParameterProgress progress) => progress.Points.MaxBy(p => p.FlownOn)!;

    public static Standing Of(ParameterProgress progress)
    {
        if (progress.Points.Count < ParameterTrend.FewestAttempts)
            return Standing.TooLittleData;
        var newest = Newest(progress);
        return newest.Lo >= progress.StandardShare ? Standing.AtStandard
            : newest.Hi < progress.StandardShare ? Standing.Below
            : Standing.TooCloseToTell;
    }

    /// <summary>The change an attempt where it is sure: five attempts or more, and an interval without zero.</summary>
    public static double? Trend(ParameterProgress progress) =>
        progress.Points.Count >= ParameterTrend.FewestForTrend && progress.TrendInterval is { } interval && interval.Lo * interval.Hi > 0
            ? progress.TrendPerAttempt
            : null;
}
