using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Tells whether a recorded variation counts east or west as positive, for makes differ: by the magnetic models within their years, else
/// by true less magnetic heading, or by what a magnetic direction is off the true course besides drift.
/// </summary>
internal static class CsvVariationCheck
{
    private const TrackColumn Variation = TrackColumn.MagneticVariationDeg;

    /// <summary>A recorder's own table of the field is some years old, and a compass is off by a degree or two.</summary>
    private const double AgreesDeg = 3;

    /// <summary>The wrong sign is off by so much more than the right one; smaller variations do not show their sign.</summary>
    private const double ClearDeg = 2;

    /// <summary>Declination by the magnetic models, degrees, east positive; null outside their years.</summary>
    public static double? ModelDeg(TrackBuilder builder)
    {
        var middle = builder.Count / 2;
        return MagneticModel.DeclinationDeg(builder.LatDeg[middle], builder.LonDeg[middle], 0, builder.Utc(middle));
    }

    /// <summary>Median of the recorded variation, degrees; null where none is recorded.</summary>
    public static double? RecordedDeg(TrackBuilder builder)
    {
        var known = Array.FindAll(builder.Values(Variation).ToArray(), double.IsFinite);
        return known.Length == 0 ? null : CourseDifferences.Median(known);
    }

    /// <summary>Makes the column east positive, or removes it where its sign is not told.</summary>
    public static void Correct(CsvHeader header, TrackBuilder builder, List<GroundStretch> stretches)
    {
        if (RecordedDeg(builder) is not { } recordedDeg || !header.Found.TryGetValue(Variation.Name(), out var index))
            return;
        var name = header.Names[index];
        if (CsvUnit.NamesSide(header.Units[index]))
        {
            if (ModelDeg(builder) is null)
                builder.Warn(Taken(builder, name, "its unit says so"));
        }
        else if (ModelDeg(builder) is { } modelDeg)
        {
            CorrectByModel(header, builder, name, recordedDeg, modelDeg);
        }
        else
        {
            CorrectByHeadings(
                header,
                builder,
                name,
                Shown(builder, stretches).Select(deg => Sign(recordedDeg, deg)).FirstOrDefault(s => s != 0)
            );
        }
    }

    private static void CorrectByModel(CsvHeader header, TrackBuilder builder, string name, double recordedDeg, double modelDeg)
    {
        if (Math.Min(Math.Abs(recordedDeg - modelDeg), Math.Abs(recordedDeg + modelDeg)) > AgreesDeg)
        {
            header.Leave(Variation, builder);
            builder.Warn(
                $"Column \"{name}\" is far from the magnetic variation here, {Side(modelDeg)}, whichever way it counts; it was left out."
            );
        }
        else if (Sign(recordedDeg, modelDeg) < 0)
        {
            Multiply(builder, -1);
            builder.Warn($"Column \"{name}\" counts variation to the west as positive: the magnetic variation here is {Side(modelDeg)}.");
        }
    }

    private static void CorrectByHeadings(CsvHeader header, TrackBuilder builder, string name, int sign)
    {
        if (sign == 0)
        {
            header.Leave(Variation, builder);
            builder.Warn(
                $"Column \"{name}\" does not say whether it counts variation to the east or to the west as positive, and headings and "
                    + "tracks do not show it; it was left out; if it is wanted, set its unit to \"° east\" or \"° west\"."
            );
            return;
        }
        Multiply(builder, sign);
        builder.Warn(Taken(builder, name, $"it counts {(sign < 0 ? "west" : "east")} as positive, as headings or tracks show"));
    }

    /// <summary>1 where a recorded variation counts east as positive, -1 where west, 0 where that is not told.</summary>
    private static int Sign(double recordedDeg, double actualDeg)
    {
        double east = Math.Abs(recordedDeg - actualDeg),
            west = Math.Abs(recordedDeg + actualDeg);
        // Whatever is not known compares false.
        return Math.Min(east, west) <= AgreesDeg && Math.Abs(east - west) >= ClearDeg ? Math.Sign(west - east) : 0;
    }

    /// <summary>The variation, degrees, east positive, by whatever else of the recording shows it; the best first.</summary>
    private static IEnumerable<double> Shown(TrackBuilder builder, List<GroundStretch> stretches)
    {
        var (trueDeg, magneticDeg) = (
            builder.Values(TrackColumn.HeadingTrueDeg).ToArray(),
            builder.Values(TrackColumn.HeadingMagDeg).ToArray()
        );
        var differences = trueDeg.Zip(magneticDeg, Angles.DifferenceDeg).Where(double.IsFinite).ToArray();
        if (differences.Length > 0)
            yield return CourseDifferences.Median(differences);
        yield return -CourseDifferences.WithoutDriftDeg(CourseDifferences.Sectors(magneticDeg, stretches));
        // A track that turns out to be magnetic.
        yield return -CourseDifferences.WithoutDriftDeg(CourseDifferences.Sectors(builder.Values(TrackColumn.CourseTrueDeg), stretches));
    }

    private static void Multiply(TrackBuilder builder, int sign)
    {
        foreach (ref var value in builder.Values(Variation))
            value *= sign;
    }

    private static string Taken(TrackBuilder builder, string name, string why) =>
        $"The magnetic models used here do not reach the date of the recording; the magnetic variation, {Side(RecordedDeg(builder) ?? 0)}, "
        + $"was taken from column \"{name}\": {why}.";

    private static string Side(double deg) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(deg):0.0}° {(deg < 0 ? "west" : "east")}");
}
