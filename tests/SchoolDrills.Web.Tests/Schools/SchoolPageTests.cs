using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Schools;

namespace SchoolDrills.Web.Tests.Schools;

public sealed class SchoolPageTests : PageTest
{
    private static readonly Guid OldestAttempt = Guid.Parse("5b3a5d3a-3c88-4d5e-8a52-0a6e3f5b7c11"),
        OverdueAssignment = Guid.Parse("9a1c3a9e-2c11-4a38-9a56-6a1f5e0b7d22");

    private static readonly SchoolOverview Overview = new([], [])
    {
        Ageing =
        [
            new("ungraded", 3, new DateOnly(2026, 2, 20), [OldestAttempt]),
            new("overdue", 1, new DateOnly(2026, 2, 27), [OverdueAssignment]),
            new("unscored", 0, null, []),
        ],
        Period = new(
            new DateOnly(2025, 12, 3),
            new DateOnly(2026, 3, 2),
            CountedShare.Of(20, 5),
            [new("two-turns", "Two climbing turns", 4, CountedShare.Of(18, 5)), new("racetrack", "Racetrack", 1, CountedShare.Of(2, 0))],
            [new(SegmentKind.ClimbTurn, Parameter.Altitude, 40, CountedShare.Of(20, 40, 16))],
            [new(Guid.NewGuid(), "Priya Nand", 12, 9, 3, 2, null), new(Guid.NewGuid(), "Callum Reid", 2, 0, 0, null, "too little data")],
            [new(null, null, 4, CountedShare.Of(20, 5))],
            [],
            [new("steep-turns", "Steep turns")],
            ["two-turns"]
        ),
    };

    private static readonly GradingAgreement Agreement = new([
        new(Guid.NewGuid(), "Priya Nand", null, "the engine", 14, 0.62, -0.1, 0.9, null)
        {
            Drift = GradingDrift.Of([0, 0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 0], [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 1]),
        },
        new(Guid.NewGuid(), "Callum Reid", null, "the engine", 4, null, null, null, "too little data: 4 of 10 attempts"),
    ]);

    private static readonly TrainingStage Basic = new("basic", "Basic attitude", [new StageDrill("two-turns", 2, 3)]);

    private static readonly SchoolReadiness Readiness = new(
        [Basic],
        [new("two-turns", "Two climbing turns")],
        [
            new(
                SampleSchool.StudentId,
                "Rewi Marsh",
                "basic",
                "Basic attitude",
                false,
                [
                    DrillReadiness.Of(
                        Basic.Drills[0],
                        [new StageAttempt(SampleSchool.AttemptId, "two-turns", SampleSchool.Now, Verdict.Met, Graded: true)]
                    ),
                ]
            ),
        ],
        [new("basic", 1, 0)],
        Page: 1,
        PageSize: 20,
        Total: 1
    );

    private static SchoolApi Api =>
        SchoolApi
            .For(Roles.Chief)
            .Answer("school/overview", Overview)
            .Answer("school/grading-agreement", Agreement)
            .Answer("school/readiness", Readiness)
            .Answer("school/stages", new SchoolStages([Basic], Starter: true));

    [Fact]
    public void The_page_opens_with_what_was_flown_what_fails_and_what_waits()
    {
        var page = Open<SchoolPage>(Api, Roles.Chief);
        // 5 of 20 attempts and 16 of 40 segments not met, by hand.
        page.WaitForAssertion(() =>
            Assert.Equal(
                "20 attempts were flown, 25% of them not met. Most often not met: altitude in climbing turn segments (40%). "
                    + "Waiting longest: 3 to grade, since Fri 20 Feb.",
                page.Find(".head > p").TextContent.Trim()
            )
        );
        Assert.Equal($"/attempts/{OldestAttempt}", page.Find("#waiting ~ ul a").GetAttribute("href"));
        Assert.Contains(page.FindAll("#waiting ~ ul a"), a => a.GetAttribute("href") == $"/assignments/{OverdueAssignment}");
    }

    [Fact]
    public void Two_attempts_are_too_little_data_and_no_line_is_drawn_for_them()
    {
        var page = Open<SchoolPage>(Api, Roles.Chief);
        page.WaitForElement("#drills");
        var rows = page.FindAll("#drills ~ ul li");
        Assert.NotNull(rows[0].QuerySelector("svg"));
        Assert.Null(rows[1].QuerySelector("svg"));
        Assert.Contains("too little data", rows[1].TextContent);
        Assert.Contains("Nearly everyone fails Two climbing turns", page.Find("#drills").ParentElement!.TextContent);
        Assert.Contains("1 published drill nobody flew", page.Markup);
    }

    [Fact]
    public void Agreement_is_told_with_its_interval_and_drift_only_where_it_is_clear()
    {
        var page = Open<SchoolPage>(Api, Roles.Chief);
        page.WaitForElement("#agreement");
        var rows = page.FindAll("#agreement ~ .scroll tbody tr");
        Assert.Contains("0.62 (−0.10 to 0.90)", rows[0].TextContent);
        // Means by hand: 0 before, 13/12 now.
        Assert.Contains("kinder by 1.1 of a grade", rows[0].TextContent);
        Assert.Contains("too little data: 4 of 10 attempts", rows[1].TextContent);
    }

    [Fact]
    public void Readiness_shows_the_attempts_it_rests_on_and_what_is_missing()
    {
        var page = Open<SchoolPage>(Api, Roles.Chief);
        page.WaitForElement("#readiness");
        var evidence = page.Find(".evidence");
        Assert.Equal($"/attempts/{SampleSchool.AttemptId}", evidence.QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("1 of the last 1 met; 2 of the last 3 have to be", evidence.TextContent);
    }

    [Fact]
    public void Students_of_a_large_school_come_twenty_a_page_and_by_stage()
    {
        var large = Readiness with { Counts = [new("basic", 45, 3)], Total = 45 };
        var api = Api.Answer("school/readiness", large);
        var page = Open<SchoolPage>(api, Roles.Chief);
        page.WaitForElement("#readiness");
        Assert.Contains("Basic attitude: 45 students, 3 ready", Section().TextContent);
        api.Answer("school/readiness", large with { Page = 2 });
        Button(page, "Next page").Click();
        page.WaitForAssertion(() => Assert.Contains("Students 21 to 21 of 45.", Section().TextContent));
        api.Answer("school/readiness", Readiness with { Students = [], Total = 0 });
        Section().QuerySelector("select")!.Change("basic");
        page.WaitForAssertion(() => Assert.Contains("No students at this stage.", Section().TextContent));
        Assert.Contains("GET school/readiness?page=2", api.Asked);
        Assert.Contains("GET school/readiness?stage=basic&page=1", api.Asked);

        AngleSharp.Dom.IElement Section() => page.Find("#readiness").ParentElement!;
    }

    [Fact]
    public void A_school_that_has_flown_nothing_is_told_so()
    {
        var empty = Overview with
        {
            Ageing = [],
            Period = Overview.Period! with { Attempts = CountedShare.Of(0, 0), Drills = [], Segments = [], Aircraft = [] },
        };
        var page = Open<SchoolPage>(Api.Answer("school/overview", empty), Roles.Chief);
        page.WaitForAssertion(() =>
            Assert.Equal("Nothing was flown in this period. Nothing is waiting.", page.Find(".head > p").TextContent.Trim())
        );
    }

    [Fact]
    public void A_stage_is_added_and_sent_with_its_drill()
    {
        var api = Api;
        var page = Open<StagesPage>(api, Roles.Chief);
        page.WaitForAssertion(() => Assert.Contains("starter catalogue", page.Markup));
        Button(page, "Add a stage").Click();
        page.FindAll("section input[maxlength]")[1].Input("Instrument cross-country");
        Button(page, "Add a drill to stage 2").Click();
        Button(page, "Save").Click();
        page.WaitForAssertion(() => Assert.Contains("Saved.", page.Find("[role=status]").TextContent));
        Assert.Contains("PUT school/stages", api.Asked);
    }
}
