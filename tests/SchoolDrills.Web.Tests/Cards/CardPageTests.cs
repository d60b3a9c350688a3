using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Cards;
using SchoolDrills.Web.Tests.Planning;

namespace SchoolDrills.Web.Tests.Cards;

public sealed class CardPageTests : PageTest
{
    private static readonly DrillTemplate Box = Catalogue.Templates.Single(t => t.Slug == "box-circles");

    private void Go(string query) => Services.GetRequiredService<NavigationManager>().NavigateTo($"/drills/box-circles/card?{query}");

    private static SchoolApi For(string role)
    {
        // The school's server sends a student no questions; here it does, and the page has to hold them back.
        return PlanSchool
            .For(role)
            .Answer("drills/box-circles", Box with { Version = 1 })
            .Answer("drills/box-circles/timeline", DrillTimeline.Resolve(Box, Box.Entry))
            .Answer("drills/box-circles/picture", SampleSchool.Picture);
    }

    [Theory]
    [InlineData(Roles.Instructor, null, true)]
    [InlineData(Roles.Instructor, "instructor", true)]
    [InlineData(Roles.Instructor, "student", false)]
    [InlineData(Roles.Student, null, false)]
    [InlineData(Roles.Student, "instructor", false)]
    [InlineData(Roles.Student, "INSTRUCTOR", false)]
    public void Questions_are_on_the_copy_of_who_asks_them_alone(string role, string? copy, bool questions)
    {
        var page = Open<CardPage>(For(role), role, p => p.Add(x => x.Slug, "box-circles"));
        Go($"copy={copy}");

        var card = page.Find(".card").TextContent;
        Assert.Equal(questions, card.Contains("What is the reciprocal of 240?", StringComparison.Ordinal));
        Assert.Equal(questions, card.Contains("Answer: 060", StringComparison.Ordinal));
        Assert.Equal(!questions, card.Contains("Load task", StringComparison.Ordinal));
        Assert.Contains("Clean-up flow, side 1, by 3:00", card, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, "210mm 297mm")]
    [InlineData("letter", "215.9mm 279.4mm")]
    [InlineData("a5", "148mm 210mm")]
    [InlineData("papyrus", "210mm 297mm")]
    public void The_paper_of_the_address_is_the_paper_of_the_card(string? paper, string size)
    {
        var page = Open<CardPage>(For(Roles.Instructor), Roles.Instructor, p => p.Add(x => x.Slug, "box-circles"));
        Go($"paper={paper}");

        var style = page.Find(".card").GetAttribute("style")!;
        Assert.All(size.Split(' '), s => Assert.Contains(s, style, StringComparison.Ordinal));
    }

    [Fact]
    public void A_kept_plan_puts_the_day_and_its_entry_on_the_card()
    {
        var plan = new AssignmentPlan(
            new PlanDrill(
                "tussock-four",
                HeadingMagDeg: 90,
                QnhHpa: 1009,
                Start: PlanSchool.Middle,
                FloorFt: 2500,
                Winds: [new WindLevel(4500, 290, 15)],
                AreaName: "Plains West"
            ),
            1,
            "Hana Whitcombe",
            SampleSchool.Now,
            1,
            ["Planned for heading 090°; 360° is assigned."]
        );
        var api = PlanSchool
            .For(Roles.Student)
            .Answer($"assignments/{SampleSchool.AssignmentId}", SampleSchool.Assignment() with { Plan = plan });
        var page = Open<CardPage>(api, Roles.Student, p => p.Add(x => x.Id, SampleSchool.AssignmentId));

        var card = page.Find(".card").TextContent;
        Assert.Contains("4,500 ft 290° 15 kt", card, StringComparison.Ordinal);
        Assert.Contains("43°42.0′S 171°54.0′E, Plains West", card, StringComparison.Ordinal);
        Assert.Contains("Hana Whitcombe", card, StringComparison.Ordinal);
        Assert.Contains("Planned for heading 090°; 360° is assigned.", page.Find(".card .warn").TextContent, StringComparison.Ordinal);
        // The timetable is asked for the planned entry.
        Assert.Contains(
            api.Asked,
            a => a.Contains("timeline", StringComparison.Ordinal) && a.Contains("eadingMagDeg=90", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Every_row_of_the_timetable_is_in_a_column_and_in_the_order_of_time()
    {
        var timeline = DrillTimeline.Resolve(Box, Box.Entry);
        var rows = CardTimetable.Of(timeline, withQuestions: true, withGates: true);
        foreach (var paper in Paper.All)
        {
            foreach (var columns in (int[])[1, 2, 3])
            {
                var split = new CardFit(8, columns, 60, true, true).Split(rows, paper);
                Assert.Equal(rows, split.SelectMany(c => c));
                Assert.InRange(split.Count, 1, columns);
            }
        }
    }
}
