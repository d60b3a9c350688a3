using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Planning;

/// <summary>A line of the graticule with what stands at the map's edge.</summary>
internal sealed record MapLine(Spot From, Spot To, string Text, bool IsParallel);

/// <summary>An area as drawn.</summary>
internal sealed record MapArea(string Path, string Name, Spot Label, bool Chosen);

/// <summary>
/// A plain map: north up, one scale both ways, graticule and scale bar. The view stays while all that matters is in it, so that nothing
/// jumps while one drags.
/// </summary>
internal sealed class MapGround
{
    private const double RoomPx = 34;
    private static readonly double[] StepsMin = [1, 2, 5, 10, 15, 30, 60];

    private readonly LocalFrame frame;
    private (double West, double South, double PerM) view;

    /// <param name="middle">Middle of the plane that is drawn.</param>
    /// <param name="before">The map before this one; null for the first.</param>
    public MapGround(LatLon middle, double widthPx, double heightPx, MapGround? before = null)
    {
        (WidthPx, HeightPx) = (widthPx, heightPx);
        frame =
            before?.frame is { } old
            && Math.Abs(old.LatDeg - middle.LatDeg) < 0.5
            && Math.Abs(Angles.DifferenceDeg(old.LonDeg, middle.LonDeg)) < 0.5
                ? old
                : new LocalFrame(middle.LatDeg, middle.LonDeg, 0);
    }

    public double WidthPx { get; }

    public double HeightPx { get; }

    public double PixelsPerMetre => view.PerM;

    public static IReadOnlyList<LatLon> Corners(SchoolArea? area) =>
        PlanInputs.TryCorners(area?.Polygon, out var corners) && corners is not null ? corners : [];

    /// <summary>43°41.2′S.</summary>
    public static string Latitude(double latDeg, string format = "00.0") => Angle(latDeg, format, latDeg < 0 ? "S" : "N");

    /// <summary>171°53.1′E.</summary>
    public static string Longitude(double lonDeg, string format = "00.0") => Angle(lonDeg, format, lonDeg < 0 ? "W" : "E");

    /// <summary>Chooses what is seen, metres about the middle.</summary>
    public void Show(IReadOnlyList<Spot> all, MapGround? before)
    {
        double west = all.Min(s => s.X),
            east = all.Max(s => s.X),
            south = all.Min(s => s.Y),
            north = all.Max(s => s.Y);
        if (before is not null && before.frame == frame)
        {
            var old = before.view;
            var (oldEast, oldNorth) = (old.West + (WidthPx / old.PerM), old.South + (HeightPx / old.PerM));
            var share = Math.Max((east - west) / (oldEast - old.West), (north - south) / (oldNorth - old.South));
            var edge = RoomPx / 2 / old.PerM;
            if (share > 0.45 && west > old.West + edge && east < oldEast - edge && south > old.South + edge && north < oldNorth - edge)
            {
                view = old;
                return;
            }
        }

        var perM = Math.Min(
            (WidthPx - (2 * RoomPx)) / Math.Max(east - west, 500),
            (HeightPx - (2 * RoomPx)) / Math.Max(north - south, 500)
        );
        view = (((west + east) / 2) - (WidthPx / 2 / perM), ((south + north) / 2) - (HeightPx / 2 / perM), perM);
    }

    /// <summary>Metres east and north of the middle.</summary>
    public Spot Local(LatLon place) => frame.ToLocal(place.LatDeg, place.LonDeg, 0) is var (east, north, _) ? new(east, north) : default;

    /// <summary>The place at metres east and north of the middle.</summary>
    public LatLon ToPlace(double eastM, double northM)
    {
        // Down to the ellipsoid: the plane is s²/2R above it.
        var (lat, lon, _) = frame.ToGeodetic(eastM, northM, -((eastM * eastM) + (northM * northM)) / 2 / Geodesy.MeanRadiusM);
        return new(Math.Round(lat, 6), Math.Round(lon, 6));
    }

    /// <summary>Where metres east and north of the middle are drawn.</summary>
    public Spot On(Spot metres) => new((metres.X - view.West) * view.PerM, HeightPx - ((metres.Y - view.South) * view.PerM));

    public MapArea Drawn(SchoolArea area, bool chosen)
    {
        var spots = Corners(area).Select(c => On(Local(c))).ToList();
        return new(DrillSketch.PathOf(spots) + "Z", area.Name, Label(spots), chosen);
    }

    /// <summary>Where a name stands: in the widest part of a line a little below the top of what is seen of an area.</summary>
    private Spot Label(List<Spot> spots)
    {
        var (top, bottom) = (Math.Max(spots.Min(s => s.Y), 0), Math.Min(spots.Max(s => s.Y), HeightPx));
        var y = top + Math.Min(0.12 * Math.Max(bottom - top, 0), 46) + 14;
        List<double> cuts = [];
        for (var (i, j) = (0, spots.Count - 1); i < spots.Count; j = i++)
        {
            var (a, b) = (spots[i], spots[j]);
            if (a.Y > y != b.Y > y)
                cuts.Add(Math.Clamp(((b.X - a.X) * (y - a.Y) / (b.Y - a.Y)) + a.X, 0, WidthPx));
        }

        cuts.Sort();
        var (from, to) =
            cuts.Count < 2 ? (0, 0) : cuts.Chunk(2).Where(c => c.Length == 2).Select(c => (c[0], c[1])).MaxBy(c => c.Item2 - c.Item1);
        return new((from + to) / 2, to - from > 90 ? y : -100);
    }

    public IEnumerable<MapLine> Graticule()
    {
        var (eastM, northM) = (view.West + (WidthPx / view.PerM), view.South + (HeightPx / view.PerM));
        LatLon sw = ToPlace(view.West, view.South),
            ne = ToPlace(eastM, northM),
            nw = ToPlace(view.West, northM),
            se = ToPlace(eastM, view.South);
        var (south, north) = (Math.Min(sw.LatDeg, se.LatDeg), Math.Max(nw.LatDeg, ne.LatDeg));
        var step = StepsMin.FirstOrDefault(s => (north - south) * 60 / s <= 6, 60) / 60;
        for (var k = Math.Ceiling(south / step); k * step < north; k++)
            yield return new(On(Local(new(k * step, sw.LonDeg))), On(Local(new(k * step, se.LonDeg))), Latitude(k * step, "00"), true);

        var wide = Angles.DifferenceDeg(ne.LonDeg, nw.LonDeg);
        var lonStep = StepsMin.FirstOrDefault(s => wide * 60 / s <= 6, 60) / 60;
        for (var k = Math.Ceiling(nw.LonDeg / lonStep); k * lonStep < nw.LonDeg + wide; k++)
        {
            var lon = Angles.DifferenceDeg(k * lonStep, 0);
            yield return new(On(Local(new(south, lon))), On(Local(new(north, lon))), Longitude(lon, "00"), false);
        }
    }

    /// <summary>A round length for the scale bar.</summary>
    public (double Nm, double Px) Bar()
    {
        var most = WidthPx * 0.25 / view.PerM / Units.MPerNm;
        var nm = new[] { 10.0, 5, 2, 1, 0.5, 0.2 }.FirstOrDefault(n => n <= most, 0.1);
        return (nm, nm * Units.MPerNm * view.PerM);
    }

    private static string Angle(double deg, string format, string side)
    {
        var minutes = Math.Round(Math.Abs(deg) * 60, format.Length > 2 ? 1 : 0);
        var whole = Math.Floor(minutes / 60);
        var rest = (minutes - (whole * 60)).ToString(format, CultureInfo.InvariantCulture);
        return string.Create(CultureInfo.InvariantCulture, $"{whole:0}°{rest}′{side}");
    }
}
