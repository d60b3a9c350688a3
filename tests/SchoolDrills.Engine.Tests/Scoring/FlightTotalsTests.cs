using SchoolDrills.Accuracy;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// Totals over the simulated flights with known truth (<c>Accuracy/Flights</c>), which must not fall: found, refused, boundaries,
/// verdicts, errors made on purpose. Single flights may do better or worse.
/// </summary>
public sealed class FlightTotalsTests
{
    [Theory]
    [InlineData("track.gpx", 0.8, 3.0, 0.9)]
    [InlineData("air.csv", 0.8, 3.0, 0.95)]
    public void Totals_over_all_flights_hold(string file, double medianS, double p95S, double agreement)
    {
        var flights = TruthFlight.In(TruthFlight.OwnFolder).ToList();
        var templates = Catalogue.Templates.Where(t => flights.Any(f => f.Drill == t.Slug)).ToList();
        var totals = Totals.Of(flights, file, templates, Scored.Standard);
        Assert.Equal(totals.Flights, totals.Found);
        Assert.Equal(totals.Empty, totals.Refused);
        var errors = totals.BoundaryS.Select(Math.Abs).Order().ToArray();
        Assert.True(errors[errors.Length / 2] <= medianS, $"Boundaries are off by {errors[errors.Length / 2]:0.0} s at the median.");
        Assert.True(
            errors[(int)(errors.Length * 0.95)] <= p95S,
            $"One boundary in twenty is off by {errors[(int)(errors.Length * 0.95)]:0.0} s or more."
        );
        var (judged, agreed, abstained, kappa) = totals.Verdicts.Of(Verdicts.Deciding);
        Assert.True(agreed >= agreement * judged, $"{agreed} of {judged} verdicts are as in truth.");
        Assert.True(abstained <= 0.15 * (judged + abstained), $"{abstained} verdicts were not given.");
        Assert.True(kappa >= 0.7, $"Verdicts agree by {kappa:0.00} beyond chance.");
        Assert.True(
            totals.Reported >= 0.9 * totals.Labelled,
            $"{totals.Reported} of {totals.Labelled} errors made on purpose are reported."
        );
        Assert.True(
            totals.Confirmed >= 0.85 * totals.FindingsCount,
            $"{totals.Confirmed} of {totals.FindingsCount} findings are confirmed."
        );
        Assert.True(
            totals.EpisodesFound >= 0.8 * totals.Episodes,
            $"{totals.EpisodesFound} of {totals.Episodes} episodes of saturation are found."
        );
    }

    /// <summary>
    /// The same flights as recorded by poor phones: the drill is found in at least thirteen of fourteen and in none without one, boundaries
    /// and verdicts are a little worse, and a rate that noise leaves uncertain has no verdict.
    /// </summary>
    [Theory]
    [InlineData("white 5 m, 20 ft", 0.8, 3.5, 0.94, true)]
    [InlineData("white 10 m, 40 ft", 1.0, 4.0, 0.93, true)]
    [InlineData("wander 8 m, 30 s", 1.0, 3.5, 0.92, false)]
    [InlineData("dropouts of 5 to 20 s", 0.8, 4.0, 0.92, false)]
    [InlineData("dropouts, white 5 m, 20 ft", 1.2, 6.5, 0.92, true)]
    public void Totals_over_rough_recordings_hold(string variant, double medianS, double p95S, double agreement, bool ratesUncertain)
    {
        var flights = TruthFlight.In(TruthFlight.OwnFolder).ToList();
        var templates = Catalogue.Templates.Where(t => flights.Any(f => f.Drill == t.Slug)).ToList();
        var totals = Totals.Of(
            flights.Select(f => (f, Variants.RoughOf(f).Single(v => v.Name == variant).Track)),
            templates,
            Scored.Standard
        );
        Assert.True(totals.Found >= totals.Flights - 1, string.Join('\n', totals.Misses));
        Assert.Equal(totals.Empty, totals.Refused);
        var errors = totals.BoundaryS.Select(Math.Abs).Order().ToArray();
        Assert.True(errors[errors.Length / 2] <= medianS, $"Boundaries are off by {errors[errors.Length / 2]:0.0} s at the median.");
        Assert.True(
            errors[(int)(errors.Length * 0.95)] <= p95S,
            $"One boundary in twenty is off by {errors[(int)(errors.Length * 0.95)]:0.0} s or more."
        );
        var (judged, agreed, _, _) = totals.Verdicts.Of(Verdicts.Deciding);
        Assert.True(agreed >= agreement * judged, $"{agreed} of {judged} verdicts are as in truth.");
        if (ratesUncertain)
            Assert.Equal(0, totals.Verdicts.Of(Parameter.VerticalSpeed).Judged);
        foreach (var quantity in new[] { "heading, deg", "turn rate, deg/s", "vertical speed, fpm", "airspeed, kt", "wind vector, kt" })
        {
            var covered = totals.Errors[quantity].Count(e => e.Covered) / (double)totals.Errors[quantity].Count;
            Assert.True(covered >= 0.85, $"{covered:0.00} of the errors of {quantity} are inside two sigma.");
        }
    }
}
