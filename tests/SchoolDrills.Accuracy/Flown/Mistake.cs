using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>An error made on purpose.</summary>
/// <param name="Kind">What, in the words of the flights' truth.</param>
/// <param name="Segment">The segment it is made in.</param>
/// <param name="Size">
/// How large it is asked, without sign in the unit of its kind; of a wrong turn the degrees before it is noticed, infinite for never.
/// </param>
/// <param name="Sense">1 for over, high or right; -1 for under, low or left.</param>
internal sealed record Mistake(string Kind, int Segment, double Size, double Sense)
{
    /// <summary>Chooses none, one or two that can be made in a drill, far enough apart to be told apart.</summary>
    public static IReadOnlyList<Mistake> Draw(Random random, DrillTimeline timeline)
    {
        var chosen = new List<Mistake>();
        var wanted =
            random.Happens(0.2) ? 0
            : random.Happens(0.5) ? 1
            : 2;
        var possible = timeline.Segments.SelectMany(s => Possible(random, timeline.Segments, s)).ToList();
        for (var tries = 0; tries < 20 && chosen.Count < wanted && possible.Count > 0; tries++)
        {
            var kind = random.One([.. possible.Select(m => m.Kind).Distinct()]);
            var mistake = random.One([.. possible.Where(m => m.Kind == kind)]);
            var afterAbort = chosen.Any(c =>
                (c.Kind == "abort" && c.Segment <= mistake.Segment) || (mistake.Kind == "abort" && mistake.Segment <= c.Segment)
            );
            if (!afterAbort && chosen.All(c => Math.Abs(c.Segment - mistake.Segment) >= 2 && c.Kind != kind))
                chosen.Add(mistake);
        }

        return chosen;
    }

    private static IEnumerable<Mistake> Possible(Random random, IReadOnlyList<TimelineSegment> all, TimelineSegment s)
    {
        var (before, next) = (s.Index > 0 ? all[s.Index - 1] : null, s.Index + 1 < all.Count ? all[s.Index + 1] : null);
        var (turn, climb) = (s.TurnDeg != 0, s.VerticalSpeedFpm != 0);
        var sense = random.Sign();
        var usualRate = Math.Abs(s.TurnRateDegPerS) is > 1 and < 4;
        if (before?.Kind == SegmentKind.LevelStraight && (turn || climb))
        {
            yield return new("late_start", s.Index, random.Between(9, 15), 1);
            if (before.DurationS >= 30)
                yield return new("early_start", s.Index, random.Between(9, before.DurationS >= 60 ? 15 : 12), -1);
        }

        if (turn && next is { TurnDeg: 0 })
        {
            yield return new("heading_overshoot", s.Index, random.Between(20, 30), 1);
            if (Math.Abs(s.TurnDeg) >= 60)
                yield return new("heading_undershoot", s.Index, random.Between(20, 30), -1);
        }

        if (turn && Math.Abs(s.TurnDeg) >= 45)
        {
            yield return new(
                "wrong_way_turn",
                s.Index,
                s.TurnDeg % 180 == 0 && !climb && random.Happens(0.4) ? double.PositiveInfinity : random.Between(20, 40),
                1
            );
        }

        if (turn && usualRate && Math.Abs(s.TurnDeg) >= 90)
            yield return new("turn_rate", s.Index, sense > 0 ? 1.5 : 0.5, sense);
        if (climb)
        {
            if (next is { VerticalSpeedFpm: 0 } && s.DurationS >= 60)
                yield return new("level_off_error", s.Index, random.Between(150, 250), sense);
            if (s.DurationS >= 60)
                yield return new("wrong_vertical_speed", s.Index, sense > 0 ? 800 : 200, sense);
        }
        else
        {
            if (s.DurationS >= 60 || (s.DurationS >= 30 && next is { VerticalSpeedFpm: 0 }))
                yield return new("altitude_drift", s.Index, random.Between(200, 300), sense);
        }

        if (!turn && !climb && s.DurationS >= 30)
            yield return new("heading_drift", s.Index, random.Between(15, 25), sense);
        if (s.DurationS >= 60 && s.Kind != SegmentKind.SpeedChange)
            yield return new("airspeed_decay", s.Index, random.Between(15, 20), -1);
        if (
            before is not null
            && next is not null
            && !climb
            && (s.Kind == SegmentKind.LevelStraight || s.TurnDeg % 360 == 0)
            && before.TurnDeg + next.TurnDeg != 0
        )
        {
            yield return new("skipped_segment", s.Index, s.DurationS, 1);
        }

        if (s.Kind == SegmentKind.LevelTurn && s.TurnDeg % 360 == 0)
            yield return new("repeated_segment", s.Index, s.DurationS, 1);
        if (s.Index >= 3 && next is not null && s.StartS > 0.45 * all[^1].EndS)
            yield return new("abort", s.Index, random.Between(0.3, 0.8) * s.DurationS, 1);
    }
}
