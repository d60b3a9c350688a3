using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Tells what a column of directions holds, by its difference from the course over the ground on straight parts flown in at least three
/// directions. A ground track keeps to that course, or to the magnetic variation from it, in every direction; a heading differs by the
/// drift, which varies with direction. What is a ground track never stays a heading: the variation would count as a pilot's error.
/// </summary>
internal sealed class CsvDirectionCheck
{
    private const int LeastDirections = 3;

    /// <summary>A sector of directions counts with so many straight stretches.</summary>
    private const int LeastStretches = 2;

    /// <summary>A ground track is within this of the same difference in all directions; a wind of 3 kt at 90 kt drifts more.</summary>
    private const double SteadyDeg = 1.5;

    /// <summary>A stretch is straight when it turns less, and a column when it varies less.</summary>
    private const double StraightDeg = 4;

    /// <summary>What a heading may differ from the course: the drift in much wind, and the variation of most places.</summary>
    private const double MostDriftDeg = 60;

    /// <summary>Without drift a heading is within this part of the variation from the true or the magnetic course.</summary>
    private const double MostOfVariation = 1 / 3.0;

    /// <summary>Of the normal equations for one sector; four directions at right angles have 0.25, three within 90 degrees 0.006.</summary>
    private const double LeastDeterminant = 0.01;

    private readonly CsvHeader header;
    private readonly TrackBuilder builder;
    private readonly List<GroundStretch> straight;
    private readonly double? declinationDeg;

    private CsvDirectionCheck(CsvHeader header, TrackBuilder builder, List<GroundStretch> stretches)
    {
        (this.header, this.builder) = (header, builder);
        straight = stretches.FindAll(s => Math.Abs(s.TurnedDeg) < StraightDeg);
        var middle = builder.Count / 2;
        declinationDeg = MagneticModel.DeclinationDeg(builder.LatDeg[middle], builder.LonDeg[middle], 0, builder.Utc(middle));
    }

    private enum Held
    {
        /// <summary>Too little was flown straight, or too few directions.</summary>
        Untold,
        TrueTrack,
        MagneticTrack,

        /// <summary>The difference varies as drift does.</summary>
        Heading,

        /// <summary>And without drift the difference is the variation.</summary>
        MagneticHeading,

        /// <summary>And without drift there is none.</summary>
        TrueHeading,

        /// <summary>The difference is beyond any drift.</summary>
        SomethingElse,
    }

    public static void Correct(CsvHeader header, TrackBuilder builder, List<GroundStretch> stretches)
    {
        var check = new CsvDirectionCheck(header, builder, stretches);
        // The track first: a heading that is found to be one is then known to have its own already.
        check.Track();
        check.Heading();
    }

    private void Track()
    {
        if (!TryFind(TrackColumn.CourseTrueDeg, out var name) || Tell(TrackColumn.CourseTrueDeg) != Held.MagneticTrack)
            return;
        ToTrue(TrackColumn.CourseTrueDeg);
        builder.Warn(
            $"Column \"{name}\" keeps {Variation} from the true course in every direction; it was taken as magnetic ground track."
        );
    }

    private void Heading()
    {
        if (!TryFind(TrackColumn.HeadingMagDeg, out var name))
            return;
        var index = header.Found[TrackColumn.HeadingMagDeg.Name()];
        if (header.Header[index].Has("magnetic") || header.Units[index].ToLowerInvariant() is "degm" or "degmag" or "deg mag")
            return;
        switch (Tell(TrackColumn.HeadingMagDeg))
        {
            case Held.TrueTrack:
                TakeAs(TrackColumn.CourseTrueDeg);
                builder.Warn(
                    $"Column \"{name}\" keeps to the course over the ground in every direction flown, whatever the wind; it was taken as "
                        + "true ground track, not as heading."
                );
                break;
            case Held.MagneticTrack:
                ToTrue(TrackColumn.HeadingMagDeg);
                TakeAs(TrackColumn.CourseTrueDeg);
                builder.Warn(
                    $"Column \"{name}\" keeps {Variation} from the true course in every direction, whatever the wind; it was taken as "
                        + "magnetic ground track, not as heading."
                );
                break;
            case Held.MagneticHeading:
                builder.Warn(
                    $"Column \"{name}\" differs from the course over the ground as drift does, by another angle in each direction; it was "
                        + "taken as magnetic heading."
                );
                break;
            case Held.Heading:
                builder.Warn(
                    $"Column \"{name}\" differs from the course over the ground as drift does; it was taken as magnetic heading, though "
                        + "the flight does not show that; if it is true heading, set it as headingTrueDeg."
                );
                break;
            case Held.TrueHeading:
                TakeAs(TrackColumn.HeadingTrueDeg);
                builder.Warn(
                    $"Column \"{name}\" differs from the true course as drift does, without {Variation}; it was taken as true heading."
                );
                break;
            case Held.SomethingElse:
                header.Leave(TrackColumn.HeadingMagDeg, builder);
                builder.Warn(
                    $"Column \"{name}\" is neither the heading nor the ground track, for it is far from the course over the ground; it was "
                        + "left out; if it is the heading all the same, set it as headingMagDeg."
                );
                break;
            case Held.Untold when header.Header[index].Has("bearing"):
                header.Leave(TrackColumn.HeadingMagDeg, builder);
                builder.Warn(
                    $"Column \"{name}\" could be the heading, the ground track or the way to a point, and too few directions were flown "
                        + "straight to tell; it was left out; if it is wanted, set it as headingMagDeg or courseTrueDeg."
                );
                break;
            default:
                builder.Warn(
                    $"Column \"{name}\" does not say whether it is heading or ground track, and too few directions were flown straight to "
                        + "tell; it was taken as magnetic heading; if it is the ground track, set it as courseTrueDeg."
                );
                break;
        }
    }

    /// <summary>The variation as a ground track has it: 7° east makes the magnetic direction 7° less.</summary>
    private string Variation =>
        string.Create(CultureInfo.InvariantCulture, $"the magnetic variation of {Math.Abs(declinationDeg ?? 0):0.0}° {Side}");

    private string Side => declinationDeg < 0 ? "west" : "east";

    private bool TryFind(TrackColumn column, out string name)
    {
        name = "";
        if (builder.Values(column).IsEmpty || header.IsManual(column.Name()))
            return false;
        name = header.Names[header.Found[column.Name()]];
        return true;
    }

    private void ToTrue(TrackColumn column)
    {
        foreach (ref var value in builder.Values(column))
            value = column.Plausible(Angles.NormalizeDeg(value + (declinationDeg ?? 0)));
    }

    private void TakeAs(TrackColumn other)
    {
        // What the recording has already stays.
        if (builder.Values(other).IsEmpty)
        {
            builder.Move(TrackColumn.HeadingMagDeg, other);
            header.Found[other.Name()] = header.Found[TrackColumn.HeadingMagDeg.Name()];
        }
        header.Leave(TrackColumn.HeadingMagDeg, builder);
    }

    private Held Tell(TrackColumn column)
    {
        var sectors = Differences(column)
            .GroupBy(d => (int)(Angles.NormalizeDeg(d.CourseDeg) / 45) % 8)
            .Where(sector => sector.Count() >= LeastStretches)
            .Select(sector => (sector.First().CourseDeg, OffDeg: Median(sector.Select(d => d.OffDeg))))
            .ToList();
        if (GroundStretches.Directions(sectors.Select(s => s.CourseDeg)) < LeastDirections)
            return Held.Untold;
        if (sectors.Exists(s => Math.Abs(s.OffDeg) > MostDriftDeg))
            return Held.SomethingElse;
        var offDeg = (sectors.Min(s => s.OffDeg) + sectors.Max(s => s.OffDeg)) / 2;
        if (sectors.Exists(s => Math.Abs(s.OffDeg - offDeg) > SteadyDeg))
        {
            var constantDeg = WithoutDriftDeg(sectors);
            var clearDeg = Math.Max(SteadyDeg, MostOfVariation * Math.Abs(declinationDeg ?? 0));
            return Math.Abs(constantDeg + (declinationDeg ?? double.NaN)) < clearDeg ? Held.MagneticHeading
                : Math.Abs(constantDeg) < clearDeg && declinationDeg is not null ? Held.TrueHeading
                : Held.Heading;
        }
        var fromMagnetic = Math.Abs(offDeg + (declinationDeg ?? double.PositiveInfinity));
        return Math.Min(Math.Abs(offDeg), fromMagnetic) > 2 * SteadyDeg ? Held.Heading
            : Math.Abs(offDeg) <= fromMagnetic ? Held.TrueTrack
            : Held.MagneticTrack;
    }

    /// <summary>
    /// The part of the difference that no wind makes: the constant of a + b sin + c cos of the course by least squares, because drift has
    /// the sine of the wind's angle to the course. NaN where the directions lie too near each other to part it from drift.
    /// </summary>
    private static double WithoutDriftDeg(List<(double CourseDeg, double OffDeg)> sectors)
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

    /// <summary>How far the column is right of the course on each straight stretch on which it is steady, degrees.</summary>
    private List<(double CourseDeg, double OffDeg)> Differences(TrackColumn column)
    {
        var differences = new List<(double, double)>();
        var values = builder.Values(column);
        foreach (var stretch in straight)
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

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return sorted[sorted.Length / 2];
    }
}
