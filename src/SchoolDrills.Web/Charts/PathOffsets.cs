namespace SchoolDrills.Web.Charts;

/// <summary>A point of a drawing, pixels right and down.</summary>
internal readonly record struct Spot(double X, double Y)
{
    public double DistanceTo(Spot other) => Math.Sqrt(((X - other.X) * (X - other.X)) + ((Y - other.Y) * (Y - other.Y)));
}

/// <summary>
/// Draws a path apart from itself where it runs over an earlier part of itself along the same line, so that the second circle of two
/// is seen beside the first. Paths that merely cross stay where they are.
/// </summary>
internal static class PathOffsets
{
    private const double CellPx = 4;
    private const double NearPx = 2.5;
    private const double LoopPx = 25;
    private const double ParallelCosine = 0.95;
    private const double ShortestPx = 40;
    private const double SmoothPx = 14;

    /// <summary>The path with its n-th retracing moved n times <paramref name="gapPx"/> to the right of travel.</summary>
    public static Spot[] Apart(Spot[] path, double gapPx)
    {
        var along = Along(path);
        var layers = Layers(path, along);
        if (layers.All(l => l == 0))
            return path;
        var moved = new Spot[path.Length];
        for (var i = 0; i < path.Length; i++)
        {
            var (dx, dy) = Direction(path, i);
            var shift = gapPx * Smoothed(layers, along, i);
            moved[i] = new Spot(path[i].X - (dy * shift), path[i].Y + (dx * shift));
        }

        return moved;
    }

    /// <summary>Unit vector along the path at a point.</summary>
    public static (double X, double Y) Direction(Spot[] path, int i)
    {
        int a = i,
            b = i;
        while (a > 0 && path[a].DistanceTo(path[i]) < 2)
            a--;
        while (b < path.Length - 1 && path[b].DistanceTo(path[i]) < 2)
            b++;
        var length = path[a].DistanceTo(path[b]);
        return length > 0 ? ((path[b].X - path[a].X) / length, (path[b].Y - path[a].Y) / length) : (0, -1);
    }

    private static double[] Along(Spot[] path)
    {
        var along = new double[path.Length];
        for (var i = 1; i < path.Length; i++)
            along[i] = along[i - 1] + path[i].DistanceTo(path[i - 1]);
        return along;
    }

    // How many earlier passes lie under each point.
    private static int[] Layers(Spot[] path, double[] along)
    {
        var layers = new int[path.Length];
        var cells = new Dictionary<(int, int), List<int>>();
        for (var i = 0; i < path.Length; i++)
        {
            var (cx, cy) = ((int)Math.Floor(path[i].X / CellPx), (int)Math.Floor(path[i].Y / CellPx));
            var (dx, dy) = Direction(path, i);
            for (var ox = -1; ox <= 1; ox++)
            {
                for (var oy = -1; oy <= 1; oy++)
                {
                    foreach (var j in cells.GetValueOrDefault((cx + ox, cy + oy)) ?? [])
                    {
                        if (along[i] - along[j] < LoopPx || path[i].DistanceTo(path[j]) > NearPx)
                            continue;
                        var (ex, ey) = Direction(path, j);
                        if (Math.Abs((dx * ex) + (dy * ey)) > ParallelCosine)
                            layers[i] = Math.Max(layers[i], layers[j] + 1);
                    }
                }
            }

            if (!cells.TryGetValue((cx, cy), out var cell))
                cells[(cx, cy)] = cell = [];
            cell.Add(i);
        }

        DropShort(layers, along);
        return layers;
    }

    // A circle leaves and meets its tangent within a few pixels; that is no retracing.
    private static void DropShort(int[] layers, double[] along)
    {
        for (var from = 0; from < layers.Length; )
        {
            var to = from;
            while (to + 1 < layers.Length && layers[to + 1] > 0 == layers[from] > 0)
                to++;
            if (along[to] - along[from] < ShortestPx)
                Array.Clear(layers, from, to - from + 1);
            from = to + 1;
        }
    }

    private static double Smoothed(int[] layers, double[] along, int i)
    {
        int from = i,
            to = i;
        while (from > 0 && along[i] - along[from - 1] <= SmoothPx)
            from--;
        while (to < layers.Length - 1 && along[to + 1] - along[i] <= SmoothPx)
            to++;
        return layers[from..(to + 1)].Average();
    }
}
