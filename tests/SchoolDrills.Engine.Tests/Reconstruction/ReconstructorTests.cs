using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Reconstruction;

public sealed class ReconstructorTests
{
    [Fact]
    public void Heading_airspeed_and_rates_come_out_of_positions_alone()
    {
        var flight = new SyntheticFlight(20, -15, headingDeg: 40).Fly(60).Turn(360).Fly(60).Turn(-180).Fly(60);
        var state = SyntheticFlight.Reconstruct(flight.Record());
        Assert.Equal(HeadingSource.WindCorrected, state.HeadingSource);
        Assert.Equal(AirspeedSource.Derived, state.AirspeedSource);
        AssertHeading(40, state, 40);
        AssertHeading(40 + 180, state, 120, withinDeg: 1);
        AssertHeading(40 + 180, state, 350);
        Assert.Equal(3, state.TurnRateDegPerS[120], 0.1);
        Assert.Equal(-3, state.TurnRateDegPerS[270], 0.1);
        Assert.Equal(0, state.TurnRateDegPerS[40], 0.1);
        Assert.Equal(95, state.TrueAirspeedKt[40], 0.7);
        // tan φ = V ω / g: 95 KTAS at 3°/s is 14.6° of bank.
        Assert.Equal(14.6, state.BankDeg[120], 0.5);
        Assert.Equal(-14.6, state.BankDeg[270], 0.5);
        // Indicated from true at 3,000 ft in the standard atmosphere: 95 × √0.9151.
        Assert.Equal(90.9, state.AirspeedKt[40], 0.8);
    }

    [Fact]
    public void A_steep_turn_continues_through_a_gap()
    {
        var flight = new SyntheticFlight(5, 5).Fly(60).Fly(60, turnRateDegPerS: 12).Fly(60);
        var state = SyntheticFlight.Reconstruct(
            flight.Record(Enumerable.Range(0, 181).Where(t => t is <= 80 or >= 100).Select(t => (double)t))
        );
        Assert.Equal(720, state.HeadingMagDeg[^20] - state.HeadingMagDeg[30], 8.0);
    }

    [Fact]
    public void Heading_continues_through_north_without_a_jump()
    {
        var state = SyntheticFlight.Reconstruct(new SyntheticFlight(5, 5, headingDeg: 350).Fly(30).Turn(720).Fly(30).Record());
        Assert.Equal(720, state.HeadingMagDeg[^5] - state.HeadingMagDeg[20], 1.0);
        Assert.All(state.HeadingMagDeg.Zip(state.HeadingMagDeg.Skip(1)), p => Assert.True(Math.Abs(p.Second - p.First) < 5));
    }

    /// <summary>50 km east of the middle of a recording in middle latitudes the plane's north is 0.43° off the meridian.</summary>
    [Fact]
    public void A_heading_is_from_the_meridian_of_where_the_aeroplane_is()
    {
        var flight = new SyntheticFlight(0, 0, headingDeg: 90) { Origin = (-43.6, 171.8) };
        flight.Turn(-360).Fly(2400).Turn(360);
        var track = flight.Record();
        var state = SyntheticFlight.Reconstruct(track);
        Assert.True(state.Track.EastM[^1] - state.Track.EastM[0] > 90_000);
        foreach (var i in (int[])[200, 2500])
        {
            var courseDeg = Geodesy
                .Between(track.LatDeg[i - 20], track.LonDeg[i - 20], track.LatDeg[i + 20], track.LonDeg[i + 20])!
                .StartAzimuthDeg;
            AssertHeading(courseDeg, state, i, withinDeg: 0.25);
        }
    }

    [Fact]
    public void A_recorded_true_heading_becomes_magnetic_by_the_declination()
    {
        var state = SyntheticFlight.Reconstruct(new SyntheticFlight(14, 9, headingDeg: 355).Fly(60).Turn(90).Fly(60).Record(airData: true));
        Assert.Equal(HeadingSource.Recorded, state.HeadingSource);
        Assert.Equal(AirspeedSource.Recorded, state.AirspeedSource);
        // World Magnetic Model 2025 near 43.6° S 171.8° E in 2026: about 24.7° east.
        Assert.Equal(24.7, state.DeclinationDeg, 0.3);
        Assert.Equal(355 - state.DeclinationDeg, state.HeadingMagDeg[40], 0.1);
        Assert.Equal(85, state.HeadingMagDeg[^20] - state.HeadingMagDeg[40] - 5, 0.2);
        Assert.InRange(state.HeadingSigmaDeg, 0.5, 1);
    }

    [Fact]
    public void Outside_the_years_of_the_magnetic_model_headings_stay_true_and_say_so()
    {
        var track = new SyntheticFlight(14, 9, headingDeg: 120).Fly(60).Turn(360).Fly(60).Record();
        var old = new Track
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc.AddYears(-30),
            TimeS = track.TimeS,
            LatDeg = track.LatDeg,
            LonDeg = track.LonDeg,
            GpsAltitudeFt = track.GpsAltitudeFt,
        };
        var state = SyntheticFlight.Reconstruct(old);
        Assert.Equal(double.NaN, state.DeclinationDeg);
        Assert.Equal(120, state.HeadingMagDeg[40], 0.5);
    }

    [Fact]
    public void Refining_uses_the_wind_of_the_part_with_the_drill()
    {
        var flight = new SyntheticFlight(altitudeFt => altitudeFt < 4000 ? (5, 5) : (25, 5))
            .Turn(720)
            .Fly(60)
            .Fly(240, 0, 500)
            .Turn(720)
            .Fly(60);
        var state = Reconstructor.Refine(
            SyntheticFlight.Reconstruct(flight.Record()),
            new KnownConditions(),
            flight.NowS - 300,
            flight.NowS
        );
        Assert.Equal(25, state.Wind.At(5000).EastKt, 0.5);
        AssertHeading(360, state, (int)flight.NowS - 20);
    }

    [Fact]
    public void A_part_without_turns_takes_the_wind_of_the_turns_around_it()
    {
        var flight = new SyntheticFlight(20, 5).Turn(540).Fly(300).Turn(-360);
        var state = Reconstructor.Refine(
            SyntheticFlight.Reconstruct(flight.Record()),
            new KnownConditions(),
            200,
            470,
            new PlannedFlight(_ => 91, [new PlannedStraight(200, 470, 180)])
        );
        Assert.Equal(WindSource.Turns, state.Wind.Source);
        Assert.Equal(20, state.Wind.At(3000).EastKt, 0.5);
        AssertHeading(180, state, 300);
    }

    /// <summary>
    /// f13 was flown in still air by one pilot and recorded twice: positions alone, and with heading, airspeed and altimeter.
    /// </summary>
    [Fact]
    public void Positions_alone_and_a_full_recording_of_the_same_flight_agree()
    {
        FlightState State(string file) =>
            AttemptScorer
                .ScoreWithState(
                    Recording.GoodFile(file),
                    Catalogue.Templates.Single(t => t.Slug == "timed-turns"),
                    Catalogue.Standards.Single(s => s.Slug == "instrument-rating"),
                    new ScoringOptions(),
                    cancellation: TestContext.Current.CancellationToken
                )
                .Drill!.State;
        FlightState positions = State("f13.gpx"),
            full = State("f13.csv");
        var epochsApartS = (full.Track.Source.EpochUtc - positions.Track.Source.EpochUtc).TotalSeconds;
        double Apart(Func<FlightState, double[]> column) =>
            Median([
                .. full
                    .TimeS.Select((t, i) => (I: i, K: Array.BinarySearch(positions.TimeS, t + epochsApartS)))
                    .Where(p => p.K >= 0)
                    .Select(p => Math.Abs(column(full)[p.I] - column(positions)[p.K])),
            ]);
        Assert.Equal(HeadingSource.Recorded, full.HeadingSource);
        Assert.Equal(HeadingSource.WindCorrected, positions.HeadingSource);
        Assert.True(
            Apart(s => Array.ConvertAll(s.HeadingMagDeg, h => h - s.HeadingMagDeg[0] + Angles.DifferenceDeg(s.HeadingMagDeg[0], 30))) < 1
        );
        Assert.True(Apart(s => s.TurnRateDegPerS) < 0.2);
        Assert.True(Apart(s => s.VerticalSpeedFpm) < 60);
        Assert.True(Apart(s => s.AirspeedKt) < 2.5);
        Assert.InRange(positions.Wind.SpeedKt(positions.Wind.ReferenceAltitudeFt), 0, 2);
    }

    [Fact]
    public void A_recording_of_a_parked_aeroplane_invents_no_heading()
    {
        var state = SyntheticFlight.Reconstruct(new SyntheticFlight(0, 0).Fly(120, trueAirspeedKt: _ => 0).Record(noise: new Random(3)));
        Assert.Equal(WindSource.None, state.Wind.Source);
        Assert.All(state.AirspeedKt, v => Assert.Equal(double.NaN, v));
        Assert.All(state.TurnRateDegPerS, r => Assert.InRange(r, -0.01, 0.01));
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values[values.Length / 2];
    }

    private static void AssertHeading(double trueDeg, FlightState state, int i, double withinDeg = 0.6) =>
        Assert.Equal(0, Angles.DifferenceDeg(state.HeadingMagDeg[i] + state.DeclinationDeg, trueDeg), withinDeg);
}
