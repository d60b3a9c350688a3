using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// Whether a person who sees the true state could tell that the drill was flown, by a rule that knows nothing of the engine.
/// </summary>
internal static class Recognition
{
    /// <summary>The rule in words.</summary>
    public const string Rule =
        "A drill is recognizable when at least two thirds of its segments, and of its maneuvers, were each flown so that their change of "
        + "heading is within 30° of plan, of altitude within 200 ft, of airspeed within 15 kt, none of them off by more than half of what "
        + "is planned, and their length between half and twice the planned.";

    private const double LeastShare = 2.0 / 3,
        MostTurnErrorDeg = 30,
        MostClimbErrorFt = 200,
        MostSpeedErrorKt = 15,
        MostErrorShare = 0.5,
        ShortestShare = 0.5,
        LongestShare = 2;

    /// <summary>A roll-out or level-off begun at a segment's end is nearly done so much later, seconds.</summary>
    private const double DoneS = 3;

    /// <summary>What a segment came to.</summary>
    public readonly record struct Made(double TurnDeg, double ClimbFt, double SpeedChangeKt, double LengthS);

    /// <summary>Whether the drill of a flight could be told.</summary>
    public static bool IsRecognizable(FlownFlight flight) =>
        IsRecognizable(flight.Timeline!.Segments, s => flight.Legs.Find(l => l.Leg.Segment == s.Index) is { } leg ? Of(flight, leg) : null);

    /// <summary>Whether a drill could be told from what its segments came to; null for one that was not flown.</summary>
    public static bool IsRecognizable(IReadOnlyList<TimelineSegment> segments, Func<TimelineSegment, Made?> made)
    {
        var told = segments.Where(s => made(s) is { } one && AsPlanned(s, one)).ToList();
        return told.Count >= LeastShare * segments.Count && told.Count(IsManeuver) >= LeastShare * segments.Count(IsManeuver);
    }

    private static bool IsManeuver(TimelineSegment segment) => segment.Kind != SegmentKind.LevelStraight;

    private static bool AsPlanned(TimelineSegment s, Made made) =>
        Near(made.TurnDeg, s.TurnDeg, MostTurnErrorDeg)
        && Near(made.ClimbFt, s.EndAltitudeFt - s.StartAltitudeFt, MostClimbErrorFt)
        && Near(made.SpeedChangeKt, s.AirspeedKt - s.StartAirspeedKt, MostSpeedErrorKt)
        && made.LengthS >= ShortestShare * s.DurationS
        && made.LengthS <= LongestShare * s.DurationS;

    private static bool Near(double made, double planned, double mostError) =>
        Math.Abs(made - planned) <= (planned == 0 ? mostError : Math.Min(mostError, MostErrorShare * Math.Abs(planned)));

    private static Made Of(FlownFlight flight, LegFlown leg)
    {
        var (start, end) = (At(leg.StartS), At(leg.EndS + DoneS));
        return new(
            end.HeadingDeg - start.HeadingDeg,
            end.AltitudeFt - start.AltitudeFt,
            end.AirspeedKt - start.AirspeedKt,
            leg.EndS - leg.StartS
        );

        Moment At(double timeS) => flight.Moments[Math.Min(flight.Moments.Count - 1, (int)Math.Round(timeS / FlownFlight.StepS))];
    }
}
