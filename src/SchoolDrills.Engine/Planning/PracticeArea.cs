using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>A corner of an area, or a place.</summary>
/// <param name="LatDeg">Latitude, degrees, north positive.</param>
/// <param name="LonDeg">Longitude, degrees, east positive.</param>
public readonly record struct LatLon(double LatDeg, double LonDeg);

/// <summary>A practice area: a simple polygon, in metres about its middle.</summary>
public sealed class PracticeArea
{
    private readonly (double EastM, double NorthM)[] corners;
    private readonly LocalFrame frame;

    private PracticeArea((double EastM, double NorthM)[] corners, LocalFrame frame) => (this.corners, this.frame) = (corners, frame);

    /// <summary>An area by its corners, or why they make none.</summary>
    /// <param name="ring">Corners in order, either way round; the first may be given again at the end.</param>
    public static (PracticeArea? Area, string? Problem) From(IReadOnlyList<LatLon> ring)
    {
        var given = ring.Count > 1 && ring[0] == ring[^1] ? ring.Take(ring.Count - 1).ToArray() : [.. ring];
        if (given.Length is < 3 or > PlanModel.MostCorners)
            return (null, $"The area needs 3 to {PlanModel.MostCorners} corners.");
        if (given.Any(c => !(Math.Abs(c.LatDeg) <= 89 && Math.Abs(c.LonDeg) <= 180)))
            return (null, "A corner of the area is not a latitude and a longitude.");
        var frame = new LocalFrame(
            given.Average(c => c.LatDeg),
            given[0].LonDeg + given.Average(c => Angles.DifferenceDeg(c.LonDeg, given[0].LonDeg)),
            0
        );
        var corners = given.Select(c => frame.ToLocal(c.LatDeg, c.LonDeg, 0)).Select(c => (c.EastM, c.NorthM)).ToArray();
        if (corners.Any(c => Math.Abs(c.EastM) + Math.Abs(c.NorthM) > PlanModel.FarthestCornerM))
            return (null, "The area is larger than this plan can draw.");
        return CrossesItself(corners) ? (null, "The area's boundary crosses itself.") : (new PracticeArea(corners, frame), null);
    }

    /// <summary>Bounding box of the corners, metres about the middle.</summary>
    public (double WestM, double EastM, double SouthM, double NorthM) Bounds =>
        (corners.Min(c => c.EastM), corners.Max(c => c.EastM), corners.Min(c => c.NorthM), corners.Max(c => c.NorthM));

    /// <summary>Metres east and north of the area's middle.</summary>
    /// <param name="place">A place.</param>
    public (double EastM, double NorthM) ToLocal(LatLon place) =>
        frame.ToLocal(place.LatDeg, place.LonDeg, 0) is var (east, north, _) ? (east, north) : default;

    /// <summary>The place at metres east and north of the area's middle.</summary>
    /// <param name="eastM">East, metres.</param>
    /// <param name="northM">North, metres.</param>
    public LatLon ToPlace(double eastM, double northM)
    {
        // Down to the ellipsoid: the plane is s²/2R above it.
        var (lat, lon, _) = frame.ToGeodetic(eastM, northM, -((eastM * eastM) + (northM * northM)) / 2 / Geodesy.MeanRadiusM);
        return new(lat, lon);
    }

    /// <summary>Distance to the boundary, metres: positive inside, negative outside.</summary>
    /// <param name="eastM">East of the middle, metres.</param>
    /// <param name="northM">North of the middle, metres.</param>
    public double MarginM(double eastM, double northM)
    {
        var (inside, nearestSq) = (false, double.PositiveInfinity);
        for (int i = 0, j = corners.Length - 1; i < corners.Length; j = i++)
        {
            var (a, b) = (corners[i], corners[j]);
            if (
                a.NorthM > northM != b.NorthM > northM
                && eastM < ((b.EastM - a.EastM) * (northM - a.NorthM) / (b.NorthM - a.NorthM)) + a.EastM
            )
            {
                inside = !inside;
            }

            double dx = b.EastM - a.EastM,
                dy = b.NorthM - a.NorthM;
            var lengthSq = (dx * dx) + (dy * dy);
            var along = lengthSq == 0 ? 0 : Math.Clamp((((eastM - a.EastM) * dx) + ((northM - a.NorthM) * dy)) / lengthSq, 0, 1);
            double ex = a.EastM + (along * dx) - eastM,
                ey = a.NorthM + (along * dy) - northM;
            nearestSq = Math.Min(nearestSq, (ex * ex) + (ey * ey));
        }

        return inside ? Math.Sqrt(nearestSq) : -Math.Sqrt(nearestSq);
    }

    private static bool CrossesItself((double EastM, double NorthM)[] ring)
    {
        for (var i = 0; i < ring.Length; i++)
        {
            for (var j = i + 2; j < ring.Length; j++)
            {
                if (i == 0 && j == ring.Length - 1)
                    continue;
                if (Cross(ring[i], ring[i + 1], ring[j], ring[(j + 1) % ring.Length]))
                    return true;
            }
        }

        return false;

        static bool Cross((double X, double Y) a, (double X, double Y) b, (double X, double Y) c, (double X, double Y) d) =>
            Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0;

        static double Side((double X, double Y) a, (double X, double Y) b, (double X, double Y) p) =>
            ((b.X - a.X) * (p.Y - a.Y)) - ((b.Y - a.Y) * (p.X - a.X));
    }
}
