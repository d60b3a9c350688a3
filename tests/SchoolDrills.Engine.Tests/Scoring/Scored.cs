using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Recordings scored against the instrument rating's tolerances.</summary>
internal static class Scored
{
    public static readonly ToleranceStandard Standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");

    public static DrillTemplate Drill(string slug) => Catalogue.Templates.Single(t => t.Slug == slug);

    public static ScoreReport Report(string file, string drill, ScoringOptions? options = null) =>
        Report(Recording.ReadFile(file).Track!, drill, options);

    public static ScoredAttempt Attempt(string file, string drill) =>
        AttemptScorer.Score(
            Recording.ReadFile(file).Track!,
            Drill(drill),
            Standard,
            new ScoringOptions(),
            cancellation: TestContext.Current.CancellationToken
        );

    public static ScoreReport Report(Track track, string drill, ScoringOptions? options = null) =>
        AttemptScorer
            .Score(track, Drill(drill), Standard, options ?? new ScoringOptions(), cancellation: TestContext.Current.CancellationToken)
            .Report;
}
