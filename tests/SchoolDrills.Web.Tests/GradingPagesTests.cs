using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.LoadScales;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Debrief;
using SchoolDrills.Web.Schools;

namespace SchoolDrills.Web.Tests;

public sealed class GradingPagesTests : PageTest
{
    private static readonly string Attempt = $"attempts/{SampleSchool.AttemptId}";

    [Fact]
    public void The_word_that_fits_the_engines_verdict_is_shown_and_given_to_the_rest_on_demand()
    {
        var page = Open<DebriefPage>(SchoolApi.For(Roles.Instructor), Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Equal(
            ["3 Competent", "1 Not yet", "2 Developing", "3 Competent", "1 Not yet"],
            page.FindAll(".suggested").Select(l => l.TextContent.Trim())
        );
        Assert.Empty(page.FindAll(".sheet input[checked]"));
        page.Find("[data-suggest]").Click();
        Assert.Equal(
            ["competent", "not-yet", "developing", "competent", "not-yet"],
            page.FindAll(".sheet input[checked]").Select(r => r.GetAttribute("value"))
        );
        Assert.False(page.Find("[data-sign]").HasAttribute("disabled"));
    }

    [Fact]
    public void Who_else_is_writing_the_grade_is_said()
    {
        var others = SampleSchool.Grade(signed: false) with { InstructorId = Guid.NewGuid(), InstructorName = "Tomas Reid" };
        var api = SchoolApi.For(Roles.Instructor).Answer(Attempt, SampleSchool.Detail(others));
        var page = Open<DebriefPage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Contains("Tomas Reid is writing this grade too", page.Find(".sheet [role=status]").TextContent);
    }

    [Fact]
    public void A_student_says_how_it_went_before_the_score_is_shown()
    {
        var api = SchoolApi
            .For(Roles.Student)
            .Answer(
                $"{Attempt}/self-assessment",
                new SelfAssessmentView(
                    SampleSchool.Now,
                    null,
                    [new SelfVerdict(1, Verdict.Met)],
                    [4],
                    "Felt late.",
                    new TaskLoad(80, 20, 70, 40, 60, 30),
                    6
                )
            );
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        page.WaitForAssertion(() => Assert.Equal(4, page.FindAll(".self .row").Count));
        Assert.Empty(page.FindAll(".verdict-line"));
        page.FindAll(".self .row input")[4].Change("on");
        Button(page, "Save and see the score", ".self").Click();
        page.WaitForAssertion(() => Assert.Contains("Outside the standard", page.Find(".verdict-line").TextContent));
        Assert.Contains("You and the engine agree on 0 of 1 segment; elsewhere mostly kinder than the measurement.", page.Markup);
        Assert.Contains("Own workload: 4 very busy.", page.Markup);
        Assert.Contains("Task load 50 of 100", page.Markup);
        Assert.Contains("Spare capacity 6 of 10 (1 is most): hardly any attention left for further tasks.", page.Markup);
    }

    [Fact]
    public void A_student_taps_what_slipped_and_the_rest_was_within()
    {
        var api = SchoolApi
            .For(Roles.Student)
            .Answer($"{Attempt}/self-assessment", new SelfAssessmentView(SampleSchool.Now, null, [], [], null));
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        page.WaitForAssertion(() => Assert.Equal(4, page.FindAll(".self .strip button").Count));
        // The measured marks stay hidden.
        Assert.Empty(page.FindAll(".self .verdict"));
        Assert.True(Button(page, "Save and see the score", ".self").HasAttribute("disabled"));
        page.FindAll(".self .strip button")[1].Click();
        page.FindAll(".self .strip button")[2].Click();
        page.FindAll(".self .strip button")[2].Click();
        Button(page, "The rest was within", ".self").Click();
        Assert.Equal("2 met, 1 close, 1 not met", page.Find(".self .rest [role=status]").TextContent.Trim());
        // A third tap takes it back.
        page.FindAll(".self .strip button")[2].Click();
        Assert.Equal("3 met, 1 close", page.Find(".self .rest [role=status]").TextContent.Trim());
        Assert.False(Button(page, "Save and see the score", ".self").HasAttribute("disabled"));
    }

    [Fact]
    public void A_student_whose_grade_is_signed_reads_it_at_once()
    {
        var api = SchoolApi.For(Roles.Student).Answer(Attempt, SampleSchool.Detail(SampleSchool.Grade()));
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Empty(page.FindAll(".self"));
        Assert.Single(page.FindAll(".verdict-line"));
    }

    [Fact]
    public void A_score_being_made_anew_leaves_the_one_before_to_be_read()
    {
        var api = SchoolApi
            .For(Roles.Instructor)
            .Answer(Attempt, SampleSchool.Detail() with { Status = AttemptStatus.Scoring, Stage = "aligning" });
        var page = Open<DebriefPage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Contains("Rescoring (Finding the drill in the flight).", page.Find(".notice").TextContent);
        Assert.Single(page.FindAll(".verdict-line"));
    }

    [Fact]
    public void Corrections_tell_who_when_why_and_what_they_made_of_the_score()
    {
        var start = SampleSchool.Report.Segments[1].StartUtc!.Value.AddSeconds(-8);
        var made = new CorrectionView(
            1,
            SampleSchool.InstructorId,
            "Ilse Farrow",
            SampleSchool.Now.AddHours(-1),
            "He began at the count.",
            false,
            [new ManualBoundary(1, start)],
            [],
            null,
            null,
            null,
            null
        );
        var better = SampleSchool.Report with { Overall = new OverallReport(0.84, Verdict.Close, "Better.") };
        var api = SchoolApi
            .For(Roles.Student)
            .Answer(
                Attempt,
                SampleSchool.Detail(SampleSchool.Grade()) with
                {
                    Score = better,
                    EngineScore = SampleSchool.Report,
                    Corrections = [made],
                    Revision = 1,
                }
            );
        var page = Open<DebriefPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Assert.Contains("The engine's own: not met, 78% in tolerance. As corrected: close, 84%.", page.Markup);
        Assert.Contains("2. Climbing turn starts 05:31:04. “He began at the count.”", page.Find(".history").TextContent);
        // To a student they are there to be read.
        Assert.Empty(page.FindAll(".corrections button"));
    }

    [Fact]
    public void A_start_moved_by_the_clock_is_sent_with_the_revision_it_was_seen_at()
    {
        var api = SchoolApi
            .For(Roles.Instructor)
            .Answer($"{Attempt}/boundaries", SampleSchool.Detail() with { Status = AttemptStatus.Queued, Revision = 1 });
        var page = Open<DebriefPage>(api, Roles.Instructor, p => p.Add(x => x.Id, SampleSchool.AttemptId));
        Button(page, "Correct times", ".corrections").Click();
        page.Find("input[aria-label='Start of 2. Climbing turn']").Change("05:31:08");
        Assert.Equal("05:31:08", page.Find("input[aria-label='Start of 2. Climbing turn']").GetAttribute("value"));
        Button(page, "Rescore with these", ".corrections").Click();
        page.WaitForAssertion(() => Assert.Contains($"PUT {Attempt}/boundaries", api.Asked));
        Assert.Contains("Rescoring", page.Find(".notice").TextContent);
    }

    [Fact]
    public void The_chief_sees_the_scale_by_its_digits()
    {
        var api = SchoolApi
            .For(Roles.Chief)
            .Answer(
                "school/settings",
                new SchoolSettings(SampleSchool.Person(Roles.Chief).School.GradeScale, new GradingSettings(["Scan first."]))
            );
        var page = Open<GradingPage>(api, Roles.Chief);
        Assert.Equal(
            ["Not yet", "Developing", "Competent", "Confident"],
            page.FindAll("input[aria-label^='Word']").Select(i => i.GetAttribute("value"))
        );
        Assert.Equal("Scan first.", page.Find("input[aria-label='Phrase 1']").GetAttribute("value"));
        page.Find("[aria-label='Move word 1 up the scale']").Click();
        Assert.Equal("Developing", page.Find("input[aria-label='Word 1']").GetAttribute("value"));
    }

    [Fact]
    public void The_chief_sees_and_sends_whether_instructors_may_draft()
    {
        var api = SchoolApi
            .For(Roles.Chief)
            .Answer(
                "school/settings",
                new SchoolSettings(SampleSchool.Person(Roles.Chief).School.GradeScale, new GradingSettings()) { InstructorsDraft = true }
            );
        var page = Open<GradingPage>(api, Roles.Chief);
        var box = page.Find("section[aria-labelledby=drafting] input[type=checkbox]");
        Assert.True(box.HasAttribute("checked"));
        box.Change(false);
        Button(page, "Save").Click();
        page.WaitForAssertion(() =>
            Assert.Contains("\"instructorsDraft\":false", api.Sent["PUT school/settings"], StringComparison.Ordinal)
        );
    }
}
