using SchoolDrills.Accuracy;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// Totals over all simulated flights with known truth, which must not fall: found, refused, boundaries, verdicts, errors made on
/// purpose. Single flights may do better or worse.
/// </summary>
public sealed class FlightTotalsTests
{
    [Theory]
    [InlineData("track.gpx", 0.8, 3.0, 0.9)]
    [InlineData("air.csv", 0.8, 3.0, 0.95)]
    public void Totals_over_all_flights_hold(string file, double medianS, double p95S, double agreement)
    {
        var flights = TruthFlight.In(Tracks.SharedFlightTests.SharedFlights()).ToList();
        var templates = Catalogue.Templates.Where(t => flights.Any(f => f.Drill == t.Slug)).ToList();
        var totals = Totals.Of(flights, file, templates, Scored.Standard);
        Assert.Equal(totals.Flights, totals.Found);
        Assert.Equal(totals.Empty, totals.Refused);
        var errors = totals.BoundaryS.Select(Math.Abs).Order().ToArray();
        Assert.True(errors[errors.Length / 2] <= medianS, $"Boundaries are off by {errors[errors.Length / 2]:0.0} s at the median.");
        Assert.True(errors[(int)(errors.Length * 0.95)] <= p95S, $"One boundary in twenty is off by {errors[(int)(errors.Length * 0.95)]:0.0} s or more.");
        var (judged, agreed, abstained, kappa) = totals.Verdicts.Of(Verdicts.Deciding);
        Assert.True(agreed >= agreement * judged, $"{agreed} of {judged} verdicts are as in truth.");
        Assert.True(abstained <= 0.15 * (judged + abstained), $"{abstained} verdicts were not given.");
        Assert.True(kappa >= 0.7, $"Verdicts agree by {kappa:0.00} beyond chance.");
        Assert.True(totals.Told >= 0.9 * totals.Labelled, $"{totals.Told} of {totals.Labelled} errors made on purpose are told.");
        Assert.True(totals.BorneOut >= 0.85 * totals.FindingsCount, $"{totals.BorneOut} of {totals.FindingsCount} findings are borne out.");
        Assert.True(totals.EpisodesFound >= 0.8 * totals.Episodes, $"{totals.EpisodesFound} of {totals.Episodes} episodes of saturation are found.");
    }
}
