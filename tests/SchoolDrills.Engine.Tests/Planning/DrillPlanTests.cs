using System.Text.Json;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Engine.Tests.Planning;

public sealed class DrillPlanTests
{
    private static readonly AircraftProfile Four = Catalogue.Aircraft.Single(a => a.Slug == "tussock-four");

    private static DrillPlan Plan(string slug, DrillEntry entry, PlanConditions? conditions = null, AircraftProfile? aircraft = null) =>
        DrillPlan.Of(Catalogue.Templates.Single(t => t.Slug == slug), entry, aircraft ?? Four, conditions ?? new PlanConditions());

    [Theory]
    // Compressible flow in the atmosphere of ICAO Doc 7488/3: 100 kt at 5,000 ft is 107.67 kt true, at 15 °C above standard 110.53 kt;
    // 90 kt at 2,000 ft is 92.68 kt.
    [InlineData(100, 5000, null, 107.67)]
    [InlineData(100, 5000, 20.094, 110.53)]
    [InlineData(90, 2000, null, 92.68)]
    public void True_airspeed_follows_from_altitude_and_temperature(double airspeedKt, double altitudeFt, double? oatC, double trueKt) =>
        Assert.Equal(
            trueKt,
            Plan("racetrack", new DrillEntry(360, altitudeFt, airspeedKt), new PlanConditions(OatC: oatC)).TrueAirspeedKt,
            0.01
        );

    [Fact]
    public void Pressure_and_density_altitude_follow_from_the_altimeter_setting_and_the_temperature()
    {
        // 2,000 ft at 29.42 inHg (996.28 hPa) is a pressure altitude of 2,467 ft; 5,000 ft at 30 °C is a density altitude of 7,801 ft
        // (same source).
        Assert.Equal(2467, Plan("racetrack", new DrillEntry(360, 2000, 90), new PlanConditions(QnhHpa: 996.28)).PressureAltitudeFt, 1.0);
        Assert.Equal(7801, Plan("racetrack", new DrillEntry(360, 5000, 90), new PlanConditions(OatC: 30)).DensityAltitudeFt, 1.0);
    }

    [Fact]
    public void Bank_and_radius_are_those_of_the_coordinated_turn()
    {
        // tan φ = Vω/g, R = V/ω: 13.89° and 0.477 NM at 90 kt true; 86.1 kt at 3,000 ft in standard air is 90 kt true.
        var turn = Assert.Single(Plan("racetrack", new DrillEntry(360, 3000, 86.1)).Turns);

        Assert.Equal(13.89, turn.BankDeg, 0.02);
        Assert.Equal(0.477, turn.RadiusNm, 0.001);
        Assert.Equal(turn.BankDeg / 2, turn.RollOutLeadDeg);
    }

    [Fact]
    public void A_climb_in_air_too_thin_is_refused_with_the_comparison()
    {
        var low = Plan("box-circles", new DrillEntry(360, 3000, 90));
        var high = Plan("box-circles", new DrillEntry(360, 8000, 90), new PlanConditions(OatC: 20));

        Assert.True(low.Climb.Feasible);
        Assert.DoesNotContain(low.Climb.Why, low.Cautions);
        Assert.False(high.Climb.Feasible);
        // 750 fpm at sea level, 100 fpm at 14,500 ft, even between: 238 fpm at a density altitude of about 11,400 ft.
        Assert.Equal(750 - (650 * high.Climb.DensityAltitudeFt!.Value / 14500), high.Climb.AvailableFpm!.Value, 1e-9);
        Assert.InRange(high.Climb.DensityAltitudeFt.Value, 11300, 11700);
        Assert.Contains(high.Climb.Why, high.Cautions);
        Assert.StartsWith("The drill climbs at 500 fpm up to 9000 ft (density altitude 11", high.Climb.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void A_level_drill_can_always_be_climbed() =>
        Assert.Equal(
            (true, "The drill does not climb."),
            Plan("racetrack", new DrillEntry(360, 14000, 90)).Climb is var c ? (c.Feasible, c.Why) : default
        );

    [Fact]
    public void Drift_is_the_winds_speed_by_the_minute_and_over_the_whole_drill()
    {
        var plan = Plan("racetrack", new DrillEntry(360, 3000, 90), new PlanConditions(Winds: [new WindLevel(3000, 270, 30)]));

        var level = Assert.Single(plan.Drift.Levels);
        Assert.Equal((3000.0, 0.5), (level.AltitudeFt, level.NmPerMinute));
        Assert.Equal(270, level.WindFromDegTrue, 1e-6);
        // Seven minutes at half a mile a minute, toward the east.
        Assert.Equal(3.5, plan.Drift.TotalNm, 0.001);
        Assert.Equal(90, plan.Drift.TowardDegTrue, 1e-6);
    }

    [Fact]
    public void Wind_between_two_levels_is_interpolated_by_component_and_constant_beyond_them()
    {
        var winds = new WindsAloft([new WindLevel(4000, 360, 20), new WindLevel(2000, 270, 20)]);

        Assert.Equal((20, 0), Rounded(winds.At(1000)));
        Assert.Equal((10, -10), Rounded(winds.At(3000)));
        Assert.Equal((0, -20), Rounded(winds.At(9000)));

        static (double, double) Rounded((double East, double North) wind) => (Math.Round(wind.East, 9) + 0, Math.Round(wind.North, 9) + 0);
    }

    [Fact]
    public void An_airspeed_a_bank_or_a_floor_beyond_the_limits_is_cautioned()
    {
        var slow = Plan("racetrack", new DrillEntry(360, 3000, 55), new PlanConditions(FloorFt: 3500));
        var steep = Plan("steep-turns", new DrillEntry(360, 5000, 115));

        Assert.False(slow.AboveFloor);
        Assert.Contains("55 kt is below the 65 kt that the Tussock Four, four-seat trainer is flown at in drills.", slow.Cautions);
        Assert.Contains("The drill goes down to 3000 ft, below the floor of 3500 ft.", slow.Cautions);
        Assert.Contains(steep.Cautions, c => c.StartsWith("10.92°/s at 115 kt needs 51° of bank", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(500)]
    public void An_impossible_altimeter_setting_is_refused(double qnhHpa) =>
        Assert.Throws<ArgumentException>(() => Plan("racetrack", new DrillEntry(360, 3000, 90), new PlanConditions(QnhHpa: qnhHpa)));

    [Fact]
    public void Every_profile_that_comes_with_the_engine_is_of_an_invented_type()
    {
        Assert.NotEmpty(Catalogue.Aircraft);
        Assert.All(Catalogue.Aircraft, a => Assert.StartsWith("Invented type", a.Basis, StringComparison.Ordinal));
        Assert.All(Catalogue.Aircraft, a => Assert.Equal(100, a.ClimbFpmAt(a.ServiceCeilingFt), 1e-9));
        Assert.All(Catalogue.Aircraft, a => Assert.InRange(a.DrillAirspeedKt, a.LowestAirspeedKt, a.HighestAirspeedKt));
    }

    [Fact]
    public void A_plan_survives_JSON()
    {
        var plan = Plan("box-circles", new DrillEntry(360, 3000, 90), new PlanConditions(Start: new LatLon(-43.7, 171.9)));
        var json = JsonSerializer.Serialize(plan, EngineJson.Default.DrillPlan);

        Assert.Equal(
            json,
            JsonSerializer.Serialize(JsonSerializer.Deserialize(json, EngineJson.Default.DrillPlan), EngineJson.Default.DrillPlan)
        );
    }
}
