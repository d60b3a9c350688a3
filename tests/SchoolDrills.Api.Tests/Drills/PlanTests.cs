using System.Net;
using System.Net.Http.Json;
using SchoolDrills.Api.Drills;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Api.Tests.Drills;

/// <summary>A school with the whole catalogue, as a fresh one receives it.</summary>
public sealed class WholeCatalogue : SchoolsFixture
{
    public override async ValueTask InitializeAsync()
    {
        await base.InitializeAsync();
        await QueryAsync(async db =>
        {
            await StarterCatalogue.AddCatalogueAsync(db, TussockId, DateTimeOffset.UnixEpoch, TestContext.Current.CancellationToken);
            return await db.SaveChangesAsync(TestContext.Current.CancellationToken);
        });
    }
}

public sealed class PlanTests(WholeCatalogue app) : IClassFixture<WholeCatalogue>
{
    private static readonly LatLon Plains = new(-43.7, 171.9);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(false, 0)]
    [InlineData(false, 40)]
    [InlineData(true, 0)]
    [InlineData(true, 40)]
    public async Task Every_drill_of_the_catalogue_can_be_timed_and_planned(bool mirrored, double windKt)
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var aircraft = (await student.AircraftAsync(Cancel))[0].Slug;
        foreach (var drill in await student.DrillsAsync(Cancel))
        {
            var timeline = await student.TimelineAsync(drill.Slug, entry: new AssignmentOverrides(Mirrored: mirrored), ct: Cancel);
            Assert.Equal(drill.DurationS, timeline.DurationS, 1e-6);
            var plan = await student.PlanAsync(
                drill.Slug,
                new PlanDrill(aircraft, Mirrored: mirrored, WindFromDegTrue: 250, WindKt: windKt, OatC: 10, QnhHpa: 1013, Start: Plains),
                Cancel
            );
            Assert.NotEmpty(plan.ClimbWhy);
            Assert.Equal(plan.Plan.GroundPath.TimeS.Length, plan.GroundPath!.Coordinates.Count);
            // Still air carries nothing; a steady wind carries the whole drill its speed times its time.
            Assert.Equal(windKt * drill.DurationS / 3600, plan.Plan.Drift.TotalNm, 0.05);
        }
    }

    [Fact]
    public async Task Wind_by_height_half_rate_and_a_ceiling_are_planned_with()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var aircraft = (await student.AircraftAsync(Cancel))[0].Slug;
        var asked = new PlanDrill(
            aircraft,
            AltitudeFt: 3000,
            CeilingFt: 3500,
            Winds: [new WindLevel(2000, 270, 10), new WindLevel(4000, 270, 30)]
        );

        var full = await student.PlanAsync("racetrack", asked, Cancel);
        var half = await student.PlanAsync("racetrack", asked with { HalfRate = true }, Cancel);

        // 20 kt at 3,000 ft: seven minutes carry 2.33 NM; at half rate the two turns take a minute more each.
        Assert.Equal(20 * 7 / 60.0, full.Plan.Drift.TotalNm, 0.02);
        Assert.Equal(20 * 9 / 60.0, half.Plan.Drift.TotalNm, 0.02);
        Assert.True(half.BankDeg < full.BankDeg);
        Assert.Equal(500, full.Plan.CeilingMargin!.MarginFt);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.PlanAsync("racetrack", asked with { WindFromDegTrue = 270, WindKt = 10 }, Cancel)
        );
    }

    [Fact]
    public async Task A_practice_area_gets_a_start_that_keeps_the_drill_inside_or_the_word_that_none_does()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var aircraft = (await student.AircraftAsync(Cancel))[0].Slug;
        var wide = await student.PlanAsync(
            "box-circles",
            new PlanDrill(aircraft, WindFromDegTrue: 300, WindKt: 15, Area: Square(0.3)),
            Cancel
        );
        Assert.NotNull(wide.Plan.Area!.SuggestedStart);
        Assert.True(wide.Plan.Area.SuggestedMarginNm > 0);
        var narrow = await student.PlanAsync(
            "box-circles",
            new PlanDrill(aircraft, WindFromDegTrue: 300, WindKt: 15, Area: Square(0.01)),
            Cancel
        );
        Assert.Null(narrow.Plan.Area!.SuggestedStart);
        Assert.NotEmpty(narrow.Plan.Area.Text);
    }

    [Fact]
    public async Task What_cannot_be_planned_is_refused_in_a_sentence()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        var aircraft = (await student.AircraftAsync(Cancel))[0].Slug;
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.PlanAsync("racetrack", new PlanDrill("no-such-type"), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.PlanAsync("racetrack", new PlanDrill(aircraft, WindKt: 20), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.PlanAsync("racetrack", new PlanDrill(aircraft, Area: new GeoJsonPolygon("Polygon", [])), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => student.PlanAsync("no-such-drill", new PlanDrill(aircraft), Cancel));
    }

    [Fact]
    public async Task Only_the_chief_adds_standards_and_aircraft_and_a_standard_never_changes()
    {
        var standard = new ToleranceStandard
        {
            Slug = "house-tight",
            Title = "House, tight",
            Source = "The school",
            Basis = "school",
            Tolerances = [new Tolerance(Parameter.Altitude, 50)],
        };
        using var chief = await app.HttpAsync(SchoolsFixture.Chief);
        using var instructor = await app.HttpAsync(SchoolsFixture.Instructor);
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (
                await instructor.PostAsJsonAsync("/api/v1/standards", standard, Engine.EngineJson.Default.ToleranceStandard, Cancel)
            ).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.Created,
            (await chief.PostAsJsonAsync("/api/v1/standards", standard, Engine.EngineJson.Default.ToleranceStandard, Cancel)).StatusCode
        );
        await (
            await chief.PostAsJsonAsync("/api/v1/standards", standard, Engine.EngineJson.Default.ToleranceStandard, Cancel)
        ).ProblemAsync(HttpStatusCode.Conflict);

        var profile = (await new SchoolDrillsClient(chief).AircraftAsync(Cancel))[0] with { Slug = "tussock-two-seater" };
        Assert.Equal(
            HttpStatusCode.Forbidden,
            (await instructor.PostAsJsonAsync("/api/v1/aircraft", profile, Engine.EngineJson.Default.AircraftProfile, Cancel)).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.Created,
            (await chief.PostAsJsonAsync("/api/v1/aircraft", profile, Engine.EngineJson.Default.AircraftProfile, Cancel)).StatusCode
        );
        Assert.Equal(
            HttpStatusCode.OK,
            (
                await chief.PostAsJsonAsync(
                    "/api/v1/aircraft",
                    profile with
                    {
                        ServiceCeilingFt = 12_000,
                    },
                    Engine.EngineJson.Default.AircraftProfile,
                    Cancel
                )
            ).StatusCode
        );
    }

    /// <summary>A square about the plains, with half a side in degrees.</summary>
    private static GeoJsonPolygon Square(double half)
    {
        double west = Plains.LonDeg - half,
            east = Plains.LonDeg + half,
            south = Plains.LatDeg - half,
            north = Plains.LatDeg + half;
        return new GeoJsonPolygon(
            "Polygon",
            [
                [
                    [west, south],
                    [east, south],
                    [east, north],
                    [west, north],
                    [west, south],
                ],
            ]
        );
    }
}
