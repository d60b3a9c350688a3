using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// A recording in time order without duplicates and position jumps, on a local plane. Gaps are not filled in.
/// </summary>
public sealed class CleanTrack
{
    /// <summary>The recording as read, from which the samples were chosen.</summary>
    public required Track Source { get; init; }

    /// <summary>For each kept sample its index in <see cref="Source"/>.</summary>
    public required int[] Kept { get; init; }

    /// <summary>Seconds since the source's epoch, strictly rising.</summary>
    public required double[] TimeS { get; init; }

    /// <summary>Local plane of <see cref="EastM"/> and <see cref="NorthM"/>.</summary>
    public required LocalFrame Frame { get; init; }

    /// <summary>Metres east of the frame's origin.</summary>
    public required double[] EastM { get; init; }

    /// <summary>Metres north of the frame's origin.</summary>
    public required double[] NorthM { get; init; }

    /// <summary>Indices after which a gap follows.</summary>
    public required IReadOnlyList<int> GapsAfter { get; init; }

    /// <summary>Records excluded: unreadable, duplicate in time or impossible.</summary>
    public required int Dropped { get; init; }

    /// <summary>Median time between samples, seconds.</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>Longest time between samples that is not a gap, seconds.</summary>
    public double GapS => GapFor(MedianIntervalS);

    /// <summary>Number of samples.</summary>
    public int Count => TimeS.Length;

    /// <summary>Longest time between samples that is not a gap, seconds, for a median interval, seconds.</summary>
    internal static double GapFor(double medianIntervalS) => Math.Max(SensorModel.GapS, SensorModel.GapIntervals * medianIntervalS);

    /// <summary>A column of the source for the kept samples, or null where the source lacks it or has no value in it.</summary>
    /// <param name="column">Column of <see cref="Source"/>.</param>
    public double[]? Column(double[]? column)
    {
        if (column is null)
            return null;
        var values = Array.ConvertAll(Kept, i => column[i]);
        return Array.Exists(values, double.IsFinite) ? values : null;
    }
}
