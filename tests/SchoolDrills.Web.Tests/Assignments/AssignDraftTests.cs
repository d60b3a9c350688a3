using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Assignments;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Tests.Assignments;

public sealed class AssignDraftTests
{
    private static readonly SchoolTime Time = new("Pacific/Auckland", new PageTest.FixedClock(SampleSchool.Now));

    private static readonly AircraftProfile Slow = Catalogue.Aircraft[0] with { Slug = "slow", DrillAirspeedKt = 80 },
        Fast = Catalogue.Aircraft[0] with { Slug = "fast", DrillAirspeedKt = 120 };

    private static DrillSummary Drill(string slug, params SegmentKind[] kinds) =>
        new(slug, 1, slug, "", 300, 4, 2, "published", "instrument-rating") { Kinds = kinds };

    private static AssignmentSummary Made(string student, string drill, DateOnly? due = null) =>
        SampleSchool.Assignment(due: due, id: Guid.CreateVersion7()) with
        {
            StudentName = student,
            DrillTitle = drill,
        };

    [Fact]
    public void An_aeroplane_brings_its_airspeed_and_leaves_one_that_was_typed()
    {
        var draft = new AssignDraft();
        draft.Choose(Slow);
        Assert.Equal((80.0, "slow"), (draft.AirspeedKt, draft.Overrides!.Aircraft));
        draft.Choose(Fast);
        Assert.Equal(120, draft.AirspeedKt);
        draft.AirspeedKt = 95;
        draft.Choose(Slow);
        Assert.Equal(95, draft.AirspeedKt);
        draft.AirspeedKt = null;
        draft.Choose(null);
        Assert.Null(draft.Overrides);
    }

    [Fact]
    public void Half_rate_is_sent_where_a_chosen_drill_turns()
    {
        var draft = new AssignDraft { HalfRate = true };
        draft.Toggle(Drill("climbs", SegmentKind.ClimbStraight));
        Assert.Null(draft.Overrides);
        draft.Toggle(Drill("turns", SegmentKind.ClimbTurn));
        Assert.True(draft.Overrides!.HalfRate);
        Assert.Equal(["climbs", "turns"], draft.Asked.DrillSlugs);
        draft.Toggle(Drill("climbs"));
        Assert.Equal(["turns"], draft.Asked.DrillSlugs);
    }

    [Fact]
    public void A_wind_by_half_and_a_day_gone_by_are_said()
    {
        var today = new DateOnly(2026, 3, 3);
        Assert.Contains("or neither", new AssignDraft { WindKt = 10 }.Problem(today)!, StringComparison.Ordinal);
        Assert.Contains("has passed", new AssignDraft { DueOn = new DateTime(2026, 3, 2) }.Problem(today)!, StringComparison.Ordinal);
        Assert.Null(
            new AssignDraft
            {
                DueOn = new DateTime(2026, 3, 3),
                WindKt = 10,
                WindFromDegTrue = 0,
            }.Problem(today)
        );
    }

    [Fact]
    public void What_was_assigned_is_said_by_drill_and_student()
    {
        Assert.Equal(
            "Box circles and Racetrack assigned to Ana Pohl and Rewi Marsh, due Fri 6 Mar.",
            AssignWords.Made(
                [
                    Made("Rewi Marsh", "Box circles"),
                    Made("Ana Pohl", "Box circles"),
                    Made("Rewi Marsh", "Racetrack"),
                    Made("Ana Pohl", "Racetrack"),
                ],
                Time
            )
        );
        Assert.Equal(
            "Box circles assigned to Ana Pohl and Rewi Marsh; Racetrack assigned to Ana Pohl, due Fri 6 Mar.",
            AssignWords.Made([Made("Rewi Marsh", "Box circles"), Made("Ana Pohl", "Box circles"), Made("Ana Pohl", "Racetrack")], Time)
        );
        Assert.Equal("Nothing was assigned.", AssignWords.Made([], Time));
        Assert.Equal(
            "Already assigned and not flown yet: Rewi Marsh (Racetrack, due tomorrow).",
            AssignWords.Skipped([Made("Rewi Marsh", "Racetrack", new DateOnly(2026, 3, 4))], Time)
        );
        Assert.Null(AssignWords.Skipped([], Time));
    }

    [Fact]
    public void Of_many_names_a_few_are_said_and_the_rest_counted()
    {
        var made = Enumerable.Range(1, 9).Select(n => Made($"Student {n}", "Racetrack")).ToList();
        Assert.Equal(
            "Racetrack assigned to Student 1, Student 2, Student 3, Student 4, Student 5 and 4 others, due Fri 6 Mar.",
            AssignWords.Made(made, Time)
        );
        Assert.EndsWith("and 3 others.", AssignWords.Skipped(made, Time)!, StringComparison.Ordinal);
    }
}
