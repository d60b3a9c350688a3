namespace SchoolDrills.Engine.Flight;

/// <summary>Directions in degrees: north is 360, as a pilot says it.</summary>
public static class Angles
{
    /// <summary>The same direction in (0, 360].</summary>
    /// <param name="directionDeg">Direction, degrees.</param>
    public static double NormalizeDeg(double directionDeg)
    {
        var turned = directionDeg % 360;
        return turned <= 0 ? turned + 360 : turned;
    }

    /// <summary>The shorter way from one direction to another, degrees in (−180, 180], right positive.</summary>
    /// <param name="toDeg">Direction arrived at, degrees.</param>
    /// <param name="fromDeg">Direction started from, degrees.</param>
    public static double DifferenceDeg(double toDeg, double fromDeg)
    {
        var difference = (toDeg - fromDeg) % 360;
        return difference > 180 ? difference - 360
            : difference <= -180 ? difference + 360
            : difference;
    }

    /// <summary>
    /// Directions running on through north: each value is the one before plus the shorter way. NaN stays and is passed over.
    /// </summary>
    /// <param name="directionsDeg">Directions, degrees.</param>
    public static double[] UnwrapDeg(ReadOnlySpan<double> directionsDeg)
    {
        var unwrapped = directionsDeg.ToArray();
        var before = double.NaN;
        for (var i = 0; i < unwrapped.Length; i++)
        {
            if (!double.IsFinite(unwrapped[i]))
                continue;
            if (double.IsFinite(before))
                unwrapped[i] = before + DifferenceDeg(unwrapped[i], before);
            before = unwrapped[i];
        }

        return unwrapped;
    }
}
