using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Corrections;

namespace SchoolDrills.Web.Tests.Corrections;

/// <summary>What else a flight may have been: told to everybody, chosen by those who teach.</summary>
public sealed class ReadingChoiceTests : PageTest
{
    private const string Doubt = "This flight can also be read as the drill begun 1:30 later: 40% likely, against 60% as scored.";

    private static readonly DrillRun Scored = new(0, SampleSchool.Now, SampleSchool.Now.AddMinutes(6), 0.97, false, true) { Share = 0.6 };

    private static readonly ScoreReport Report = SampleSchool.Report with
    {
        Runs = [Scored, Scored with { Index = 1, Scored = false, ReadingOf = 0, Share = 0.4 }],
        Readings =
        [
            new(0.6, "As scored: the drill flown to its end.", Scored.StartUtc, Scored.EndUtc, 0),
            new(0.4, Doubt, Scored.StartUtc.AddSeconds(90), Scored.EndUtc, 1),
        ],
    };

    [Fact]
    public void An_instructor_scores_the_other_reading_with_one_tap()
    {
        var path = $"attempts/{SampleSchool.AttemptId}/reading";
        var api = SchoolApi.For(Roles.Instructor).Answer(path, SampleSchool.Detail());
        AttemptDetail? corrected = null;
        var page = Open<ReadingChoice>(
            api,
            Roles.Instructor,
            p =>
                p.Add(x => x.Report, Report)
                    .Add(x => x.Attempt, SampleSchool.Detail() with { EngineScore = Report })
                    .Add(x => x.OnCorrected, now => corrected = now)
        );
        Assert.Contains(Doubt, page.Markup, StringComparison.Ordinal);
        Button(page, "Use this reading").Click();
        page.WaitForAssertion(() => Assert.NotNull(corrected));
        Assert.Contains($"PUT {path}", api.Asked);
    }

    [Fact]
    public void A_student_reads_of_it_and_changes_nothing()
    {
        var page = Open<ReadingChoice>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(x => x.Report, Report).Add(x => x.Attempt, SampleSchool.Detail()).Add(x => x.OnCorrected, _ => { })
        );
        Assert.Contains(Doubt, page.Markup, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("button"));
    }

    [Fact]
    public void A_flight_that_stands_alone_says_nothing() =>
        Assert.Empty(
            Open<ReadingChoice>(SchoolApi.For(Roles.Student), Roles.Student, p => p.Add(x => x.Report, SampleSchool.Report)).Markup.Trim()
        );
}
