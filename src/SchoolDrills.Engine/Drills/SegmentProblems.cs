namespace SchoolDrills.Engine.Drills;

/// <summary>Problems of single segments, each named by its place in the template: "segment 3", in a group "segment 3.2".</summary>
internal static class SegmentProblems
{
    /// <summary>Adds the problems of segments and of the groups among them.</summary>
    public static void Of(IReadOnlyList<Segment> segments, string place, string path, int depth, List<TemplateProblem> problems)
    {
        for (var i = 0; i < segments.Count; i++)
        {
            var here = new Here($"{place}{TemplateProblems.Text(i + 1)}", $"{path}[{TemplateProblems.Text(i)}]", problems);
            var segment = segments[i];
            if (TemplateProblems.TextProblem(segment.Name, TemplateLimits.NameLength) is { } problem)
                here.Add($"its name {problem}.");
            if (segment.Segments.Count == 0)
            {
                OfOne(segment, here);
                continue;
            }

            OfGroup(segment, here);
            if (depth == TemplateLimits.GroupDepth)
                here.Add($"groups may stand {TemplateProblems.Text(TemplateLimits.GroupDepth - 1)} deep at most.");
            else
                Of(segment.Segments, $"{here.Name}.", $"{here.Path}.segments", depth + 1, problems);
        }
    }

    private static void OfGroup(Segment group, Here here)
    {
        if (group.Repeat < 1)
            here.Add("repeat must be 1 or more.");
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
            here.Add("a group holds segments and cannot itself have a length, a turn, a climb, a speed or tolerances.");
        }
    }

    private static void OfOne(Segment segment, Here here)
    {
        var before = here.Problems.Count;
        if (segment.Repeat is not null)
            here.Add("repeat belongs to a group, and this has no segments of its own.");
        Positive("durationS", segment.DurationS, TemplateLimits.DurationS, "s");
        Signed("turnDeg", segment.TurnDeg, TemplateLimits.TurnDeg, "°");
        Positive("turnRateDegPerS", segment.TurnRateDegPerS, TemplateLimits.TurnRateDegPerS, "°/s");
        Signed("climbFt", segment.ClimbFt, TemplateLimits.HighestAltitudeFt, "ft");
        Positive("verticalSpeedFpm", segment.VerticalSpeedFpm, TemplateLimits.VerticalSpeedFpm, "fpm");
        Signed("speedChangeKt", segment.SpeedChangeKt, TemplateLimits.HighestAirspeedKt, "kt");
        if (segment is { TurnRateDegPerS: not null, TurnDeg: null })
            here.Add("has a rate of turn but no turnDeg, so it cannot tell which way or how far.");
        if (segment is { VerticalSpeedFpm: not null, ClimbFt: null })
            here.Add("has a vertical speed but no climbFt, so it cannot tell up from down or how far.");
        foreach (var tolerance in segment.Tolerances)
        {
            if (!(tolerance.Within > 0 && double.IsFinite(tolerance.Within)))
                here.Add("a tolerance must be above 0.");
        }

        if (here.Problems.Count == before)
            OfTimes(segment, here);

        void Positive(string what, double? value, double limit, string unit)
        {
            if (value is { } given && !(given > 0 && given <= limit))
            {
                here.Add(
                    $"{what} is {TemplateProblems.Text(given)}; it must be above 0 and at most " + $"{TemplateProblems.Text(limit)} {unit}."
                );
            }
        }

        void Signed(string what, double? value, double limit, string unit)
        {
            if (value is { } given && !(given != 0 && Math.Abs(given) <= limit))
            {
                here.Add(
                    $"{what} is {TemplateProblems.Text(given)}; leave it out, or give up to "
                        + $"{TemplateProblems.Text(limit)} {unit} either way."
                );
            }
        }
    }

    private static void OfTimes(Segment segment, Here here)
    {
        var times = SegmentTimes.Of(segment);
        if (times.Count == 0)
        {
            here.Add("nothing ends it; give durationS, turnDeg or climbFt.");
            return;
        }

        if (times[0].S < TemplateLimits.ShortestS)
        {
            here.Add($"takes {TemplateProblems.Text(times[0].S)} s; the least is {TemplateProblems.Text(TemplateLimits.ShortestS)} s.");
        }

        var longest = times.MaxBy(t => t.S);
        var shortest = times.MinBy(t => t.S);
        if (longest.S - shortest.S <= DrillModel.AgreementS)
            return;
        // First the calculation, then what it contradicts.
        var (sum, against) = longest.Sum == times[0].Sum && segment.DurationS is not null ? (shortest, longest) : (longest, shortest);
        here.Add($"{sum.Sum}, but {against.Sum}.");
    }

    /// <summary>A segment's place in words and as a path, and where its problems are kept.</summary>
    private sealed record Here(string Name, string Path, List<TemplateProblem> Problems)
    {
        public void Add(string sentence) => Problems.Add(new(Path, $"{Name}: {sentence}"));
    }
}
