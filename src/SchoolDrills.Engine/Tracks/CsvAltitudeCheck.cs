using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Tells the unit of altitude columns by what the recorded vertical speed adds up to or, where that was not recorded or does not tell, by
/// another altitude: of columns in metres under a header in feet, and of columns without a unit. What nothing tells is decided by the name:
/// elevations and heights are metres in most loggers.
/// </summary>
internal sealed class CsvAltitudeCheck
{
    private static readonly TrackColumn[] Altitudes =
    [
        TrackColumn.GpsAltitudeFt,
        TrackColumn.PressureAltitudeFt,
        TrackColumn.IndicatedAltitudeFt,
    ];

    private readonly CsvHeader header;
    private readonly TrackBuilder builder;
    private readonly List<TrackColumn> present;
    private double[]? climbedFt;
    private readonly List<TrackColumn> known;
    private readonly List<TrackColumn> unitless;

    private CsvAltitudeCheck(CsvHeader header, TrackBuilder builder)
    {
        (this.header, this.builder) = (header, builder);
        climbedFt = builder.Values(TrackColumn.VerticalSpeedFpm).IsEmpty ? null : VerticalSpeedSteps();
        present = Altitudes.Where(c => !builder.Values(c).IsEmpty).ToList();
        unitless = present.FindAll(c =>
            Unit(c).Length == 0 && !header.UnitIsManual(c.Name()) && !header.Header[header.Found[c.Name()]].Has("level")
        );
        known = [.. present.Except(unitless)];
    }

    public static void Correct(CsvHeader header, TrackBuilder builder)
    {
        var check = new CsvAltitudeCheck(header, builder);
        check.TellVerticalSpeed();
        check.CorrectFeet();
        check.TellUnitless();
    }

    /// <summary>
    /// A vertical speed without a unit is metres a second where altitudes change by what these add up to: read as feet a minute, by 60
    /// times as many metres, or 197 times as many feet.
    /// </summary>
    private void TellVerticalSpeed()
    {
        const TrackColumn Climb = TrackColumn.VerticalSpeedFpm;
        if (climbedFt is null || Unit(Climb).Length > 0 || header.IsManual(Climb.Name()))
            return;
        var slopes = present.ConvertAll(c => Slope(c, climbedFt));
        if (!slopes.Exists(s => s.IsNear(60) || s.IsNear(Units.FpmPerMps)))
            return;
        foreach (ref var value in builder.Values(Climb))
            value = Climb.Plausible(value * Units.FpmPerMps);
        climbedFt = VerticalSpeedSteps();
        builder.Warn($"Column \"{Name(Climb)}\" has no unit; it was taken as metres a second, because the altitude changes so.");
    }

    private void CorrectFeet()
    {
        var inFeet = known.FindAll(c => !header.UnitIsManual(c.Name()) && CsvUnit.For(c, Unit(c)) == CsvUnit.Same);
        var suspects = climbedFt is null
            ? inFeet.FindAll(c => known.Exists(other => other != c && Slope(c, ChangesFt(other)).IsMetres))
            : inFeet.FindAll(c => Slope(c, climbedFt).IsMetres);
        // A column too noisy to decide takes the unit whose value it is nearest to.
        if (suspects.Count > 0)
        {
            var metres = Median(suspects[0]);
            suspects.AddRange(inFeet.Except(suspects).Where(c => LiesBy(c, metres, Units.MToFt(metres))).ToList());
        }
        foreach (var column in suspects)
        {
            ToFeet(column);
            builder.Warn($"Column \"{Name(column)}\" should hold feet, but it changes as metres would; it was taken as metres.");
        }
    }

    private void TellUnitless()
    {
        // Each column that is told may tell the next.
        for (var told = true; told; )
        {
            told = false;
            foreach (var column in unitless.ToList())
            {
                if (!TryTell(column, out var metres, out var reason))
                    continue;
                told = true;
                unitless.Remove(column);
                known.Add(column);
                if (metres)
                    ToFeet(column);
                if (metres || !header.IsManual(column.Name()))
                {
                    builder.Warn(
                        $"Column \"{Name(column)}\" has no unit; it was taken as {(metres ? "metres" : "feet")}, because {reason}."
                    );
                }
            }
        }
        foreach (var column in unitless.Where(c => !header.IsManual(c.Name())))
        {
            var metres = header.Header[header.Found[column.Name()]].IsElevation;
            if (metres)
                ToFeet(column);
            builder.Warn(
                $"Column \"{Name(column)}\" has no unit and the recording does not show it; it was taken as "
                    + (metres ? "metres, as most loggers write it; if it is feet, " : "feet; if it is metres, ")
                    + $"set the unit of {column.Name()} to {(metres ? "ft" : "m")}."
            );
        }
    }

    private bool TryTell(TrackColumn column, out bool metres, out string reason)
    {
        metres = false;
        if (climbedFt is not null && Slope(column, climbedFt) is var slope && (slope.IsMetres || slope.IsFeet))
        {
            metres = slope.IsMetres;
            reason = $"it changes as the vertical speed says of {(metres ? "metres" : "feet")}";
            return true;
        }
        foreach (var other in known.Concat(unitless.Where(c => c != column)))
        {
            var otherIsKnown = known.Contains(other);
            var bySlope = Slope(column, ChangesFt(other));
            var otherFt = Median(other);
            metres = bySlope.IsMetres || (otherIsKnown && LiesBy(column, Units.FtToM(otherFt), otherFt));
            // Of two without a unit, only a difference between them tells.
            var feet = otherIsKnown
                ? bySlope.IsFeet || LiesBy(column, otherFt, Units.FtToM(otherFt))
                : Slope(other, ChangesFt(column)).IsMetres;
            reason = $"it goes so with column \"{Name(other)}\"";
            if (metres != feet)
                return true;
        }
        reason = "";
        return false;
    }

    /// <summary>Whether a column's median is near one value and far from another.</summary>
    private bool LiesBy(TrackColumn column, double near, double far) =>
        Median(column) is var median && Math.Abs(median - near) < 0.25 * Math.Abs(median - far);

    private double Median(TrackColumn column)
    {
        var finite = builder.Values(column).ToArray().Where(double.IsFinite).Order().ToArray();
        return finite.Length == 0 ? double.NaN : finite[finite.Length / 2];
    }

    private ClimbSlope Slope(TrackColumn column, double[] stepsFt) => ClimbSlope.Of(builder, builder.Values(column), stepsFt);

    /// <summary>What each sample climbed since the one before by the vertical speed, feet.</summary>
    private double[] VerticalSpeedSteps()
    {
        var verticalSpeedFpm = builder.Values(TrackColumn.VerticalSpeedFpm);
        var stepsFt = new double[builder.Count];
        for (var i = 1; i < stepsFt.Length; i++)
            stepsFt[i] = verticalSpeedFpm[i] * (builder.TimeS(i) - builder.TimeS(i - 1)) / 60;
        return stepsFt;
    }

    /// <summary>What each sample climbed since the one before by another altitude, feet.</summary>
    private double[] ChangesFt(TrackColumn column)
    {
        var altitudeFt = builder.Values(column);
        var stepsFt = new double[builder.Count];
        for (var i = 1; i < stepsFt.Length; i++)
            stepsFt[i] = altitudeFt[i] - altitudeFt[i - 1];
        return stepsFt;
    }

    private string Name(TrackColumn column) => header.Names[header.Found[column.Name()]];

    private string Unit(TrackColumn column) => header.Units[header.Found[column.Name()]];

    private void ToFeet(TrackColumn column)
    {
        foreach (ref var value in builder.Values(column))
            value = Units.MToFt(value);
    }
}
