using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Schools;

namespace SchoolDrills.Web.Tests.Schools;

public sealed class RescoringPageTests : PageTest
{
    private static readonly RescoringStanding Older = new("1.6.0", 120, [new("1.5.0", 100), new("1.4.1", 20)]);

    private static readonly RescoringProgress Run = new(
        Guid.Empty,
        SampleSchool.Now.AddMinutes(-5),
        "Ilse Farrow",
        new RescoringChoice(),
        120,
        30,
        2,
        1
    );

    private static SchoolApi Api =>
        SchoolApi.For(Roles.Chief).Answer("school/rescoring", Older).Answer("school/rescoring/changes", new RescoredPage([], 1, 25, 0));

    [Fact]
    public void The_choice_is_counted_confirmed_and_sent()
    {
        var api = Api.Answer("POST school/rescoring", Older with { Newest = Run });
        var page = Open<RescoringPage>(api, Roles.Chief);
        page.WaitForAssertion(() => Assert.Contains("Engine 1.4.1: 20 attempts", page.Markup));
        api.Answer("GET school/rescoring", Older with { WouldChoose = 7 });
        page.FindAll("select")[1].Change("two-turns");
        page.WaitForAssertion(() => Assert.Contains("GET school/rescoring?drillSlug=two-turns", api.Asked));
        Button(page, "Rescore 7 attempts").Click();
        Assert.DoesNotContain("POST school/rescoring", api.Asked);
        Button(page, "Cancel").Click();
        Button(page, "Rescore 7 attempts").Click();
        Button(page, "Rescore them").Click();
        page.WaitForAssertion(() => Assert.Contains("30 of 120 attempts done", page.Find("#run ~ [role=status]").TextContent));
        Assert.Contains("\"drillSlug\":\"two-turns\"", api.Sent["POST school/rescoring"], StringComparison.Ordinal);
        Assert.Equal(("120", "30"), (page.Find("progress").GetAttribute("max"), page.Find("progress").GetAttribute("value")));
        // 10:00 at the school, five minutes ago.
        Assert.Contains("Started today, 09:55 by Ilse Farrow.", page.Markup);
    }

    [Fact]
    public void What_changed_leads_to_the_attempt_and_says_before_after_and_whether_a_grade_is_kept()
    {
        var told = new RescoredPage(
            [Told(SampleSchool.AttemptId, "The recording cannot be read."), Told(SampleSchool.AssignmentId, null) with { Graded = true }],
            1,
            25,
            27
        );
        var api = Api.Answer("school/rescoring", Older with { Newest = Run with { EndedAtUtc = SampleSchool.Now, Done = 120 } })
            .Answer("school/rescoring/changes", told);
        var page = Open<RescoringPage>(api, Roles.Chief);
        page.WaitForElement("#changes");
        var rows = page.FindAll("#changes ~ ul li");
        Assert.Contains("Not rescored: The recording cannot be read.", rows[0].TextContent);
        Assert.Equal($"/attempts/{SampleSchool.AssignmentId}", rows[1].QuerySelector("a")!.GetAttribute("href"));
        Assert.Equal(["not met", "met"], rows[1].QuerySelectorAll(".turn .word").Select(w => w.TextContent.Trim()));
        var turn = rows[1].QuerySelector(".turn")!.TextContent;
        Assert.True(turn.IndexOf("40%", StringComparison.Ordinal) < turn.IndexOf("91%", StringComparison.Ordinal), turn);
        Assert.Contains("grade kept", rows[1].TextContent);
        Assert.DoesNotContain("grade kept", rows[0].TextContent);
        Button(page, "Next page").Click();
        page.WaitForAssertion(() => Assert.Contains("GET school/rescoring/changes?page=2", api.Asked));
    }

    [Fact]
    public void One_that_runs_can_be_stopped_and_no_other_is_offered_meanwhile()
    {
        var api = Api.Answer("school/rescoring", Older with { Newest = Run })
            .Answer(
                "POST school/rescoring/stop",
                Older with
                {
                    Newest = Run with { EndedAtUtc = SampleSchool.Now, StoppedBy = "Ilse Farrow" },
                }
            );
        var page = Open<RescoringPage>(api, Roles.Chief);
        page.WaitForElement("#run");
        Assert.Empty(page.FindAll("select"));
        Button(page, "Stop").Click();
        page.WaitForAssertion(() => Assert.Contains("stopped today, 10:00 by Ilse Farrow.", page.Markup));
        Assert.NotEmpty(page.FindAll("select"));
    }

    [Fact]
    public void A_chief_who_comes_second_reads_who_was_first()
    {
        var api = Api.Refuse("POST school/rescoring", HttpStatusCode.Conflict, "Ilse Farrow has started a rescoring.");
        var page = Open<RescoringPage>(api, Roles.Chief);
        page.WaitForElement("select");
        Button(page, "Rescore 120").Click();
        api.Answer("GET school/rescoring", Older with { Newest = Run });
        Button(page, "Rescore them").Click();
        page.WaitForAssertion(() => Assert.Contains("Ilse Farrow has started a rescoring.", page.Markup));
        Assert.Contains("30 of 120 attempts done", page.Markup);
    }

    [Fact]
    public void A_school_without_older_scores_is_told_so()
    {
        var page = Open<RescoringPage>(Api.Answer("school/rescoring", new RescoringStanding("1.6.0", 0, [])), Roles.Chief);
        page.WaitForAssertion(() => Assert.Contains("All scores are by this engine.", page.Markup));
        Assert.Empty(page.FindAll("select"));
    }

    private static RescoredAttempt Told(Guid id, string? failure) =>
        new(
            id,
            "Rewi Marsh",
            "Two climbing turns",
            SampleSchool.Now,
            "1.5.0",
            Verdict.NotMet,
            0.4,
            failure is null ? Verdict.Met : Verdict.NotMet,
            failure is null ? 0.91 : 0.4,
            false,
            failure
        );
}
