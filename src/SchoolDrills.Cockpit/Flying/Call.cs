using System.Text.RegularExpressions;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>What a call is about.</summary>
internal enum CallKind
{
    Segment,
    Check,
    LoadTask,
    LoadRating,
    End,
}

/// <summary>Something the instructor is told by the drill's clock.</summary>
/// <param name="AtS">When, seconds from the drill's start.</param>
/// <param name="Text">What is read.</param>
internal sealed partial record Call(double AtS, CallKind Kind, string Text)
{
    /// <summary>As a voice says it: headings figure by figure, units in full.</summary>
    public string Spoken
    {
        get
        {
            var text = HeadingPattern().Replace(Text, m => string.Join(' ', m.Value.ToCharArray()));
            return UnitPattern()
                .Replace(
                    text,
                    m =>
                        m.Value switch
                        {
                            "fpm" => T["feet a minute"],
                            "ft" => T["feet"],
                            "kt" => T["knots"],
                            _ => T[" degrees"],
                        }
                );
        }
    }

    /// <summary>All calls of a drill in time; of what comes together, the flying is said first.</summary>
    /// <param name="timeline">The drill.</param>
    /// <param name="leadS">Seconds ahead of a segment, or from the start of the one before where that is shorter.</param>
    /// <param name="ratingTimesS">When the load rating is asked for.</param>
    public static IReadOnlyList<Call> Of(DrillTimeline timeline, double leadS, IEnumerable<double> ratingTimesS)
    {
        var segments = timeline.Segments;
        var calls = new List<Call>();
        for (var i = 0; i < timeline.Cues.Count; i++)
        {
            var before = i == 0 ? null : segments[i - 1];
            var atS = before is null ? 0 : Math.Max(before.StartS, before.EndS - leadS);
            calls.Add(new(atS, i == segments.Count ? CallKind.End : CallKind.Segment, timeline.Cues[i].Text));
        }

        calls.AddRange(timeline.Checks.Select(c => new Call(c.FromS, CallKind.Check, T["Check: {0}", c.Name])));
        calls.AddRange(timeline.LoadTasks.Select(t => new Call(t.AtS, CallKind.LoadTask, T["Load task: {0}", t.Name])));
        calls.AddRange(ratingTimesS.Select(s => new Call(s, CallKind.LoadRating, T["Ask for the load, 1 to 5"])));
        return [.. calls.OrderBy(c => c.AtS).ThenBy(c => c.Kind)];
    }

    /// <summary>A heading stands in three figures; altitudes and rates say their unit.</summary>
    [GeneratedRegex(@"(?<![\d.,:])\d{3}(?![\d:]|,\d| ?(ft|fpm|kt)\b)")]
    private static partial Regex HeadingPattern();

    [GeneratedRegex(@"\b(fpm|ft|kt)\b|°")]
    private static partial Regex UnitPattern();
}
