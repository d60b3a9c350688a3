using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// The planned path over the ground, moved by the wind that was found: from where the first flown segment was begun,
/// by the clock from there. Where no wind is known it is the path in still air.
/// </summary>
/// <param name="TimeS">Drill clock, seconds.</param>
/// <param name="LatDeg">Latitudes, degrees.</param>
/// <param name="LonDeg">Longitudes, degrees.</param>
internal sealed record NominalGround(double[] TimeS, double[] LatDeg, double[] LonDeg)
{
    /// <summary>No path.</summary>
    public static NominalGround None { get; } = new([], [], []);

    /// <summary>Time between points, seconds: at standard rate a chord of six degrees, which draws as a curve.</summary>
    private const double EveryS = 2;

    /// <summary>The planned path of a drill in the wind of the day it was flown.</summary>
    public static NominalGround Of(FlownDrill drill)
    {
        var state = drill.State;
        if (drill.Segments.OfType<FlownSegment>().FirstOrDefault(s => s.First < s.End) is not { } first)
            return None;
        var declinationDeg = double.IsFinite(state.DeclinationDeg) ? state.DeclinationDeg : 0;
        var path = NominalPath.Of(drill.Timeline, TrueAirspeedKt(drill), declinationDeg, state.Wind.At, everyS: EveryS);
        var begun = Math.Max(0, Array.FindIndex(path.TimeS, t => t >= first.Segment.StartS));

        var source = state.Track.Source;
        var from = state.Track.Kept[first.First];
        var frame = new LocalFrame(source.LatDeg[from], source.LonDeg[from], 0);
        var places = Enumerable
            .Range(begun, path.TimeS.Length - begun)
            .Select(i => frame.ToGeodetic(path.EastM[i] - path.EastM[begun], path.NorthM[i] - path.NorthM[begun], 0))
            .ToArray();
        return new(
            path.TimeS[begun..],
            Array.ConvertAll(places, p => Math.Round(p.LatDeg, 6)),
            Array.ConvertAll(places, p => Math.Round(p.LonDeg, 6))
        );
    }

    /// <summary>
    /// True airspeed at the entry airspeed: as it stood to indicated airspeed in this flight, else as in the standard atmosphere.
    /// </summary>
    private static double TrueAirspeedKt(FlownDrill drill)
    {
        var state = drill.State;
        var planned = drill.Timeline.Segments[0];
        var ratios = drill
            .Segments.OfType<FlownSegment>()
            .SelectMany(s => Enumerable.Range(s.First, s.End - s.First))
            .Select(i => state.TrueAirspeedKt[i] / state.AirspeedKt[i])
            .Where(double.IsFinite)
            .Order()
            .ToArray();
        return ratios.Length > 0
            ? planned.StartAirspeedKt * ratios[ratios.Length / 2]
            : Airspeed.TrueFromCalibratedKt(
                planned.StartAirspeedKt,
                planned.StartAltitudeFt,
                Atmosphere.TemperatureC(planned.StartAltitudeFt)
            );
    }
}
