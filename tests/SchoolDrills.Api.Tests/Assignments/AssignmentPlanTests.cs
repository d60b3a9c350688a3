using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Api.Tests.Assignments;

/// <summary>A school with aircraft to plan with.</summary>
public sealed class SchoolWithAircraft : SchoolsFixture
{
    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await AddAircraftAsync();
    }
}

public sealed class AssignmentPlanTests(SchoolWithAircraft app) : IClassFixture<SchoolWithAircraft>
{
    private static readonly PlanDrill Plan = new(
        "tussock-four",
        QnhHpa: 1009,
        OatC: 12,
        Start: new LatLon(-43.7, 171.9),
        FloorFt: 2500,
        Winds: [new WindLevel(3000, 290, 15), new WindLevel(5000, 300, 25)],
        AreaName: "Plains West"
    );

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_plan_is_kept_with_the_assignment_with_who_made_it_and_when()
    {
        var assignment = await app.AssignAsync("racetrack");
        var student = await app.AsAsync(SchoolsFixture.Student);
        Assert.Null((await student.AssignmentAsync(assignment.Id, Cancel)).Plan);

        await student.SavePlanAsync(assignment.Id, new SavePlan(Plan), Cancel);
        var kept = (await (await app.AsAsync(SchoolsFixture.Instructor)).AssignmentAsync(assignment.Id, Cancel)).Plan!;

        Assert.Equal((1, "The student", 1), (kept.Revision, kept.PlannedBy, kept.DrillVersion));
        Assert.Equal(Plan.Winds, kept.Asked.Winds);
        Assert.Equal((1009.0, "Plains West"), (kept.Asked.QnhHpa, kept.Asked.AreaName));
        Assert.Empty(kept.Differences);
        Assert.All(await student.AssignmentsAsync(app.IdOf(SchoolsFixture.Student), ct: Cancel), a => Assert.Null(a.Plan));

        // Another student sees neither.
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.OtherStudent)).SavePlanAsync(assignment.Id, new SavePlan(Plan, 1), Cancel)
        );
    }

    [Fact]
    public async Task Of_two_who_save_over_the_same_plan_the_second_is_told_who_was_first()
    {
        var assignment = await app.AssignAsync("racetrack");
        var (student, instructor) = (await app.AsAsync(SchoolsFixture.Student), await app.AsAsync(SchoolsFixture.Instructor));
        await student.SavePlanAsync(assignment.Id, new SavePlan(Plan), Cancel);

        var refused = await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => instructor.SavePlanAsync(assignment.Id, new SavePlan(Plan with { QnhHpa = 1020 }), Cancel)
        );
        Assert.StartsWith("The student saved a plan for this assignment meanwhile", refused.Message, StringComparison.Ordinal);
        Assert.Equal(2, (await instructor.SavePlanAsync(assignment.Id, new SavePlan(Plan with { QnhHpa = 1020 }, 1), Cancel)).Revision);
        Assert.Equal(1020, (await student.AssignmentAsync(assignment.Id, Cancel)).Plan!.Asked.QnhHpa);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public async Task Of_ten_who_save_at_once_one_wins_and_nine_are_told(int before)
    {
        var assignment = await app.AssignAsync("racetrack");
        var student = await app.AsAsync(SchoolsFixture.Student);
        if (before == 1)
            await student.SavePlanAsync(assignment.Id, new SavePlan(Plan), Cancel);

        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 10)
                .Select(async n =>
                {
                    try
                    {
                        await student.SavePlanAsync(assignment.Id, new SavePlan(Plan with { QnhHpa = 1000 + n }, before), Cancel);
                        return HttpStatusCode.OK;
                    }
                    catch (ApiProblemException refusal)
                    {
                        return refusal.Status;
                    }
                })
        );

        Assert.Equal(1, answers.Count(a => a == HttpStatusCode.OK));
        Assert.Equal(9, answers.Count(a => a == HttpStatusCode.Conflict));
        Assert.Equal(before + 1, (await student.AssignmentAsync(assignment.Id, Cancel)).Plan!.Revision);
    }

    [Fact]
    public async Task A_plan_for_another_entry_or_version_says_so()
    {
        var assignment = await app.AssignAsync("racetrack", overrides: new AssignmentOverrides(HeadingMagDeg: 90, HalfRate: true));
        var student = await app.AsAsync(SchoolsFixture.Student);
        await student.SavePlanAsync(assignment.Id, new SavePlan(Plan with { AltitudeFt = 5000, Mirrored = true }), Cancel);
        await app.QueryAsync(db =>
            db.AssignmentPlans.Where(p => p.AssignmentId == assignment.Id)
                .ExecuteUpdateAsync(p => p.SetProperty(x => x.DrillVersion, 7), Cancel)
        );

        Assert.Equal(
            [
                "Planned for version 7 of the drill; version 1 is assigned.",
                "Planned for heading 360°; 090° is assigned.",
                "Planned for 5,000 ft; 3,000 ft are assigned.",
                "Planned mirrored; assigned as drawn.",
                "Planned at full rate; assigned at half rate.",
            ],
            (await student.AssignmentAsync(assignment.Id, Cancel)).Plan!.Differences
        );
    }

    [Fact]
    public async Task What_cannot_be_planned_is_not_kept()
    {
        var assignment = await app.AssignAsync("racetrack");
        var student = await app.AsAsync(SchoolsFixture.Student);
        foreach (
            var wrong in (PlanDrill[])
                [
                    Plan with
                    {
                        AircraftId = "no-such-type",
                    },
                    Plan with
                    {
                        QnhHpa = 500,
                    },
                    Plan with
                    {
                        AltitudeFt = 99_000,
                    },
                    Plan with
                    {
                        Winds = [new WindLevel(3000, 270, 400)],
                    },
                    Plan with
                    {
                        WindFromDegTrue = 270,
                        WindKt = 10,
                    },
                    Plan with
                    {
                        FloorFt = 3000,
                        CeilingFt = 2000,
                    },
                    Plan with
                    {
                        Area = new GeoJsonPolygon("Polygon", []),
                    },
                ]
        )
        {
            await Refusals.RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                () => student.SavePlanAsync(assignment.Id, new SavePlan(wrong), Cancel)
            );
        }

        Assert.Null((await student.AssignmentAsync(assignment.Id, Cancel)).Plan);
        await (await app.AsAsync(SchoolsFixture.Instructor)).CancelAssignmentAsync(assignment.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => student.SavePlanAsync(assignment.Id, new SavePlan(Plan), Cancel));
    }
}
