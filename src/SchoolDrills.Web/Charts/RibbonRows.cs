using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Charts;

/// <summary>
/// Breaks a ribbon into rows for narrow screens: one time scale for all, rows as equal in length as the order of the segments
/// allows, so that a drill of four like sides breaks into its sides.
/// </summary>
internal static class RibbonRows
{
    // With these a segment of the shortest usual length, half a minute, is wide enough for a finger at 360 pixels.
    private const double LongestRowS = 240;
    private const double ShortestRowS = 60;
    private const double ShortestSegmentsARow = 8;

    public static IReadOnlyList<IReadOnlyList<RibbonSegment>> Of(IReadOnlyList<RibbonSegment> segments)
    {
        if (segments.Count == 0)
            return [];
        var total = segments.Sum(s => s.DurationS);
        var row = Math.Clamp(segments.Min(s => s.DurationS) * ShortestSegmentsARow, ShortestRowS, LongestRowS);
        var limit = ShortestLongestRow(segments, Math.Clamp((int)Math.Ceiling(total / row), 1, segments.Count));
        var rows = new List<IReadOnlyList<RibbonSegment>>();
        var current = new List<RibbonSegment>();
        foreach (var segment in segments)
        {
            if (current.Count > 0 && current.Sum(s => s.DurationS) + segment.DurationS > limit)
            {
                rows.Add(current);
                current = [];
            }

            current.Add(segment);
        }

        rows.Add(current);
        return rows;
    }

    // The least limit that some run of segments adds up to and that still fits into so many rows.
    private static double ShortestLongestRow(IReadOnlyList<RibbonSegment> segments, int rows)
    {
        var best = segments.Sum(s => s.DurationS);
        for (var first = 0; first < segments.Count; first++)
        {
            var sum = 0.0;
            for (var last = first; last < segments.Count; last++)
            {
                sum += segments[last].DurationS;
                if (sum < best && Fits(segments, sum, rows))
                    best = sum;
            }
        }

        return best + 1e-6;
    }

    private static bool Fits(IReadOnlyList<RibbonSegment> segments, double limit, int rows)
    {
        var used = 1;
        var filled = 0.0;
        foreach (var segment in segments)
        {
            if (segment.DurationS > limit + 1e-6)
                return false;
            if (filled + segment.DurationS > limit + 1e-6)
            {
                used++;
                filled = 0;
            }

            filled += segment.DurationS;
        }

        return used <= rows;
    }
}
