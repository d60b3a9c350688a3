using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

/// <summary>
/// What the wind of hours of general flying is worth, each with changing airspeeds and winds, and that its sigma says so.
/// </summary>
public sealed class ChangingAirspeedTests
{
    private const int Flights = 60;

    /// <summary>With a view of the sky: what the air and the pilot do is looked at here, not what the receiver does.</summary>
    private static readonly Receiver Good = new(0, 0, 60, WhiteM: 0.4, WhiteUpM: 0, LateS: 0, Hz: 1, DropsOut: false);

    private static readonly Lazy<List<(FlownFlight Flight, FlightState State)>> Hours = new(() =>
        [.. Enumerable.Range(1, Flights).Select(FlownFlight.WithoutDrill).Select(f => (f, SyntheticFlight.Reconstruct(Recorded(f))))]
    );

    /// <summary>
    /// Climb, cruise and approach speeds that last for minutes must not be taken for wind. Circuits have a test of their own.
    /// </summary>
    [Theory]
    [InlineData(420, 1.8, 4.6)]
    [InlineData(1200, 1.1, 2.6)]
    public void The_wind_is_within_the_ellipse_that_its_sigma_draws(double windowS, double mostMedianKt, double mostOfNineInTenKt)
    {
        var windows = new List<(double ErrorKt, double SigmaKt)>();
        foreach (var (flight, state) in Hours.Value)
        {
            var turns = Turns(flight);
            for (var fromS = turns[0].StartS; fromS + windowS < flight.Moments[^1].TimeS; fromS += windowS)
            {
                var within = flight.OtherLegs.FindAll(l => l.EndS > fromS && l.StartS < fromS + windowS);
                if (within.Exists(IsFinal) || turns.Count(t => within.Contains(t) && t.EndS - t.StartS > 20) < 3)
                    continue;
                var wind = WindEstimator.FromTurns(state.Motion, fromS, fromS + windowS);
                var (east, north) = flight.Day.WindAt(wind.ReferenceAltitudeFt, fromS + (windowS / 2));
                windows.Add((Math.Sqrt(Math.Pow(wind.EastKt - east, 2) + Math.Pow(wind.NorthKt - north, 2)), wind.SigmaKt));
            }
        }

        Assert.True(windows.Count > 60, $"{windows.Count} windows with turns");
        // 2.45 sigma per axis hold 95 of a hundred in the plane.
        Assert.InRange(windows.Count(w => w.ErrorKt < 2.45 * w.SigmaKt) / (double)windows.Count, 0.92, 1);
        Assert.InRange(Quantile(windows.Select(w => w.ErrorKt), 0.5), 0, mostMedianKt);
        Assert.InRange(Quantile(windows.Select(w => w.ErrorKt), 0.9), 0, mostOfNineInTenKt);
    }

    /// <summary>
    /// In circuits the airspeeds go with the direction flown and look like wind: 6 kt of it at the median where no other flight is near.
    /// </summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void In_hours_with_circuits_the_sigma_says_what_they_make_of_the_wind(bool alone)
    {
        var inside = new List<bool>();
        foreach (var (flight, state) in Hours.Value.Where(h => h.Flight.OtherLegs.Exists(IsFinal)))
        {
            for (var fromS = Turns(flight)[0].StartS; fromS + 420 < flight.Moments[^1].TimeS; fromS += 420)
            {
                var toS = fromS + 420;
                if (!flight.OtherLegs.Exists(l => IsFinal(l) && l.EndS > fromS && l.StartS < toS))
                    continue;
                var wind = WindEstimator.FromTurns(state.Motion, fromS, toS, planned: null, alone ? null : state.WindOverTime);
                for (var atS = fromS; atS < toS; atS += 30)
                {
                    var i = state.Motion.FirstFrom(atS);
                    var (east, north) = flight.Day.WindAt(flight.Moments[(int)Math.Round(atS / FlownFlight.StepS)].MslFt, atS);
                    var (eastKt, northKt) = wind.At(state.AltitudeFt[i]);
                    var errorKt = Math.Sqrt(Math.Pow(eastKt - east, 2) + Math.Pow(northKt - north, 2));
                    inside.Add(errorKt < 2.45 * wind.SigmaKtAt(state.AltitudeFt[i]));
                }
            }
        }

        Assert.True(inside.Count > 800, $"{inside.Count} moments");
        Assert.InRange(inside.Count(yes => yes) / (double)inside.Count, 0.9, 1);
    }

    [Fact]
    public void On_straights_the_corrected_heading_is_nearer_than_the_ground_track()
    {
        var corrected = new List<double>();
        var track = new List<double>();
        var inside = 0;
        foreach (var (flight, state) in Hours.Value)
        {
            var turns = Turns(flight);
            for (var i = 0; i < state.Count; i += 20)
            {
                var timeS = state.TimeS[i];
                if (timeS < turns[0].StartS || turns.Exists(t => timeS > t.StartS - 5 && timeS < t.EndS + 5))
                    continue;
                var truthDeg = flight.Moments[(int)Math.Round(timeS / FlownFlight.StepS)].HeadingDeg + flight.Day.DeclinationDeg;
                var error = Math.Abs(Angles.DifferenceDeg(state.HeadingMagDeg[i] + state.DeclinationDeg, truthDeg));
                corrected.Add(error);
                if (error < 2 * state.HeadingSigmaDeg)
                    inside++;
                track.Add(
                    Math.Abs(Angles.DifferenceDeg(Units.RadToDeg(Math.Atan2(state.Motion.EastKt[i], state.Motion.NorthKt[i])), truthDeg))
                );
            }
        }

        double median = Quantile(corrected, 0.5),
            plain = Quantile(track, 0.5);
        Assert.True(median < 1 && median < plain / 3, $"{median:0.0}° corrected, {plain:0.0}° over the ground");
        Assert.InRange(inside / (double)corrected.Count, 0.9, 1);
    }

    private static bool IsFinal(LegFlown flown) => flown.Leg.Name == "final";

    private static Track Recorded(FlownFlight flight) => new Recorder(flight, new Random(flight.Seed)).Satellites(Good);

    private static List<LegFlown> Turns(FlownFlight flight) => flight.OtherLegs.FindAll(l => l.Leg.TurnRateDegPerS != 0);

    private static double Quantile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        return sorted[(int)(share * (sorted.Length - 1))];
    }
}
