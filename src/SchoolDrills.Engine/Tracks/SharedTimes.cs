using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// Gives samples that share a time a time each: a recorder whose clock is read more slowly than its position writes …20, 20, 22, 22…, and
/// of each pair one sample would be lost. They are spread evenly up to the next time where their positions are evenly spaced up to its
/// position, at the speed flown before; anything else, such as a record written twice, stays as it is.
/// </summary>
internal static class SharedTimes
{
    /// <summary>Steps differ from their mean by this part of it at most, for positions are rounded.</summary>
    private const double MostUneven = 0.35;

    /// <summary>The speed differs by this factor at most from that before: speeds change little from one second to the next.</summary>
    private const double MostFaster = 1.6;

    /// <summary>Spreads the times in place; returns how many samples have another time than before.</summary>
    public static int Spread(Span<long> utcTicks, ReadOnlySpan<double> latDeg, ReadOnlySpan<double> lonDeg)
    {
        var moved = 0;
        double speedBefore = double.NaN,
            ticksEachBefore = double.NaN;
        for (int start = 0, end; start < utcTicks.Length; start = end)
        {
            end = End(utcTicks, start);
            var last = end == utcTicks.Length;
            var size = end - start;
            // Nothing follows the last samples; they keep the rhythm of those before.
            var ticksEach = last ? ticksEachBefore : (utcTicks[end] - utcTicks[start]) / (double)size;
            var (length, even) = Steps(latDeg, lonDeg, start, last ? end - 1 : end);
            var steps = last ? size - 1 : size;
            var speed = length / (ticksEach * steps);
            if (size > 1 && even && ticksEach > 0 && IsLike(speed, start > 0 ? speedBefore : SpeedAfter(utcTicks, latDeg, lonDeg, end)))
            {
                for (var i = start + 1; i < end; i++)
                    utcTicks[i] = utcTicks[start] + (long)Math.Round((i - start) * ticksEach);
                moved += size - 1;
            }
            (speedBefore, ticksEachBefore) = (speed, ticksEach);
        }
        return moved;
    }

    private static int End(ReadOnlySpan<long> utcTicks, int start)
    {
        var end = start + 1;
        while (end < utcTicks.Length && utcTicks[end] == utcTicks[start])
            end++;
        return end;
    }

    private static bool IsLike(double speed, double other) => speed < other * MostFaster && other < speed * MostFaster;

    private static double SpeedAfter(ReadOnlySpan<long> utcTicks, ReadOnlySpan<double> latDeg, ReadOnlySpan<double> lonDeg, int start)
    {
        if (start == utcTicks.Length)
            return double.NaN;
        var end = End(utcTicks, start);
        return end == utcTicks.Length
            ? double.NaN
            : Steps(latDeg, lonDeg, start, end).Length / Math.Max(1, utcTicks[end] - utcTicks[start]);
    }

    /// <summary>The way from one sample to another, in degrees of latitude, and whether its steps are alike and none is nothing.</summary>
    private static (double Length, bool Even) Steps(ReadOnlySpan<double> latDeg, ReadOnlySpan<double> lonDeg, int from, int to)
    {
        double length = 0,
            shortest = double.PositiveInfinity,
            longest = 0;
        for (var i = from; i < to; i++)
        {
            var east = Angles.DifferenceDeg(lonDeg[i + 1], lonDeg[i]) * Math.Cos(Units.DegToRad(latDeg[i]));
            var north = latDeg[i + 1] - latDeg[i];
            var step = Math.Sqrt((east * east) + (north * north));
            length += step;
            (shortest, longest) = (Math.Min(shortest, step), Math.Max(longest, step));
        }
        var mean = length / Math.Max(1, to - from);
        return (length, mean > 0 && shortest >= mean * (1 - MostUneven) && longest <= mean * (1 + MostUneven));
    }
}
