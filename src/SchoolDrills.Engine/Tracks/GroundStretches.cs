using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>A stretch of some seconds in motion, as its positions show it.</summary>
/// <param name="From">Its first sample.</param>
/// <param name="To">Its last sample.</param>
/// <param name="SpeedKt">Speed over the ground, knots.</param>
/// <param name="CourseTrueDeg">Direction over the ground, degrees true.</param>
/// <param name="TurnedDeg">How far its second half is from the direction of the first, degrees, right positive.</param>
internal readonly record struct GroundStretch(int From, int To, double SpeedKt, double CourseTrueDeg, double TurnedDeg);

/// <summary>What positions say of speed and direction, to check columns against whose header leaves open what they hold.</summary>
internal static class GroundStretches
{
    /// <summary>Long enough that rounded positions matter little: 1e-5 degrees in 10 s at 60 kt are 0.2 degrees of direction.</summary>
    private const double LengthS = 10;

    private const double LongestGapS = 10;

    /// <summary>Slower, an aircraft taxies.</summary>
    private const double LeastKt = 25;

    /// <summary>All stretches of the recording in motion, one after the other.</summary>
    public static List<GroundStretch> Of(TrackBuilder builder)
    {
        var stretches = new List<GroundStretch>();
        var start = 0;
        for (var i = 1; i < builder.Count; i++)
        {
            if (builder.TimeS(i) - builder.TimeS(i - 1) is <= 0 or > LongestGapS)
                start = i;
            var lengthS = builder.TimeS(i) - builder.TimeS(start);
            if (lengthS < LengthS)
                continue;
            var middle = (start + i) / 2;
            var (before, after) = (Leg(builder, start, middle), Leg(builder, middle, i));
            var speedKt = Units.MpsToKt((before.LengthM + after.LengthM) / lengthS);
            if (middle > start && speedKt >= LeastKt)
            {
                var whole = Leg(builder, start, i).CourseDeg;
                stretches.Add(new GroundStretch(start, i, speedKt, whole, Angles.DifferenceDeg(after.CourseDeg, before.CourseDeg)));
            }
            start = i;
        }
        return stretches;
    }

    /// <summary>How many of some directions, degrees, are clearly different from each other.</summary>
    public static int Directions(IEnumerable<double> coursesDeg)
    {
        const double Apart = 30;
        var different = new List<double>();
        foreach (var course in coursesDeg)
        {
            if (different.TrueForAll(d => Math.Abs(Angles.DifferenceDeg(course, d)) >= Apart))
                different.Add(course);
        }
        return different.Count;
    }

    private static (double LengthM, double CourseDeg) Leg(TrackBuilder builder, int from, int to)
    {
        const double MPerDeg = Geodesy.MeanRadiusM * Math.PI / 180;
        var lat = builder.LatDeg;
        var lon = builder.LonDeg;
        var north = lat[to] - lat[from];
        var east = Angles.DifferenceDeg(lon[to], lon[from]) * Math.Cos(Units.DegToRad((lat[to] + lat[from]) / 2));
        return (Math.Sqrt((north * north) + (east * east)) * MPerDeg, Units.RadToDeg(Math.Atan2(east, north)));
    }
}
