using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Debrief;

namespace SchoolDrills.Web.Tests.Debrief;

/// <summary>What the engine is not sure of is shown so, and what it is sure of is not cluttered with it.</summary>
public sealed class DoubtTests : PageTest
{
    private static readonly Finding Late = new(
        1,
        FindingKind.LateStart,
        Parameter.Timing,
        9,
        "s",
        SampleSchool.Now,
        "Turn started 9 s late."
    );

    [Theory]
    [InlineData(0.6, true)]
    [InlineData(0.94, false)]
    public void A_finding_says_how_likely_it_is_where_that_is_open(double probability, bool isSaid)
    {
        var report = SampleSchool.Report with { Findings = [Late with { Probability = probability }] };
        var page = Open<FindingsList>(SchoolApi.For(Roles.Student), Roles.Student, p => p.Add(x => x.Report, report));
        Assert.Equal(isSaid, page.Markup.Contains("likely)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_start_that_is_hardly_seen_has_its_doubt_beside_it()
    {
        var segments = SampleSchool.Report.Segments.Select((s, k) => s with { StartSigmaS = k == 1 ? 4 : 0.8 }).ToList();
        var report = SampleSchool.Report with { Segments = segments };
        var page = Open<SegmentTable>(SchoolApi.For(Roles.Student), Roles.Student, p => p.Add(x => x.Report, report));
        Assert.Contains("±8", Assert.Single(page.FindAll("td.nowrap .share")).TextContent, StringComparison.Ordinal);
    }
}
