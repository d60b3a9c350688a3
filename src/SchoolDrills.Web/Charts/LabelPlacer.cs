namespace SchoolDrills.Web.Charts;

/// <summary>Finds a place beside each tick where its label covers neither another label nor, if it can be helped, the path.</summary>
internal static class LabelPlacer
{
    private const double TickPx = 5;
    private const double HalfHeightPx = 7;
    private const double LetterPx = 6.6;
    private static readonly double[] Distances = [17, 26];

    /// <param name="path">The whole path.</param>
    /// <param name="ticks">Index on the path, text, and whether it is worth a label.</param>
    /// <param name="area">Where labels may lie; null for none at all.</param>
    public static IReadOnlyList<Tick> Place(
        Spot[] path,
        IReadOnlyList<(int At, string Text, bool Labelled)> ticks,
        (double Width, double Height)? area
    )
    {
        var placed = new List<(Spot Centre, double Half)> { (path[0], 8) };
        var answer = new List<Tick>();
        foreach (var (at, text, labelled) in ticks)
        {
            var (dx, dy) = PathOffsets.Direction(path, at);
            var half =
                TickPx
                * (
                    area is null ? 0.6
                    : labelled ? 1
                    : 0.6
                );
            var spot = path[at];
            Spot? label = labelled && area is { } a ? Best(path, spot, text.Length * LetterPx / 2, placed, a) : null;
            if (label is { } centre)
                placed.Add((centre, text.Length * LetterPx / 2));
            answer.Add(
                new Tick(new(spot.X - (dy * half), spot.Y + (dx * half)), new(spot.X + (dy * half), spot.Y - (dx * half)), text, label)
            );
        }

        return answer;
    }

    private static Spot? Best(
        Spot[] path,
        Spot tick,
        double half,
        List<(Spot Centre, double Half)> placed,
        (double Width, double Height) area
    )
    {
        Spot? best = null;
        var least = 12.0;
        foreach (var distance in Distances)
        {
            for (var k = 0; k < 12; k++)
            {
                var angle = k * Math.PI / 6;
                var centre = new Spot(tick.X + (Math.Cos(angle) * (distance + (half * 0.4))), tick.Y + (Math.Sin(angle) * distance));
                var inside =
                    centre.X - half > 2
                    && centre.X + half < area.Width - 2
                    && centre.Y - HalfHeightPx > 2
                    && centre.Y + HalfHeightPx < area.Height - 2;
                var free = placed.TrueForAll(p =>
                    Math.Abs(p.Centre.X - centre.X) > p.Half + half + 3 || Math.Abs(p.Centre.Y - centre.Y) > (2 * HalfHeightPx) - 1
                );
                if (!inside || !free)
                    continue;
                var covered =
                    path.Count(p => Math.Abs(p.X - centre.X) < half + 2 && Math.Abs(p.Y - centre.Y) < HalfHeightPx) + (distance / 20);
                if (covered >= least)
                    continue;
                least = covered;
                best = centre;
            }
        }

        return best;
    }
}
