using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// A flown drill for laying over another: each segment in its own time and in meters from where the drill began, so that it tells
/// neither when nor where it was flown.
/// </summary>
/// <param name="Entry">Entry of the drill as flown.</param>
/// <param name="Segments">Segments that were flown, in the drill's order.</param>
public sealed record FlownPlot(DrillEntry Entry, IReadOnlyList<SegmentTrace> Segments)
{
    /// <summary>The segments of a report, cut out of its plot columns.</summary>
    /// <returns>Null where the drill was not found or none of its segments has a sample.</returns>
    public static FlownPlot? Of(ScoreReport report, TrackColumns columns)
    {
        if (report is not { Found: true, Entry: { } entry })
            return null;
        var traces = new List<SegmentTrace>();
        LocalFrame? frame = null;
        foreach (var segment in report.Segments)
        {
            if (segment is not { StartUtc: { } start, EndUtc: { } end })
                continue;
            var (fromS, toS) = ((start - columns.EpochUtc).TotalSeconds, (end - columns.EpochUtc).TotalSeconds);
            // The next segment's first sample belongs to both, so that the lines meet.
            int[] samples = [.. Enumerable.Range(0, columns.TimeS.Length).Where(i => columns.TimeS[i] >= fromS && columns.TimeS[i] <= toS)];
            if (samples.Length == 0)
                continue;
            frame ??= new LocalFrame(columns.LatDeg[samples[0]], columns.LonDeg[samples[0]], 0);
            var places = Array.ConvertAll(samples, i => frame.ToLocal(columns.LatDeg[i], columns.LonDeg[i], 0));
            traces.Add(
                new SegmentTrace
                {
                    Index = segment.Index,
                    Name = segment.Name,
                    Kind = segment.Kind,
                    DurationS = toS - fromS,
                    TimeS = Array.ConvertAll(samples, i => Math.Round(columns.TimeS[i] - fromS, 2)),
                    EastM = Array.ConvertAll(places, p => Math.Round(p.EastM, 1)),
                    NorthM = Array.ConvertAll(places, p => Math.Round(p.NorthM, 1)),
                    AltitudeFt = Array.ConvertAll(samples, i => columns.AltitudeFt[i]),
                    HeadingMagDeg = Array.ConvertAll(samples, i => columns.HeadingMagDeg[i]),
                    AirspeedKt = Array.ConvertAll(samples, i => columns.AirspeedKt[i]),
                    AltitudeTargetFt = Array.ConvertAll(samples, i => columns.AltitudeTargetFt[i]),
                    HeadingTargetMagDeg = Array.ConvertAll(samples, i => columns.HeadingTargetMagDeg[i]),
                    AirspeedTargetKt = Array.ConvertAll(samples, i => columns.AirspeedTargetKt[i]),
                }
            );
        }

        return traces.Count == 0 ? null : new FlownPlot(entry, traces);
    }

    /// <summary>
    /// The same flight as if it had begun from another entry: turned about its start, raised or lowered, mirrored where the entries
    /// are opposite. Small faults of an estimated entry go with it, told by <see cref="EntryShift"/>.
    /// </summary>
    public FlownPlot From(DrillEntry entry)
    {
        var isMirrored = entry.Mirrored != Entry.Mirrored;
        double raisedFt = entry.AltitudeFt - Entry.AltitudeFt,
            fasterKt = entry.AirspeedKt - Entry.AirspeedKt;
        var (sinWas, cosWas) = Math.SinCos(Units.DegToRad(Entry.HeadingMagDeg));
        var (sinIs, cosIs) = Math.SinCos(Units.DegToRad(entry.HeadingMagDeg));
        return new FlownPlot(
            entry,
            [
                .. Segments.Select(s =>
                {
                    double[] east = new double[s.EastM.Length],
                        north = new double[s.EastM.Length];
                    for (var i = 0; i < east.Length; i++)
                    {
                        var ahead = (s.EastM[i] * sinWas) + (s.NorthM[i] * cosWas);
                        var right = ((s.EastM[i] * cosWas) - (s.NorthM[i] * sinWas)) * (isMirrored ? -1 : 1);
                        east[i] = Math.Round((ahead * sinIs) + (right * cosIs), 1);
                        north[i] = Math.Round((ahead * cosIs) - (right * sinIs), 1);
                    }

                    return s with
                    {
                        EastM = east,
                        NorthM = north,
                        AltitudeFt = Array.ConvertAll(s.AltitudeFt, v => v + raisedFt),
                        AltitudeTargetFt = Array.ConvertAll(s.AltitudeTargetFt, v => v + raisedFt),
                        AirspeedKt = Array.ConvertAll(s.AirspeedKt, v => v + fasterKt),
                        AirspeedTargetKt = Array.ConvertAll(s.AirspeedTargetKt, v => v + fasterKt),
                        HeadingMagDeg = Array.ConvertAll(s.HeadingMagDeg, Turned),
                        HeadingTargetMagDeg = Array.ConvertAll(s.HeadingTargetMagDeg, Turned),
                    };
                }),
            ]
        );

        double? Turned(double? headingDeg)
        {
            if (headingDeg is not { } heading)
                return null;
            var turnedDeg = Angles.DifferenceDeg(heading, Entry.HeadingMagDeg) * (isMirrored ? -1 : 1);
            return Angles.NormalizeDeg(entry.HeadingMagDeg + turnedDeg);
        }
    }
}

/// <summary>One segment as flown, sample by sample, from its own flown start. Null where a quantity was not measured.</summary>
public sealed record SegmentTrace
{
    /// <summary>Position in the drill, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>Name as the template gives it.</summary>
    public required string Name { get; init; }

    /// <summary>What is to be flown.</summary>
    public required SegmentKind Kind { get; init; }

    /// <summary>From its flown start to its flown end, seconds.</summary>
    public required double DurationS { get; init; }

    /// <summary>Seconds since its flown start, rising.</summary>
    public required double[] TimeS { get; init; }

    /// <summary>Meters east of where the drill began.</summary>
    public required double[] EastM { get; init; }

    /// <summary>Meters north of where the drill began.</summary>
    public required double[] NorthM { get; init; }

    /// <summary>Altitude as the altimeter showed it, feet.</summary>
    public required double?[] AltitudeFt { get; init; }

    /// <summary>Magnetic heading, degrees, (0, 360].</summary>
    public required double?[] HeadingMagDeg { get; init; }

    /// <summary>Indicated airspeed, knots.</summary>
    public required double?[] AirspeedKt { get; init; }

    /// <summary>Target altitude, feet.</summary>
    public required double?[] AltitudeTargetFt { get; init; }

    /// <summary>Target magnetic heading, degrees, (0, 360].</summary>
    public required double?[] HeadingTargetMagDeg { get; init; }

    /// <summary>Target indicated airspeed, knots.</summary>
    public required double?[] AirspeedTargetKt { get; init; }
}
