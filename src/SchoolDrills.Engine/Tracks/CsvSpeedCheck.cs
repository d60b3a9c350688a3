using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Tells the unit of a ground speed whose header has none, and whether a bare "speed" is one, by the speed from positions over stretches
/// flown in at least three directions: in each of them a ground speed is the same multiple of it, an airspeed is not.
/// </summary>
internal static class CsvSpeedCheck
{
    private const int LeastStretches = 8,
        LeastDirections = 3;

    /// <summary>Knots and miles an hour, the nearest of the units, are 15 % apart.</summary>
    private const double MostOff = 0.05;

    /// <summary>Units and how much a knot is in them.</summary>
    private static readonly (string Name, double PerKt)[] UnitsPerKt =
    [
        ("knots", 1),
        ("km/h", 1 / Units.KtPerKmh),
        ("m/s", Units.MpsPerKt),
        ("miles an hour", 1 / Units.KtPerMph),
    ];

    public static void Correct(CsvHeader header, TrackBuilder builder, List<GroundStretch> stretches)
    {
        const TrackColumn Speed = TrackColumn.GroundSpeedKt;
        if (!header.Found.TryGetValue(Speed.Name(), out var index) || header.IsManual(Speed.Name()))
            return;
        var bare = !header.Header[index].HasAny("ground", "gps");
        var unitless = header.Units[index].Length == 0;
        if (!bare && !unitless)
            return;
        var unit = Unit(builder.Values(Speed), stretches);
        var name = header.Names[index];
        if (unit is var (unitName, perKt) && (unitless || perKt == 1))
        {
            foreach (ref var value in builder.Values(Speed))
                value /= perKt;
            if (perKt != 1 || bare)
            {
                builder.Warn(
                    $"Column \"{name}\" agrees with the speed over the ground in {unitName}; it was taken as ground speed in {unitName}."
                );
            }
        }
        else if (bare)
        {
            header.Leave(Speed, builder);
            builder.Warn(
                $"Column \"{name}\" could be a speed of the air or over the ground, and the flight does not show which; it was left out; "
                    + "if it is wanted, set which speed it is and its unit."
            );
        }
        else if (unit is null)
        {
            builder.Warn($"Column \"{name}\" has no unit, and the flight does not show it; it was taken as knots; set its unit if not.");
        }
    }

    private static (string Name, double PerKt)? Unit(ReadOnlySpan<double> values, List<GroundStretch> stretches)
    {
        var ratios = new List<(double CourseDeg, double Ratio)>();
        foreach (var stretch in values.IsEmpty ? [] : stretches)
        {
            var (sum, count) = (0.0, 0);
            for (var i = stretch.From; i <= stretch.To; i++)
            {
                if (double.IsNaN(values[i]))
                    continue;
                sum += values[i];
                count++;
            }
            if (count > 0)
                ratios.Add((stretch.CourseTrueDeg, sum / count / stretch.SpeedKt));
        }
        foreach (var unit in UnitsPerKt)
        {
            var agreeing = ratios.FindAll(r => Math.Abs(r.Ratio / unit.PerKt - 1) < MostOff);
            if (
                agreeing.Count >= LeastStretches
                && agreeing.Count * 10 >= ratios.Count * 8
                && GroundStretches.Directions(agreeing.Select(r => r.CourseDeg)) >= LeastDirections
            )
            {
                return unit;
            }
        }
        return null;
    }
}
