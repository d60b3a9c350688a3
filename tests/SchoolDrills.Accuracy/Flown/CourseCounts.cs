using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>What happened in flown flights, counted from the pilots' own decisions.</summary>
internal sealed class CourseCounts
{
    /// <summary>Longer than a hesitation between two segments, seconds.</summary>
    private const double OtherFlightFromS = 10;

    /// <summary>Segments before the last one flown, and those of them left out.</summary>
    public int Maneuvers { get; private set; }

    public int SkippedManeuvers { get; private set; }

    public int Straights { get; private set; }

    public int SkippedStraights { get; private set; }

    /// <summary>Turns flown, and those flown to the wrong side throughout.</summary>
    public int Turns { get; private set; }

    public int WrongWay { get; private set; }

    /// <summary>Segments flown that are not the last of their drill, and drills given up.</summary>
    public int Joints { get; private set; }

    public int GivenUp { get; private set; }

    /// <summary>Lengths of other flight between two segments, seconds.</summary>
    public List<double> OtherFlightS { get; } = [];

    /// <summary>Straights with a maneuver before and after.</summary>
    public List<(double LengthS, double NominalS)> StraightsS { get; } = [];

    /// <summary>Straight flight before a maneuver that opens a drill and after one that closes it, seconds.</summary>
    public List<double> FlanksS { get; } = [];

    /// <summary>How many turn rates and vertical speeds were held in general handling, and for how long together, seconds.</summary>
    public int Holds { get; private set; }

    public double HeldS { get; private set; }

    /// <summary>Counts one flight.</summary>
    public void Add(FlownFlight flight)
    {
        Handling(flight.OtherLegs, leg => leg.TurnRateDegPerS);
        Handling(flight.OtherLegs, leg => leg.VerticalSpeedFpm);
        if (flight.Timeline is not { } timeline)
            return;
        var legs = flight.Legs.DistinctBy(l => l.Leg.Segment).ToList();
        Segments(timeline.Segments, legs);
        Joints += legs.Count(l => l.Leg.Segment < timeline.Segments.Count - 1);
        GivenUp += flight.Mistakes.Count(m => m.Kind == "abort");
        OtherFlightS.AddRange(legs.Zip(legs.Skip(1)).Select(pair => pair.Second.StartS - pair.First.EndS).Where(s => s > OtherFlightFromS));
        if (flight.WholeFlight)
            Flanks(flight, legs);
    }

    private void Handling(List<LegFlown> legs, Func<Leg, double> rate)
    {
        HeldS += legs.Sum(l => l.EndS - l.StartS);
        Holds += legs.Where((l, i) => i == 0 || rate(l.Leg) != rate(legs[i - 1].Leg) || l.StartS - legs[i - 1].EndS > OtherFlightFromS)
            .Count();
    }

    private void Segments(IReadOnlyList<TimelineSegment> segments, List<LegFlown> legs)
    {
        foreach (var segment in segments.Where(s => s.Index < legs[^1].Leg.Segment))
        {
            var skipped = legs.TrueForAll(l => l.Leg.Segment != segment.Index) ? 1 : 0;
            if (segment.Kind == SegmentKind.LevelStraight)
                (Straights, SkippedStraights) = (Straights + 1, SkippedStraights + skipped);
            else
                (Maneuvers, SkippedManeuvers) = (Maneuvers + 1, SkippedManeuvers + skipped);
        }

        foreach (var leg in legs)
        {
            var segment = segments[leg.Leg.Segment];
            Turns += segment.TurnDeg == 0 ? 0 : 1;
            WrongWay += leg.Leg.TurnRateDegPerS * segment.TurnRateDegPerS < 0 ? 1 : 0;
            if (segment.Kind == SegmentKind.LevelStraight && segment.Index > 0 && segment.Index < legs[^1].Leg.Segment)
                StraightsS.Add((leg.EndS - leg.StartS, segment.DurationS));
        }
    }

    private void Flanks(FlownFlight flight, List<LegFlown> legs)
    {
        var segments = flight.Timeline!.Segments;
        if (segments[0].Kind != SegmentKind.LevelStraight)
            FlanksS.Add(StraightS(flight.OtherLegs.FindLast(l => l.EndS <= legs[0].StartS + 1)));
        if (segments[^1].Kind != SegmentKind.LevelStraight && legs[^1].Leg.Segment == segments.Count - 1)
            FlanksS.Add(StraightS(flight.OtherLegs.Find(l => l.StartS >= legs[^1].EndS - 1)));

        static double StraightS(LegFlown? leg) => leg is { Leg.TurnRateDegPerS: 0 } ? leg.EndS - leg.StartS : 0;
    }
}
