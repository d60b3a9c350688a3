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
                TakeAsTrack();
                builder.Warn(
                    $"Column \"{name}\" keeps to the course over the ground in every direction flown, whatever the wind; it was taken as "
                        + "true ground track, not as heading."
                );
                break;
            case Held.MagneticTrack:
                ToTrue(TrackColumn.HeadingMagDeg);
                TakeAsTrack();
                builder.Warn(
                    $"Column \"{name}\" keeps {Variation} from the true course in every direction, whatever the wind; it was taken as "
                        + "magnetic ground track, not as heading."
                );
                break;
            case Held.Heading:
                builder.Warn(
                    $"Column \"{name}\" differs from the course over the ground as drift does, by another angle in each direction; it was "
                        + "taken as magnetic heading."
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

    private void TakeAsTrack()
    {
        var index = header.Found[TrackColumn.HeadingMagDeg.Name()];
        if (builder.Values(TrackColumn.CourseTrueDeg).IsEmpty)
        {
            builder.Move(TrackColumn.HeadingMagDeg, TrackColumn.CourseTrueDeg);
            header.Found[TrackColumn.CourseTrueDeg.Name()] = index;
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
            return Held.Heading;
        var fromMagnetic = Math.Abs(offDeg + (declinationDeg ?? double.PositiveInfinity));
        return Math.Min(Math.Abs(offDeg), fromMagnetic) > 2 * SteadyDeg ? Held.Heading
            : Math.Abs(offDeg) <= fromMagnetic ? Held.TrueTrack
            : Held.MagneticTrack;
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
