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
