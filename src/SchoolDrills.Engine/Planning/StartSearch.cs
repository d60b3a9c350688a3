namespace SchoolDrills.Engine.Planning;

/// <summary>
/// Finds the start of a drill from which its whole ground path lies inside an area, as far from the boundary as possible: a coarse grid
/// over the area, then ever smaller steps from the best point of it.
/// </summary>
internal static class StartSearch
{
    private const int GridSide = 20,
        MostPoints = 200,
        Halvings = 14;

    /// <summary>
    /// The start found and the least distance of the path from the boundary, metres; negative where the path leaves the area.
    /// </summary>
    /// <param name="area">The area.</param>
    /// <param name="eastM">Path, metres east of its start.</param>
    /// <param name="northM">Path, metres north of its start.</param>
    public static (double EastM, double NorthM, double MarginM) Best(PracticeArea area, double[] eastM, double[] northM)
    {
        var every = Math.Max(1, eastM.Length / MostPoints);
        var (west, east, south, north) = area.Bounds;
        // The middle of the path's bounding box in the middle of the area's is the first try, even where the path cannot fit.
        var (midEast, midNorth) = ((eastM.Min() + eastM.Max()) / 2, (northM.Min() + northM.Max()) / 2);
        var best = (EastM: ((west + east) / 2) - midEast, NorthM: ((south + north) / 2) - midNorth, MarginM: double.NegativeInfinity);
        Try(best.EastM, best.NorthM);
        var (stepEast, stepNorth) = ((east - west) / GridSide, (north - south) / GridSide);
        for (var i = 0; i <= GridSide; i++)
        {
            for (var j = 0; j <= GridSide; j++)
                Try(west + (i * stepEast) - midEast, south + (j * stepNorth) - midNorth);
        }

        for (var halving = 0; halving < Halvings; )
        {
            var from = best;
            for (var i = -1; i <= 1; i++)
            {
                for (var j = -1; j <= 1; j++)
                    Try(from.EastM + (i * stepEast), from.NorthM + (j * stepNorth));
            }

            if (best.MarginM > from.MarginM + 0.1)
                continue;
            (stepEast, stepNorth) = (stepEast / 2, stepNorth / 2);
            halving++;
        }

        return best with
        {
            MarginM = Margin(area, eastM, northM, best.EastM, best.NorthM, 1, double.NegativeInfinity),
        };

        void Try(double startEast, double startNorth)
        {
            var margin = Margin(area, eastM, northM, startEast, startNorth, every, best.MarginM);
            if (margin > best.MarginM)
                best = (startEast, startNorth, margin);
        }
    }

    /// <summary>Least distance of a path from the boundary; stops early once it is no better than a known one.</summary>
    public static double Margin(
        PracticeArea area,
        double[] eastM,
        double[] northM,
        double startEastM,
        double startNorthM,
        int every,
        double betterThanM
    )
    {
        var least = double.PositiveInfinity;
        for (var i = 0; i < eastM.Length && least > betterThanM; i += every)
            least = Math.Min(least, area.MarginM(startEastM + eastM[i], startNorthM + northM[i]));
        return least;
    }
}
