using SchoolDrills.Accuracy;
using SchoolDrills.Accuracy.Flown;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// Totals over simulated flights of seeds that no constant was fitted on: drills of the whole catalogue in either hand, pilots of any
/// skill, one or two errors on purpose in most. Single flights may do better or worse; the totals must not fall.
/// </summary>
public sealed class FlownTotalsTests
{
    private const int Flights = 40;

    private static readonly int FirstSeed = SeedSplit.Validate.FirstSeed;
    private static readonly Lazy<List<FlownResult>> Results = new(() => FlownReport.Score(FirstSeed, Flights, Scored.Standard));

    [Theory]
    [InlineData("gpx")]
    [InlineData("csv")]
    public void Totals_over_simulated_flights_hold(string format)
    {
        var totals = FlownReport.Sum(Results.Value.Where(r => r.Format == format));
        Assert.True(totals.Found >= 0.8 * totals.Flights, $"{totals.Found} of {totals.Flights} drills are found.");
        Assert.True(
            totals.RecognizableFound >= 0.85 * totals.Recognizable,
            $"{totals.RecognizableFound} of {totals.Recognizable} recognizable drills are found."
        );
        Assert.True(totals.Refused >= 0.95 * totals.Empty, $"{totals.Refused} of {totals.Empty} drills that are not there are refused.");
        Assert.InRange(Tally.SizeAt(totals.BoundaryS, 0.5), 0, 1.2);
        Assert.InRange(Tally.SizeAt(totals.BoundaryS, 0.95), 0, 14);
        var (judged, agreed, _, kappa) = totals.Verdicts.Of(Verdicts.Deciding);
        Assert.True(agreed >= 0.9 * judged, $"{agreed} of {judged} verdicts are as in truth.");
        Assert.True(kappa >= 0.45, $"Verdicts agree by {kappa:0.00} beyond chance.");
        Assert.True(
            totals.Reported >= 0.65 * totals.Labelled,
            $"{totals.Reported} of {totals.Labelled} errors made on purpose are reported."
        );
        Assert.True(
            totals.Confirmed >= 0.85 * totals.FindingsCount,
            $"{totals.Confirmed} of {totals.FindingsCount} findings are confirmed."
        );
    }

    [Theory]
    [InlineData("gpx")]
    [InlineData("csv")]
    public void What_is_stated_as_likely_is_true_as_often(string format)
    {
        var totals = FlownReport.Sum(Results.Value.Where(r => r.Format == format));
        // 95 of 100 if the sigmas were exact.
        var boundaries = totals.Errors[Comparison.Boundary];
        Assert.InRange((double)boundaries.Count(b => b.Covered) / boundaries.Count, 0.85, 0.99);
        AssertTrueAsStated(totals.Verdicts.Chances, 0.06);
        AssertTrueAsStated(totals.FindingChances, 0.12);
    }

    private static void AssertTrueAsStated(List<(double Stated, bool True)> chances, double within) =>
        Assert.Equal(chances.Average(c => c.Stated), (double)chances.Count(c => c.True) / chances.Count, within);

    [Fact]
    public void A_seed_gives_the_same_flight_each_time()
    {
        var (one, again) = (FlownFlight.Fly(FirstSeed), FlownFlight.Fly(FirstSeed));
        Assert.Equal(one.Moments, again.Moments);
        Assert.Equal(one.Mistakes, again.Mistakes);
    }

    [Fact]
    public void A_steady_bank_turns_at_the_rate_of_the_coordinated_turn()
    {
        // Common practice: at 90 kt a standard-rate turn, 3° a second, takes some 14° of bank (tan φ = V ω / g).
        var plane = new Aeroplane(new Day(new Random(7)), AeroplaneType.All[0], new Random(7))
        {
            SteadyKt = 90,
            AltitudeFt = 3000,
            PowerKt = 91,
        };
        plane.Step(FlownFlight.StepS);
        Assert.InRange(plane.BankFor(3), 13.3, 15.2);
    }
}
