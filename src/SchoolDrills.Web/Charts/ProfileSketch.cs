using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>Altitude over the drill's clock, in a strip below the plan view.</summary>
internal sealed class ProfileSketch
{
    /// <summary>Height of the strip with its clock line.</summary>
    public const double HeightPx = 78;

    private const double LeftPx = 58;
    private const double RightPx = 14;
    private const double HeadPx = 14;
    private const double FootPx = 22;

    /// <param name="picture">The path as flown, which rounds off each level-off.</param>
    /// <param name="timeline">The drill, for the altitudes as they are planned; null where there is none.</param>
    /// <param name="widthPx">Width of the drawing.</param>
    /// <param name="topPx">Top of the strip.</param>
    public ProfileSketch(DrillPicture picture, DrillTimeline? timeline, double widthPx, double topPx)
    {
        var planned = timeline?.Segments.SelectMany(s => new[] { s.StartAltitudeFt, s.EndAltitudeFt }) ?? [];
        double low = planned.Append(picture.AltitudeFt.Min()).Min(),
            high = planned.Append(picture.AltitudeFt.Max()).Max(),
            first = picture.TimeS[0],
            last = picture.TimeS[^1];
        double top = topPx + HeadPx,
            bottom = topPx + HeightPx - FootPx;
        double X(double timeS) => LeftPx + ((timeS - first) / Math.Max(last - first, 1) * (widthPx - LeftPx - RightPx));
        double Y(double altitudeFt) => bottom - ((altitudeFt - low) / Math.Max(high - low, 1) * (bottom - top));
        Spots = [.. picture.TimeS.Zip(picture.AltitudeFt, (t, a) => new Spot(X(t), Y(a)))];
        Path = DrillSketch.PathOf(Spots);
        Levels = [(Y(high), Figures.Altitude(high)), (Y(low), Figures.Altitude(low))];
        var starts = Enumerable
            .Range(1, picture.TimeS.Length - 1)
            .Where(i => picture.SegmentIndex[i] != picture.SegmentIndex[i - 1])
            .Select(i => picture.TimeS[i]);
        Rules = [.. starts.Select(X)];
        (Left, Right, Top, Bottom) = (LeftPx, widthPx - RightPx, top, bottom);
        var step = new[] { 30.0, 60, 120, 300, 600, 1200, 3600 }.First(s => s == 3600 || (last - first) / s <= widthPx / 75);
        Clocks = [.. Enumerable.Range(0, (int)((last - first) / step) + 1).Select(k => (X(first + (k * step)), Figures.Clock(k * step)))];
    }

    public double Left { get; }

    public double Right { get; }

    public double Top { get; }

    public double Bottom { get; }

    /// <summary>Where the line is on the drawing, one place a sample of the picture.</summary>
    public IReadOnlyList<Spot> Spots { get; }

    public string Path { get; }

    public IReadOnlyList<(double Y, string Text)> Levels { get; }

    public IReadOnlyList<double> Rules { get; }

    public IReadOnlyList<(double X, string Text)> Clocks { get; }
}
