namespace SchoolDrills.Engine.Drills;

/// <summary>Problems of single segments, each named by its place in the template: "segment 3", in a group "segment 3.2".</summary>
internal static class SegmentProblems
{
    /// <summary>Adds the problems of segments and of the groups among them.</summary>
    public static void Of(IReadOnlyList<Segment> segments, string place, int depth, List<string> problems)
    {
        for (var i = 0; i < segments.Count; i++)
        {
            var here = $"{place}{TemplateProblems.Text(i + 1)}";
            var segment = segments[i];
            if (TemplateProblems.TextProblem(segment.Name, TemplateLimits.NameLength) is { } problem)
                problems.Add($"{here}: its name {problem}.");
            if (segment.Segments.Count == 0)
            {
                OfOne(segment, here, problems);
                continue;
            }

            OfGroup(segment, here, problems);
            if (depth == TemplateLimits.GroupDepth)
                problems.Add($"{here}: groups may stand {TemplateProblems.Text(TemplateLimits.GroupDepth - 1)} deep at most.");
            else
                Of(segment.Segments, $"{here}.", depth + 1, problems);
        }
    }

    private static void OfGroup(Segment group, string here, List<string> problems)
    {
        if (group.Repeat < 1)
            problems.Add($"{here}: repeat must be 1 or more.");
        if (
            group
            is not {
                DurationS: null,
                TurnDeg: null,
                TurnRateDegPerS: null,
                ClimbFt: null,
                VerticalSpeedFpm: null,
                SpeedChangeKt: null,
                Tolerances.Count: 0
            }
        )
        {
            problems.Add($"{here}: a group holds segments and cannot itself have a length, a turn, a climb, a speed or tolerances.");
        }
    }

    private static void OfOne(Segment segment, string here, List<string> problems)
    {
        var before = problems.Count;
        if (segment.Repeat is not null)
            problems.Add($"{here}: repeat belongs to a group, and this has no segments of its own.");
        Positive("durationS", segment.DurationS, TemplateLimits.DurationS, "s");
        Signed("turnDeg", segment.TurnDeg, TemplateLimits.TurnDeg, "°");
        Positive("turnRateDegPerS", segment.TurnRateDegPerS, TemplateLimits.TurnRateDegPerS, "°/s");
        Signed("climbFt", segment.ClimbFt, TemplateLimits.HighestAltitudeFt, "ft");
        Positive("verticalSpeedFpm", segment.VerticalSpeedFpm, TemplateLimits.VerticalSpeedFpm, "fpm");
        Signed("speedChangeKt", segment.SpeedChangeKt, TemplateLimits.HighestAirspeedKt, "kt");
        if (segment is { TurnRateDegPerS: not null, TurnDeg: null })
            problems.Add($"{here}: has a rate of turn but no turnDeg, so it cannot tell which way or how far.");
        if (segment is { VerticalSpeedFpm: not null, ClimbFt: null })
            problems.Add($"{here}: has a vertical speed but no climbFt, so it cannot tell up from down or how far.");
        foreach (var tolerance in segment.Tolerances)
        {
            if (!(tolerance.Within > 0 && double.IsFinite(tolerance.Within)))
                problems.Add($"{here}: a tolerance must be above 0.");
        }

        if (problems.Count == before)
            OfTimes(segment, here, problems);

        void Positive(string what, double? value, double limit, string unit)
        {
            if (value is { } given && !(given > 0 && given <= limit))
            {
                problems.Add(
                    $"{here}: {what} is {TemplateProblems.Text(given)}; it must be above 0 and at most "
                        + $"{TemplateProblems.Text(limit)} {unit}."
                );
            }
        }

        void Signed(string what, double? value, double limit, string unit)
        {
            if (value is { } given && !(given != 0 && Math.Abs(given) <= limit))
            {
                problems.Add(
                    $"{here}: {what} is {TemplateProblems.Text(given)}; leave it out, or give up to "
                        + $"{TemplateProblems.Text(limit)} {unit} either way."
                );
            }
        }
    }

    private static void OfTimes(Segment segment, string here, List<string> problems)
    {
        var times = SegmentTimes.Of(segment);
        if (times.Count == 0)
        {
            problems.Add($"{here}: nothing ends it; give durationS, turnDeg or climbFt.");
            return;
        }

        if (times[0].S < TemplateLimits.ShortestS)
        {
            problems.Add(
                $"{here}: takes {TemplateProblems.Text(times[0].S)} s; the least is {TemplateProblems.Text(TemplateLimits.ShortestS)} s."
            );
        }

        var longest = times.MaxBy(t => t.S);
        var shortest = times.MinBy(t => t.S);
        if (longest.S - shortest.S <= DrillModel.AgreementS)
            return;
        // First the calculation, then what it contradicts.
        var (sum, against) = longest.Sum == times[0].Sum && segment.DurationS is not null ? (shortest, longest) : (longest, shortest);
        problems.Add($"{here}: {sum.Sum}, but {against.Sum}.");
    }
}
