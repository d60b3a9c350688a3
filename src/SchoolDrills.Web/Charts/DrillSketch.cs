using System.Globalization;
using System.Text;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>A stroke of the path: even weight, one segment, climbing or descending or level.</summary>
internal sealed record Stroke(string Path, string Casing, double WeightPx, bool Slanted);

/// <summary>A tick across the path at a clock time, with its label where there was room for one.</summary>
internal sealed record Tick(Spot From, Spot To, string Text, Spot? Label);

/// <summary>An arrowhead on the path.</summary>
internal sealed record Arrow(Spot At, double AngleDeg, bool Slanted);

/// <summary>
/// Everything of the drawn drill worked out for one size: north up, one scale both ways, line weight by altitude, the altitude over
/// time in a strip below. Small drawings leave words out.
/// </summary>
internal sealed class DrillSketch
{
    private const double MetresPerNm = 1852;
    private const double LevelFt = 50;
    private const int Weights = 7;

    private readonly DrillPicture picture;
    private readonly Spot[] path;

    public DrillSketch(DrillPicture picture, DrillTimeline? timeline, int heightPx)
    {
        Small = heightPx < 220;
        // From above, a drill that never turns is a stick; what tells it from others is its profile.
        if (Small && NeverTurns(picture))
            picture = FromTheSide(picture);
        this.picture = picture;
        HeightPx = heightPx;
        var (low, high) = (picture.AltitudeFt.Min(), picture.AltitudeFt.Max());
        (LowFt, HighFt) = (low, high);
        PlanHeightPx = !Small && HighFt - LowFt > LevelFt ? heightPx - ProfileSketch.HeightPx : heightPx;

        double west = picture.EastM.Min(),
            east = picture.EastM.Max(),
            south = picture.NorthM.Min(),
            north = picture.NorthM.Max();
        double margin = Small ? 10 : 36,
            room = PlanHeightPx - (2 * margin);
        double wide = Math.Max(east - west, 200),
            tall = Math.Max(north - south, 200);
        WidthPx = Math.Clamp((room * wide / tall) + (2 * margin), PlanHeightPx * 0.95, PlanHeightPx * 1.4);
        PixelsPerMetre = Math.Min((WidthPx - (2 * margin)) / wide, room / tall);
        path = PathOffsets.Apart(
            [
                .. picture.EastM.Zip(
                    picture.NorthM,
                    (e, n) =>
                        new Spot(
                            (WidthPx / 2) + ((e - ((east + west) / 2)) * PixelsPerMetre),
                            (PlanHeightPx / 2) - ((n - ((north + south) / 2)) * PixelsPerMetre)
                        )
                ),
            ],
            Small ? 3 : 6
        );

        Strokes = [.. Runs().Select(StrokeOf)];
        Arrows = [.. Segments().Select(ArrowOf).OfType<Arrow>()];
        Ticks = LabelPlacer.Place(path, TicksAt(timeline), Small ? null : (WidthPx, PlanHeightPx));
        Profile = PlanHeightPx < heightPx ? new ProfileSketch(picture, timeline, WidthPx, PlanHeightPx) : null;
        (BarNm, BarPx) = Bar();
    }

    private static bool NeverTurns(DrillPicture picture)
    {
        double wide = picture.EastM.Max() - picture.EastM.Min(),
            tall = picture.NorthM.Max() - picture.NorthM.Min();
        return Math.Min(wide, tall) < 0.02 * Math.Max(wide, tall);
    }

    private static DrillPicture FromTheSide(DrillPicture picture)
    {
        var lengthM = Math.Max(Math.Abs(picture.EastM[^1] - picture.EastM[0]), Math.Abs(picture.NorthM[^1] - picture.NorthM[0]));
        double seconds = picture.TimeS[^1] - picture.TimeS[0],
            lowFt = picture.AltitudeFt.Min(),
            heightFt = Math.Max(picture.AltitudeFt.Max() - lowFt, 1);
        return picture with
        {
            EastM = [.. picture.TimeS.Select(t => (t - picture.TimeS[0]) / seconds * lengthM)],
            NorthM = [.. picture.AltitudeFt.Select(a => (a - lowFt) / heightFt * lengthM / 3)],
        };
    }

    public bool Small { get; }

    public double WidthPx { get; }

    public double HeightPx { get; }

    public double PlanHeightPx { get; }

    public double PixelsPerMetre { get; }

    public double LowFt { get; }

    public double HighFt { get; }

    public IReadOnlyList<Stroke> Strokes { get; }

    public IReadOnlyList<Arrow> Arrows { get; }

    public IReadOnlyList<Tick> Ticks { get; }

    public ProfileSketch? Profile { get; }

    public double BarNm { get; }

    public double BarPx { get; }

    /// <summary>Where the path is on the drawing, one place a sample of the picture.</summary>
    public IReadOnlyList<Spot> Path => path;

    public Spot Start => path[0];

    public Spot End => path[^1];

    public static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    public static string PathOf(IEnumerable<Spot> spots)
    {
        var text = new StringBuilder();
        foreach (var spot in spots)
            text.Append(text.Length == 0 ? 'M' : 'L').Append(Number(spot.X)).Append(' ').Append(Number(spot.Y));
        return text.ToString();
    }

    private IEnumerable<(int From, int To)> Segments()
    {
        var from = 0;
        for (var i = 1; i <= path.Length; i++)
        {
            if (i < path.Length && picture.SegmentIndex[i] == picture.SegmentIndex[from])
                continue;
            yield return (from, i - 1);
            from = i;
        }
    }

    // Pieces of one segment and one line weight.
    private IEnumerable<(int From, int To)> Runs()
    {
        foreach (var (from, to) in Segments())
        {
            var start = from;
            for (var i = from + 1; i <= to + 1; i++)
            {
                if (i <= to && Level(i) == Level(start))
                    continue;
                yield return (start, Math.Min(i, path.Length - 1));
                start = i;
            }
        }
    }

    private int Level(int i) =>
        HighFt - LowFt < LevelFt ? 2 : (int)Math.Round((picture.AltitudeFt[i] - LowFt) / (HighFt - LowFt) * (Weights - 1));

    private bool Slanted(int i)
    {
        int a = Math.Max(0, i - 3),
            b = Math.Min(path.Length - 1, i + 3);
        return picture.TimeS[b] > picture.TimeS[a]
            && Math.Abs(picture.AltitudeFt[b] - picture.AltitudeFt[a]) / (picture.TimeS[b] - picture.TimeS[a]) * 60 > 100;
    }

    private Stroke StrokeOf((int From, int To) run)
    {
        var weight = (Small ? 0.9 : 1.3) + (Level(run.From) * (Small ? 0.32 : 0.5));
        var over = path[Math.Max(0, run.From - 1)..Math.Min(path.Length, run.To + 2)];
        return new Stroke(PathOf(over), PathOf(path[run.From..(run.To + 1)]), weight, Slanted((run.From + run.To) / 2));
    }

    private Arrow? ArrowOf((int From, int To) segment)
    {
        var length = 0.0;
        for (var i = segment.From + 1; i <= segment.To; i++)
            length += path[i].DistanceTo(path[i - 1]);
        if (length < (Small ? 24 : 30))
            return null;
        var middle = (segment.From + segment.To) / 2;
        var (dx, dy) = PathOffsets.Direction(path, middle);
        return new Arrow(path[middle], Math.Atan2(dy, dx) * 180 / Math.PI, Slanted(middle));
    }

    // Gates, those at the ends of segments first in line for a label; without a timeline the starts of the segments.
    private List<(int At, string Text, bool Labelled)> TicksAt(DrillTimeline? timeline)
    {
        var starts = Segments().Skip(1).Select(s => picture.TimeS[s.From]).ToList();
        var gates = timeline is { Gates.Count: > 0 } ? timeline.Gates.Select(g => g.AtS) : starts;
        return
        [
            .. gates
                .Where(t => t > picture.TimeS[0] + 1 && t < picture.TimeS[^1] - 1)
                .Select(t => (Nearest(t), Figures.Clock(t), starts.Exists(s => Math.Abs(s - t) < 1.5))),
        ];
    }

    private int Nearest(double timeS)
    {
        var i = Array.BinarySearch(picture.TimeS, timeS);
        return i >= 0 ? i : Math.Min(~i, path.Length - 1);
    }

    private (double Nm, double Px) Bar()
    {
        var most = WidthPx * 0.28 / PixelsPerMetre / MetresPerNm;
        var power = Math.Pow(10, Math.Floor(Math.Log10(most)));
        var nm =
            power
            * (
                most >= 5 * power ? 5
                : most >= 2 * power ? 2
                : 1
            );
        return (nm, nm * MetresPerNm * PixelsPerMetre);
    }
}
