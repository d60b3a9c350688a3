namespace SchoolDrills.Engine.Flight;

/// <summary>
/// The plane of metres east and north that touches WGS 84 at an origin, through earth-centred coordinates; exact there and back. Over a
/// drill
/// it is a map: distances from the origin come out short of the way along the ground by their cube over 6R², 4 mm at 10 km, 0.5 m at 50 km
/// and 33 m at 200 km, and directions from it are true to 0.0001° within 200 km. Away from the origin the plane's north is still
/// that of the origin, and the meridians lean from it by the longitude between times sin lat: half a degree 50 km east in middle
/// latitudes. Up is
/// above the plane, not above the ground.
/// </summary>
public sealed class LocalFrame
{
    private const double EccentricitySq = Geodesy.Flattening * (2 - Geodesy.Flattening);

    private readonly double sinLat;
    private readonly double cosLat;
    private readonly double sinLon;
    private readonly double cosLon;
    private readonly (double X, double Y, double Z) origin;

    /// <summary>Lays a plane.</summary>
    /// <param name="latDeg">Latitude of the origin, degrees.</param>
    /// <param name="lonDeg">Longitude of the origin, degrees.</param>
    /// <param name="heightM">Height of the origin above the ellipsoid, metres.</param>
    /// <exception cref="ArgumentOutOfRangeException">A latitude beyond a pole.</exception>
    public LocalFrame(double latDeg, double lonDeg, double heightM)
    {
        if (Math.Abs(latDeg) > 90)
            throw new ArgumentOutOfRangeException(nameof(latDeg), latDeg, "A latitude is between −90° and 90°.");
        LatDeg = latDeg;
        LonDeg = lonDeg;
        (sinLat, cosLat) = Math.SinCos(Units.DegToRad(latDeg));
        (sinLon, cosLon) = Math.SinCos(Units.DegToRad(lonDeg));
        origin = EarthCentred(latDeg, lonDeg, heightM);
    }

    /// <summary>Latitude of the origin, degrees.</summary>
    public double LatDeg { get; }

    /// <summary>Longitude of the origin, degrees.</summary>
    public double LonDeg { get; }

    /// <summary>A place as metres east, north and up of the origin.</summary>
    /// <param name="latDeg">Latitude, degrees.</param>
    /// <param name="lonDeg">Longitude, degrees.</param>
    /// <param name="heightM">Height above the ellipsoid, metres.</param>
    public (double EastM, double NorthM, double UpM) ToLocal(double latDeg, double lonDeg, double heightM)
    {
        var (x, y, z) = EarthCentred(latDeg, lonDeg, heightM);
        double dx = x - origin.X,
            dy = y - origin.Y,
            dz = z - origin.Z;
        var outward = (cosLon * dx) + (sinLon * dy);
        return ((cosLon * dy) - (sinLon * dx), (cosLat * dz) - (sinLat * outward), (sinLat * dz) + (cosLat * outward));
    }

    /// <summary>Metres east, north and up of the origin as a place.</summary>
    /// <param name="eastM">East, metres.</param>
    /// <param name="northM">North, metres.</param>
    /// <param name="upM">Up, metres.</param>
    public (double LatDeg, double LonDeg, double HeightM) ToGeodetic(double eastM, double northM, double upM)
    {
        var outward = (cosLat * upM) - (sinLat * northM);
        var x = origin.X + (cosLon * outward) - (sinLon * eastM);
        var y = origin.Y + (sinLon * outward) + (cosLon * eastM);
        var z = origin.Z + (sinLat * upM) + (cosLat * northM);
        var across = Math.Sqrt((x * x) + (y * y));
        // A handful of fixed-point rounds reach a micrometre at aircraft heights.
        var lat = Math.Atan2(z, across * (1 - EccentricitySq));
        double normal = 0,
            heightM = 0;
        for (var round = 0; round < 6; round++)
        {
            var sin = Math.Sin(lat);
            normal = Geodesy.EquatorialRadiusM / Math.Sqrt(1 - (EccentricitySq * sin * sin));
            heightM = (across * Math.Cos(lat)) + (z * sin) - (normal * (1 - (EccentricitySq * sin * sin)));
            lat = Math.Atan2(z, across * (1 - (EccentricitySq * normal / (normal + heightM))));
        }

        return (Units.RadToDeg(lat), Units.RadToDeg(Math.Atan2(y, x)), heightM);
    }

    private static (double X, double Y, double Z) EarthCentred(double latDeg, double lonDeg, double heightM)
    {
        var (sinLat, cosLat) = Math.SinCos(Units.DegToRad(latDeg));
        var (sinLon, cosLon) = Math.SinCos(Units.DegToRad(lonDeg));
        var normal = Geodesy.EquatorialRadiusM / Math.Sqrt(1 - (EccentricitySq * sinLat * sinLat));
        return (
            (normal + heightM) * cosLat * cosLon,
            (normal + heightM) * cosLat * sinLon,
            ((normal * (1 - EccentricitySq)) + heightM) * sinLat
        );
    }
}
