using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// What one recording of a flown flight says of its drill, cut at the true boundaries. Held rates are taken from the middle of one change
/// to the middle of the next, where the search of the engine puts its boundaries.
/// </summary>
internal sealed class FlownSample
{
    private readonly AlignmentGrid grid;

    private FlownSample(FlownFlight flight, AlignmentGrid grid)
    {
        this.grid = grid;
        var segments = flight.Timeline!.Segments;
        var matches = segments.Select(s =>
            flight.Legs.Find(l => l.Leg.Segment == s.Index) is { } leg
                ? new SegmentMatch(s.Index, SegmentStatus.Flown, Middle(leg.StartS), Middle(leg.EndS))
                : new SegmentMatch(s.Index, SegmentStatus.Skipped, double.NaN, double.NaN)
        );
        var entry = FlownEntry.Of(grid, flight.Timeline, new Alignment([.. matches], 1, false));
        foreach (var leg in flight.Legs.DistinctBy(l => l.Leg.Segment))
        {
            var segment = segments[leg.Leg.Segment];
            // What was flown the wrong way or given up shows nothing of how such a segment is flown.
            if (leg.Leg.WrongWayDeg > 0 || leg.Leg.TurnRateDegPerS * segment.TurnRateDegPerS < 0 || double.IsFinite(leg.Leg.GivenUpS))
                continue;
            Add(segment, entry, grid.IndexAt(Middle(leg.StartS)), grid.IndexAt(Middle(leg.EndS)));
        }
    }

    /// <summary>Step of the grid, seconds.</summary>
    public double StepS => grid.StepS;

    /// <summary>Turn rates and vertical speeds of each segment, step by step, beside the planned.</summary>
    public List<HeldRate> Rates { get; } = [];

    /// <summary>Errors of turns at their ends, beside their own start and beside the entry, degrees.</summary>
    public List<(double FromStart, double FromEntry)> TurnEnds { get; } = [];

    /// <summary>The same of climbs and descents, feet.</summary>
    public List<(double FromStart, double FromEntry)> ClimbEnds { get; } = [];

    /// <summary>Errors of changes of airspeed, knots.</summary>
    public List<double> SpeedErrorsKt { get; } = [];

    /// <summary>The recordings of a flight with a drill.</summary>
    public static IEnumerable<FlownSample> Of(FlownFlight flight) =>
        Recorder
            .Both(flight)
            .Select(track => ReconstructedFlight.Of(track, new ScoringOptions()))
            .OfType<ReconstructedFlight>()
            .Select(reconstructed => new FlownSample(flight, reconstructed.Grid));

    private static double Middle(double timeS) => timeS + (HandlingModel.RollS / 2);

    private static double[] Known(double[] values, int from, int to) => [.. values[from..Math.Max(from, to)].Where(double.IsFinite)];

    private void Add(TimelineSegment segment, FlownEntry? entry, int from, int to)
    {
        Rates.Add(
            new(
                segment.TurnRateDegPerS,
                segment.VerticalSpeedFpm,
                Known(grid.TurnRateDegPerS, from, to),
                Known(grid.VerticalSpeedFpm, from, to)
            )
        );
        var headingDeg = entry?.HeadingDegAt(segment) ?? double.NaN;
        var altitudeFt = entry?.AltitudeFtAt(segment) ?? double.NaN;
        var turnErrorDeg = grid.HeadingDeg[to] - grid.HeadingDeg[from] - segment.TurnDeg;
        var climbErrorFt = grid.AltitudeFt[to] - grid.AltitudeFt[from] - (segment.EndAltitudeFt - segment.StartAltitudeFt);
        var speedErrorKt = grid.SpeedKt[to] - grid.SpeedKt[from] - (segment.AirspeedKt - segment.StartAirspeedKt);
        if (segment.TurnDeg != 0)
            Add(TurnEnds, turnErrorDeg, Angles.DifferenceDeg(grid.HeadingDeg[to], headingDeg));
        if (segment.VerticalSpeedFpm != 0)
            Add(ClimbEnds, climbErrorFt, grid.AltitudeFt[to] - altitudeFt);
        if (segment.Kind == SegmentKind.SpeedChange && double.IsFinite(speedErrorKt))
            SpeedErrorsKt.Add(speedErrorKt);
    }

    private static void Add(List<(double, double)> ends, double fromStart, double fromEntry)
    {
        if (double.IsFinite(fromStart) && double.IsFinite(fromEntry))
            ends.Add((fromStart, fromEntry));
    }
}

/// <summary>Rates of one segment as flown, beside the planned ones.</summary>
internal sealed record HeldRate(double PlannedDegPerS, double PlannedFpm, double[] DegPerS, double[] Fpm);
