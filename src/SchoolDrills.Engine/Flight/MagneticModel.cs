using System.Globalization;

namespace SchoolDrills.Engine.Flight;

/// <summary>The earth's magnetic field at a place.</summary>
/// <param name="NorthNt">Part toward true north, nT.</param>
/// <param name="EastNt">Part toward east, nT.</param>
/// <param name="DownNt">Part downward, nT.</param>
public sealed record MagneticField(double NorthNt, double EastNt, double DownNt)
{
    /// <summary>Strength in the horizontal, nT.</summary>
    public double HorizontalNt => Math.Sqrt((NorthNt * NorthNt) + (EastNt * EastNt));

    /// <summary>Whole strength, nT.</summary>
    public double TotalNt => Math.Sqrt((NorthNt * NorthNt) + (EastNt * EastNt) + (DownNt * DownNt));

    /// <summary>Declination, degrees, east positive.</summary>
    public double DeclinationDeg => Units.RadToDeg(Math.Atan2(EastNt, NorthNt));

    /// <summary>Inclination, degrees, down positive.</summary>
    public double InclinationDeg => Units.RadToDeg(Math.Atan2(DownNt, HorizontalNt));

    /// <summary>One standard deviation of the declination, degrees, as the model's report gives it: √(0.26² + (5417/H)²).</summary>
    public double DeclinationSigmaDeg => Math.Sqrt((0.26 * 0.26) + Math.Pow(5417 / HorizontalNt, 2));
}

/// <summary>
/// The field of the earth's core, not of iron nearby: from 2025.0 to 2030.0 the World Magnetic Model 2025 to degree and order 12, from
/// 2000.0 on until then the International Geomagnetic Reference Field to degree and order 10, whose left-out terms are worth some
/// 0.1° of declination. There is no answer outside those years. Sources: NOAA NCEI and British Geological Survey, The US/UK World
/// Magnetic Model for 2025-2030; IAGA, International Geomagnetic Reference Field, 14th generation.
/// </summary>
public static class MagneticModel
{
    /// <summary>First and last decimal year.</summary>
    public const double FirstYear = 2000.0,
        LastYear = 2030.0;

    /// <summary>The year from which the World Magnetic Model holds, and from one definitive field to the next, years.</summary>
    private const double ForecastYear = 2025.0,
        EpochYears = 5;

    private const int Degree = 12;

    /// <summary>Heights above the ellipsoid between which the model holds, km.</summary>
    private const double LowestKm = -1,
        HighestKm = 850;

    /// <summary>Radius to which the coefficients refer, km.</summary>
    private const double ReferenceRadiusKm = 6371.2;

    private static readonly (double G, double H, double GPerYear, double HPerYear)[,] Forecast = LoadForecast();

    /// <summary>Coefficients of each definitive field, the first that of <see cref="FirstYear"/>.</summary>
    private static readonly (double G, double H)[][,] Definitive = LoadDefinitive();

    /// <summary>Decimal year of an instant.</summary>
    /// <param name="instant">Instant.</param>
    public static double DecimalYear(DateTimeOffset instant)
    {
        var utc = instant.UtcDateTime;
        var start = new DateTime(utc.Year, 1, 1, 0, 0, 0, DateTimeKind.Utc);
        return utc.Year + ((utc - start) / (start.AddYears(1) - start));
    }

    /// <summary>Declination, degrees, east positive; null outside the model's years.</summary>
    /// <param name="latDeg">Latitude, degrees.</param>
    /// <param name="lonDeg">Longitude, degrees.</param>
    /// <param name="heightKm">Height above the ellipsoid, km.</param>
    /// <param name="instant">When.</param>
    /// <exception cref="ArgumentOutOfRangeException">A latitude beyond a pole, or a height outside −1 to 850 km.</exception>
    public static double? DeclinationDeg(double latDeg, double lonDeg, double heightKm, DateTimeOffset instant) =>
        At(latDeg, lonDeg, heightKm, DecimalYear(instant))?.DeclinationDeg;

    /// <summary>The field at a place; null outside the model's years.</summary>
    /// <param name="latDeg">Geodetic latitude, degrees.</param>
    /// <param name="lonDeg">Longitude, degrees.</param>
    /// <param name="heightKm">Height above the WGS 84 ellipsoid, km.</param>
    /// <param name="decimalYear">Decimal year.</param>
    /// <exception cref="ArgumentOutOfRangeException">A latitude beyond a pole, or a height outside −1 to 850 km.</exception>
    public static MagneticField? At(double latDeg, double lonDeg, double heightKm, double decimalYear)
    {
        if (Math.Abs(latDeg) > 90)
            throw new ArgumentOutOfRangeException(nameof(latDeg), latDeg, "A latitude is between −90° and 90°.");
        if (heightKm is < LowestKm or > HighestKm)
        {
            throw new ArgumentOutOfRangeException(
                nameof(heightKm),
                heightKm,
                $"The model reaches from {LowestKm} to {HighestKm} km above the ellipsoid."
            );
        }

        if (!(decimalYear >= FirstYear && decimalYear <= LastYear))
            return null;
        var (geocentricLat, radiusKm) = Geocentric(latDeg, heightKm);
        // At the very pole east has no direction; a hair beside it the sums stay finite.
        geocentricLat = Math.Clamp(geocentricLat, -Math.PI / 2 + 1e-10, Math.PI / 2 - 1e-10);
        var (legendre, slope) = Legendre(Math.Sin(geocentricLat), Math.Cos(geocentricLat));
        double north = 0,
            east = 0,
            down = 0;
        var ratio = ReferenceRadiusKm / radiusKm;
        var power = ratio * ratio;
        for (var n = 1; n <= Degree; n++)
        {
            power *= ratio;
            for (var m = 0; m <= n; m++)
            {
                var (g, h) = Coefficient(n, m, decimalYear);
                var (sin, cos) = Math.SinCos(m * Units.DegToRad(lonDeg));
                var along = (g * cos) + (h * sin);
                north -= power * along * slope[n, m];
                east += power * m * ((g * sin) - (h * cos)) * legendre[n, m] / Math.Cos(geocentricLat);
                down -= power * (n + 1) * along * legendre[n, m];
            }
        }

        var tilt = geocentricLat - Units.DegToRad(latDeg);
        var (tiltSin, tiltCos) = Math.SinCos(tilt);
        return new MagneticField((north * tiltCos) - (down * tiltSin), east, (north * tiltSin) + (down * tiltCos));
    }

    private static (double G, double H) Coefficient(int n, int m, double decimalYear)
    {
        if (decimalYear >= ForecastYear)
        {
            var c = Forecast[n, m];
            var years = decimalYear - ForecastYear;
            return (c.G + (years * c.GPerYear), c.H + (years * c.HPerYear));
        }

        // Between two definitive fields straight, as the reference field is defined.
        var epochs = (decimalYear - FirstYear) / EpochYears;
        var before = (int)epochs;
        var (a, b) = (Definitive[before][n, m], Definitive[before + 1][n, m]);
        return (a.G + ((epochs - before) * (b.G - a.G)), a.H + ((epochs - before) * (b.H - a.H)));
    }

    private static (double LatRad, double RadiusKm) Geocentric(double latDeg, double heightKm)
    {
        const double equatorialKm = Geodesy.EquatorialRadiusM / 1000,
            eccentricitySq = Geodesy.Flattening * (2 - Geodesy.Flattening);
        var (sin, cos) = Math.SinCos(Units.DegToRad(latDeg));
        var normal = equatorialKm / Math.Sqrt(1 - (eccentricitySq * sin * sin));
        double across = (normal + heightKm) * cos,
            up = ((normal * (1 - eccentricitySq)) + heightKm) * sin;
        return (Math.Atan2(up, across), Math.Sqrt((across * across) + (up * up)));
    }

    /// <summary>Schmidt semi-normalised associated Legendre functions of the sine of latitude, and their slope by latitude.</summary>
    private static (double[,] Value, double[,] Slope) Legendre(double sin, double cos)
    {
        var value = new double[Degree + 1, Degree + 1];
        var slope = new double[Degree + 1, Degree + 1];
        value[0, 0] = 1;
        for (var n = 1; n <= Degree; n++)
        {
            for (var m = 0; m <= n; m++)
            {
                if (n == m)
                {
                    var k = n == 1 ? 1 : Math.Sqrt((2.0 * n - 1) / (2 * n));
                    value[n, m] = k * cos * value[n - 1, m - 1];
                    slope[n, m] = k * ((cos * slope[n - 1, m - 1]) - (sin * value[n - 1, m - 1]));
                    continue;
                }

                var scale = Math.Sqrt((n * n) - (m * m));
                var back = n > m + 1 ? Math.Sqrt(((n - 1) * (n - 1)) - (m * m)) : 0;
                double before = n > m + 1 ? value[n - 2, m] : 0,
                    slopeBefore = n > m + 1 ? slope[n - 2, m] : 0;
                value[n, m] = ((((2 * n) - 1) * sin * value[n - 1, m]) - (back * before)) / scale;
                slope[n, m] = ((((2 * n) - 1) * ((sin * slope[n - 1, m]) + (cos * value[n - 1, m]))) - (back * slopeBefore)) / scale;
            }
        }

        return (value, slope);
    }

    private static (double, double, double, double)[,] LoadForecast()
    {
        var coefficients = new (double, double, double, double)[Degree + 1, Degree + 1];
        foreach (var figures in Lines("flight/wmm2025.txt"))
            coefficients[(int)figures[0], (int)figures[1]] = (figures[2], figures[3], figures[4], figures[5]);
        return coefficients;
    }

    private static (double, double)[][,] LoadDefinitive()
    {
        var epochs = (int)((ForecastYear - FirstYear) / EpochYears) + 1;
        (double, double)[][,] fields = [.. Enumerable.Range(0, epochs).Select(_ => new (double, double)[Degree + 1, Degree + 1])];
        foreach (var figures in Lines("flight/igrf14.txt"))
        {
            for (var epoch = 0; epoch < epochs; epoch++)
                fields[epoch][(int)figures[0], (int)figures[1]] = (figures[2 + (2 * epoch)], figures[3 + (2 * epoch)]);
        }

        return fields;
    }

    private static IEnumerable<double[]> Lines(string resource)
    {
        using var stream = typeof(MagneticModel).Assembly.GetManifestResourceStream(resource)!;
        using var reader = new StreamReader(stream);
        while (reader.ReadLine() is { } line)
        {
            if (!line.StartsWith('#'))
                yield return Array.ConvertAll(line.Split(' '), text => double.Parse(text, CultureInfo.InvariantCulture));
        }
    }
}
