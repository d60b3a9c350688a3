using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>How far a column of directions is right of the course over the ground, on straight stretches in each direction flown.</summary>
internal static class CourseDifferences
{
    /// <summary>A sector of directions counts with so many straight stretches.</summary>
    private const int LeastStretches = 2;

    /// <summary>A stretch is straight when it turns less, and a column when it varies less.</summary>
    private const double StraightDeg = 4;

    /// <summary>Of the normal equations for one sector; four directions at right angles have 0.25, three within 90 degrees 0.006.</summary>
    private const double LeastDeterminant = 0.01;

    /// <summary>The median difference in each eighth of the circle that was flown, degrees, with a course of it.</summary>
    public static List<(double CourseDeg, double OffDeg)> Sectors(ReadOnlySpan<double> values, List<GroundStretch> stretches) =>
        [
            .. Differences(values, stretches)
                .GroupBy(d => (int)(Angles.NormalizeDeg(d.CourseDeg) / 45) % 8)
                .Where(sector => sector.Count() >= LeastStretches)
                .Select(sector => (sector.First().CourseDeg, OffDeg: Median(sector.Select(d => d.OffDeg)))),
        ];

    /// <summary>
    /// The part of the difference that no wind makes: the constant of a + b sin + c cos of the course by least squares, because drift has
    /// the sine of the wind's angle to the course. NaN where the directions lie too near each other to part it from drift.
    /// </summary>
    public static double WithoutDriftDeg(List<(double CourseDeg, double OffDeg)> sectors)
    {
        double sin = 0,
            cos = 0,
            sinSin = 0,
            cosCos = 0,
            sinCos = 0,
            off = 0,
            offSin = 0,
            offCos = 0;
        foreach (var (courseDeg, offDeg) in sectors)
        {
            var (s, c) = Math.SinCos(Units.DegToRad(courseDeg));
            (sin, cos, sinSin, cosCos, sinCos) = (sin + s, cos + c, sinSin + s * s, cosCos + c * c, sinCos + s * c);
            (off, offSin, offCos) = (off + offDeg, offSin + offDeg * s, offCos + offDeg * c);
        }
        // Cramer's rule for the first unknown of the normal equations.
        var minor = sinSin * cosCos - sinCos * sinCos;
        var determinant = sectors.Count * minor - sin * (sin * cosCos - sinCos * cos) + cos * (sin * sinCos - sinSin * cos);
        var first = off * minor - sin * (offSin * cosCos - sinCos * offCos) + cos * (offSin * sinCos - sinSin * offCos);
        return determinant > LeastDeterminant * Math.Pow(sectors.Count, 3) ? first / determinant : double.NaN;
    }

    /// <summary>The middle value; the higher of two.</summary>
    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted[sorted.Length / 2];
    }

    /// <summary>The difference on each straight stretch on which the column is steady, degrees.</summary>
    private static List<(double CourseDeg, double OffDeg)> Differences(ReadOnlySpan<double> values, List<GroundStretch> stretches)
    {
        var differences = new List<(double, double)>();
        foreach (var stretch in values.IsEmpty ? [] : stretches.FindAll(s => Math.Abs(s.TurnedDeg) < StraightDeg))
        {
            double least = double.PositiveInfinity,
                most = double.NegativeInfinity,
                sum = 0;
            var count = 0;
            for (var i = stretch.From; i <= stretch.To; i++)
            {
                if (double.IsNaN(values[i]))
                    continue;
                var off = Angles.DifferenceDeg(values[i], stretch.CourseTrueDeg);
                (least, most) = (Math.Min(least, off), Math.Max(most, off));
                sum += off;
                count++;
            }
            if (count > 0 && most - least < 2 * StraightDeg)
                differences.Add((stretch.CourseTrueDeg, sum / count));
        }
        return differences;
    }
}
