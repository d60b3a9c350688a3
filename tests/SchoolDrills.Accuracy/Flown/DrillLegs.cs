using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>A drill as legs to fly, with the errors made on purpose.</summary>
internal static class DrillLegs
{
    /// <summary>Legs of a drill.</summary>
    /// <param name="timeline">The drill resolved for its entry.</param>
    /// <param name="mistakes">Errors to make.</param>
    /// <param name="random">Chance.</param>
    /// <param name="oneClock">Straights end by one running clock, not each timed by itself.</param>
    public static IEnumerable<Leg> Of(DrillTimeline timeline, IReadOnlyList<Mistake> mistakes, Random random, bool oneClock)
    {
        var segments = timeline.Segments;
        var (headingDeg, skippedS) = (segments[0].StartHeadingMagDeg, 0.0);
        foreach (var segment in segments)
        {
            var mistake = mistakes.FirstOrDefault(m => m.Segment == segment.Index);
            if (mistake?.Kind == "skipped_segment")
            {
                skippedS += segment.DurationS;
                headingDeg += segment.TurnDeg;
                continue;
            }

            var wrongWay = mistake is { Kind: "wrong_way_turn", Size: double.PositiveInfinity };
            headingDeg += wrongWay ? -segment.TurnDeg : segment.TurnDeg;
            var next = segment.Index + 1 < segments.Count ? segments[segment.Index + 1] : null;
            var nextMistake = mistakes.FirstOrDefault(m => m.Segment == segment.Index + 1);
            var leg = new Leg
            {
                Name = segment.Name,
                Segment = segment.Index,
                HeadingDeg = headingDeg,
                TurnRateDegPerS = segment.TurnRateDegPerS * (wrongWay ? -1 : 1) * (mistake?.Kind == "turn_rate" ? mistake.Size : 1),
                TurnGoesOn = !wrongWay && segment.TurnRateDegPerS * next?.TurnRateDegPerS > 0 && nextMistake?.Kind != "wrong_way_turn",
                AltitudeFt = segment.EndAltitudeFt,
                VerticalSpeedFpm =
                    mistake?.Kind == "wrong_vertical_speed"
                        ? Math.CopySign(mistake.Size, segment.VerticalSpeedFpm)
                        : segment.VerticalSpeedFpm,
                Airspeed = (segment.StartAirspeedKt, segment.AirspeedKt),
                DurationS = segment.DurationS,
                ClockEndS = oneClock ? segment.EndS - skippedS : double.NaN,
                ExtraS = nextMistake?.Kind is "late_start" or "early_start" ? nextMistake.Size * nextMistake.Sense : 0,
                WrongWayDeg = mistake?.Kind == "wrong_way_turn" && !wrongWay ? mistake.Size : 0,
                GivenUpS = mistake?.Kind == "abort" ? mistake.Size : double.PositiveInfinity,
                Lapses = mistake is null ? [] : [.. Lapses(mistake, segment, random)],
            };
            yield return leg;
            if (mistake?.Kind == "abort")
                yield break;
            if (mistake?.Kind != "repeated_segment")
                continue;
            headingDeg += segment.TurnDeg;
            yield return leg with
            {
                HeadingDeg = headingDeg,
            };
        }
    }

    private static IEnumerable<Lapse> Lapses(Mistake mistake, TimelineSegment segment, Random random)
    {
        var (turn, climb) = (Math.Sign(segment.TurnDeg), Math.Sign(segment.VerticalSpeedFpm));
        var size = mistake.Size * mistake.Sense;
        switch (mistake.Kind)
        {
            case "heading_overshoot":
                yield return new(Quantity.Heading, turn * size, double.PositiveInfinity, 0, random.Between(3, 7), PastEnd: true);
                break;
            case "heading_undershoot":
                yield return new(Quantity.Heading, turn * size, double.PositiveInfinity, 0, random.Between(7, 14), PastEnd: true);
                break;
            case "level_off_error":
                yield return new(Quantity.Altitude, climb * size, double.PositiveInfinity, 0, random.Between(10, 25), PastEnd: true);
                break;
            case "altitude_drift":
                yield return new(Quantity.Altitude, size, random.Between(5, 9), random.Between(3, 6), random.Between(6, 15));
                break;
            case "heading_drift":
                yield return new(
                    Quantity.Heading,
                    size,
                    random.Between(0.8, 1.6),
                    segment.DurationS < 60 ? 7 : random.Between(10, 20),
                    random.Between(5, 10)
                );
                break;
            case "airspeed_decay":
                yield return new(Quantity.Airspeed, size - 3, 2, random.Between(5, 10), random.Between(20, 35));
                break;
        }
    }
}
