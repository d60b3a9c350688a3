namespace SchoolDrills.Engine.Flight;

/// <summary>
/// Distances and directions on the WGS 84 ellipsoid by Vincenty's series (Survey Review 23, 1975), good to half a millimetre. It does not
/// converge for points almost opposite each other on the globe; then there is no answer rather than a wrong one. NaN has no answer either.
/// </summary>
public static class Geodesy
{
    /// <summary>Equatorial radius, metres, and flattening.</summary>
    public const double EquatorialRadiusM = 6_378_137,
        Flattening = 1 / 298.257223563;

    /// <summary>Mean radius, metres, for a sphere that stands for the ellipsoid.</summary>
    /// <remarks>Source: mean radius R1 of WGS 84, 6,371,009 m, rounded.</remarks>
    public const double MeanRadiusM = 6_371_000;

    private const double PolarRadiusM = EquatorialRadiusM * (1 - Flattening);

    /// <summary>Shortest line between two points.</summary>
    /// <param name="DistanceM">Length, metres.</param>
    /// <param name="StartAzimuthDeg">Direction at the first point, degrees true, (0, 360].</param>
    /// <param name="EndAzimuthDeg">Direction at the second point, onward, degrees true, (0, 360].</param>
    public sealed record Line(double DistanceM, double StartAzimuthDeg, double EndAzimuthDeg);

    /// <summary>
    /// Shortest line between two points; null when they are within about half a degree of opposite each other. From a point to itself the
    /// direction is north.
    /// </summary>
    /// <param name="lat1Deg">Latitude of the first, degrees.</param>
    /// <param name="lon1Deg">Longitude of the first, degrees.</param>
    /// <param name="lat2Deg">Latitude of the second, degrees.</param>
    /// <param name="lon2Deg">Longitude of the second, degrees.</param>
    /// <exception cref="ArgumentOutOfRangeException">A latitude beyond a pole.</exception>
    public static Line? Between(double lat1Deg, double lon1Deg, double lat2Deg, double lon2Deg)
    {
        var (sinU1, cosU1) = Reduced(lat1Deg);
        var (sinU2, cosU2) = Reduced(lat2Deg);
        var longitude = Units.DegToRad(Angles.DifferenceDeg(lon2Deg, lon1Deg));
        var lambda = longitude;
        for (var round = 0; round < 200; round++)
        {
            var (sinLambda, cosLambda) = Math.SinCos(lambda);
            var across = (cosU1 * sinU2) - (sinU1 * cosU2 * cosLambda);
            var sinSigma = Math.Sqrt((cosU2 * sinLambda * cosU2 * sinLambda) + (across * across));
            var cosSigma = (sinU1 * sinU2) + (cosU1 * cosU2 * cosLambda);
            if (sinSigma == 0)
                return cosSigma > 0 ? new Line(0, 360, 360) : null;
            var sigma = Math.Atan2(sinSigma, cosSigma);
            var sinAlpha = cosU1 * cosU2 * sinLambda / sinSigma;
            var cosSqAlpha = 1 - (sinAlpha * sinAlpha);
            var cos2Middle = cosSqAlpha > 1e-15 ? cosSigma - (2 * sinU1 * sinU2 / cosSqAlpha) : 0;
            var c = Flattening / 16 * cosSqAlpha * (4 + (Flattening * (4 - (3 * cosSqAlpha))));
            var next =
                longitude
                + (
                    (1 - c)
                    * Flattening
                    * sinAlpha
                    * (sigma + (c * sinSigma * (cos2Middle + (c * cosSigma * (-1 + (2 * cos2Middle * cos2Middle))))))
                );
            if (Math.Abs(next) > Math.PI)
                return null;
            if (Math.Abs(next - lambda) < 1e-13)
            {
                var (a, deltaSigma) = Series(cosSqAlpha, sinSigma, cosSigma, cos2Middle);
                return new Line(
                    PolarRadiusM * a * (sigma - deltaSigma),
                    Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(cosU2 * sinLambda, across))),
                    Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(cosU1 * sinLambda, (-sinU1 * cosU2) + (cosU1 * sinU2 * cosLambda))))
                );
            }

            lambda = next;
        }

        return null;
    }

    /// <summary>The point a distance away in a direction; longitude in (−180, 180].</summary>
    /// <param name="latDeg">Latitude, degrees.</param>
    /// <param name="lonDeg">Longitude, degrees.</param>
    /// <param name="azimuthDeg">Direction, degrees true.</param>
    /// <param name="distanceM">Distance, metres.</param>
    /// <exception cref="ArgumentOutOfRangeException">A latitude beyond a pole.</exception>
    public static (double LatDeg, double LonDeg) Destination(double latDeg, double lonDeg, double azimuthDeg, double distanceM)
    {
        var (sinAzimuth, cosAzimuth) = Math.SinCos(Units.DegToRad(azimuthDeg));
        var (sinU1, cosU1) = Reduced(latDeg);
        var sigma1 = Math.Atan2(sinU1 / cosU1, cosAzimuth);
        var sinAlpha = cosU1 * sinAzimuth;
        var cosSqAlpha = 1 - (sinAlpha * sinAlpha);
        var (a, _) = Series(cosSqAlpha, 0, 1, 1);
        var sigma = distanceM / (PolarRadiusM * a);
        for (var round = 0; round < 100; round++)
        {
            var (sin, cos) = Math.SinCos(sigma);
            var (_, deltaSigma) = Series(cosSqAlpha, sin, cos, Math.Cos((2 * sigma1) + sigma));
            var next = (distanceM / (PolarRadiusM * a)) + deltaSigma;
            var done = Math.Abs(next - sigma) < 1e-14;
            sigma = next;
            if (done)
                break;
        }

        var (sinSigma, cosSigma) = Math.SinCos(sigma);
        var cos2Middle = Math.Cos((2 * sigma1) + sigma);
        var toPole = (sinU1 * sinSigma) - (cosU1 * cosSigma * cosAzimuth);
        var lat = Math.Atan2(
            (sinU1 * cosSigma) + (cosU1 * sinSigma * cosAzimuth),
            (1 - Flattening) * Math.Sqrt((sinAlpha * sinAlpha) + (toPole * toPole))
        );
        var lambda = Math.Atan2(sinSigma * sinAzimuth, (cosU1 * cosSigma) - (sinU1 * sinSigma * cosAzimuth));
        var c = Flattening / 16 * cosSqAlpha * (4 + (Flattening * (4 - (3 * cosSqAlpha))));
        var l =
            lambda
            - (
                (1 - c)
                * Flattening
                * sinAlpha
                * (sigma + (c * sinSigma * (cos2Middle + (c * cosSigma * (-1 + (2 * cos2Middle * cos2Middle))))))
            );
        return (Units.RadToDeg(lat), Angles.DifferenceDeg(lonDeg + Units.RadToDeg(l), 0));
    }

    /// <summary>Sine and cosine of the reduced latitude, that of the point on the sphere about the ellipsoid.</summary>
    private static (double Sin, double Cos) Reduced(double latDeg)
    {
        if (Math.Abs(latDeg) > 90)
            throw new ArgumentOutOfRangeException(nameof(latDeg), latDeg, "A latitude is between −90° and 90°.");
        var (sin, cos) = Math.SinCos(Units.DegToRad(latDeg));
        return Math.SinCos(Math.Atan2((1 - Flattening) * sin, cos));
    }

    private static (double A, double DeltaSigma) Series(double cosSqAlpha, double sinSigma, double cosSigma, double cos2Middle)
    {
        var uSq = cosSqAlpha * ((EquatorialRadiusM * EquatorialRadiusM) - (PolarRadiusM * PolarRadiusM)) / (PolarRadiusM * PolarRadiusM);
        var a = 1 + (uSq / 16384 * (4096 + (uSq * (-768 + (uSq * (320 - (175 * uSq)))))));
        var b = uSq / 1024 * (256 + (uSq * (-128 + (uSq * (74 - (47 * uSq))))));
        var square = cos2Middle * cos2Middle;
        var inner = (cosSigma * (-1 + (2 * square))) - (b / 6 * cos2Middle * (-3 + (4 * sinSigma * sinSigma)) * (-3 + (4 * square)));
        return (a, b * sinSigma * (cos2Middle + (b / 4 * inner)));
    }
}
