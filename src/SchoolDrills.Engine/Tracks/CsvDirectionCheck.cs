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

    /// <summary>A ground track is within this of the same difference in all directions; a wind of 3 kt at 90 kt drifts more.</summary>
    private const double SteadyDeg = 1.5;

    /// <summary>What a heading may differ from the course: the drift in much wind, and the variation of most places.</summary>
    private const double MostDriftDeg = 60;

    /// <summary>Without drift a heading is within this part of the variation from the true or the magnetic course.</summary>
    private const double MostOfVariation = 1 / 3.0;

    private readonly CsvHeader header;
    private readonly TrackBuilder builder;
    private readonly List<GroundStretch> stretches;
    private readonly double? declinationDeg;

    private CsvDirectionCheck(CsvHeader header, TrackBuilder builder, List<GroundStretch> stretches)
    {
        (this.header, this.builder, this.stretches) = (header, builder, stretches);
        declinationDeg = CsvVariationCheck.ModelDeg(builder) ?? CsvVariationCheck.RecordedDeg(builder);
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
        var sectors = CourseDifferences.Sectors(builder.Values(column), stretches);
        if (GroundStretches.Directions(sectors.Select(s => s.CourseDeg)) < LeastDirections)
            return Held.Untold;
        if (sectors.Exists(s => Math.Abs(s.OffDeg) > MostDriftDeg))
            return Held.SomethingElse;
        var offDeg = (sectors.Min(s => s.OffDeg) + sectors.Max(s => s.OffDeg)) / 2;
        if (sectors.Exists(s => Math.Abs(s.OffDeg - offDeg) > SteadyDeg))
        {
            var constantDeg = CourseDifferences.WithoutDriftDeg(sectors);
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
}
