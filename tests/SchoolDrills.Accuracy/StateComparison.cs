using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy;

/// <summary>Compares a reconstructed state with the true state, during the drill.</summary>
internal static class StateComparison
{
    /// <summary>95 % of vectors with equal sigma on both axes lie within 2.45 sigma, against two for a number.</summary>
    private const double VectorSigmas = 1.22;

    /// <summary>Name of the wind error in the tables.</summary>
    public const string Wind = "wind vector, kt";

    /// <summary>Adds the errors of one flight.</summary>
    /// <param name="tally">Where to.</param>
    /// <param name="flight">The flight.</param>
    /// <param name="drill">The drill as measured.</param>
    /// <param name="addedWind">Wind added to the true wind in a variant of the recording, knots toward east and north.</param>
    public static void Add(Tally tally, TruthFlight flight, FlownDrill drill, (double EastKt, double NorthKt) addedWind = default)
    {
        var state = drill.State;
        // Without a recorded altimeter the level is an estimate; the deviations depend only on how the altitude varied about it.
        var levelFt = drill.Entry.AltitudeFt - flight.Truth.GetProperty("base_altitude_ft").GetDouble();
        double windEast = 0,
            windNorth = 0;
        var count = 0;
        foreach (var truth in flight.Seconds.Where(s => s.Utc >= flight.StartUtc && s.Utc <= flight.EndUtc))
        {
            var i = Nearest(state.TimeS, (truth.Utc - state.Track.Source.EpochUtc).TotalSeconds);
            if (i < 0)
                continue;
            tally.Add("heading, deg", Angles.DifferenceDeg(state.HeadingMagDeg[i], truth.HeadingMagDeg), state.HeadingSigmaDeg);
            tally.Add("altitude, ft", state.AltitudeFt[i] + drill.Entry.AltitudeOffsetFt - truth.AltitudeFt, drill.AltitudeSigmaFt);
            tally.Add(
                "altitude about the level, ft",
                state.AltitudeFt[i] + drill.Entry.AltitudeOffsetFt - truth.AltitudeFt - levelFt,
                drill.AltitudeSigmaFt
            );
            tally.Add("vertical speed, fpm", state.VerticalSpeedFpm[i] - truth.VerticalSpeedFpm, state.VerticalSpeedSigmaFpm);
            tally.Add("turn rate, deg/s", state.TurnRateDegPerS[i] - truth.TurnRateDegPerS, state.TurnRateSigmaDegPerS);
            tally.Add("airspeed, kt", state.AirspeedKt[i] - truth.AirspeedKt, state.AirspeedSigmaKt);
            var (east, north) = state.Wind.At(state.AltitudeFt[i]);
            var (sin, cos) = Math.SinCos(truth.WindFromDegTrue * Math.PI / 180);
            windEast += east - addedWind.EastKt + (truth.WindKt * sin);
            windNorth += north - addedWind.NorthKt + (truth.WindKt * cos);
            count++;
        }

        if (state.Wind.Source == WindSource.None || count == 0)
            return;
        tally.Add(Wind, Math.Sqrt((windEast * windEast) + (windNorth * windNorth)) / count, VectorSigmas * state.Wind.SigmaKt);
    }

    /// <summary>Sample at a time, within 0.05 s; -1 where there is none.</summary>
    private static int Nearest(double[] timeS, double atS)
    {
        var i = Array.BinarySearch(timeS, atS);
        if (i >= 0)
            return i;
        i = ~i;
        if (i < timeS.Length && timeS[i] - atS < 0.05)
            return i;
        return i > 0 && atS - timeS[i - 1] < 0.05 ? i - 1 : -1;
    }
}
