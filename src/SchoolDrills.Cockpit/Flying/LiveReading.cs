using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>
/// How far the tablet's positions are off the drill, from where they were when its clock started: for a look, never to fly by. Heights
/// are of the satellites and tracks over the ground; what the pilot flies by is neither.
/// </summary>
internal sealed class LiveReading
{
    private const double FtPerM = 1 / 0.3048;

    private double? startAltM;
    private double? lastCourseDeg;
    private double turnedDeg;
    private double lastAtMs;
    private (int Index, double TurnedDeg) segment = (-1, 0);

    /// <summary>Height off the drill's, feet, above positive; null where the device tells no height.</summary>
    public double? HeightFt { get; private set; }

    /// <summary>Track off the drill's heading, degrees, right positive.</summary>
    public double? TrackDeg { get; private set; }

    /// <summary>Seconds behind the clock in the turn that is on, ahead negative; null outside turns.</summary>
    public double? BehindS { get; private set; }

    /// <summary>Takes a position in, once however often it is given.</summary>
    /// <param name="position">The newest.</param>
    /// <param name="timeline">The drill.</param>
    /// <param name="elapsedS">Seconds on its clock.</param>
    public void Add(DevicePosition position, DrillTimeline timeline, double elapsedS)
    {
        if (position.AtMs == lastAtMs || elapsedS < 0)
            return;
        lastAtMs = position.AtMs;
        var segments = timeline.Segments;
        var now = segments.LastOrDefault(s => s.StartS <= elapsedS) ?? segments[0];
        var into = Math.Min(elapsedS, now.EndS) - now.StartS;
        if (position.CourseDeg is { } course)
        {
            if (lastCourseDeg is { } last)
                turnedDeg += Math.IEEERemainder(course - last, 360);
            lastCourseDeg = course;
        }

        if (segment.Index != now.Index)
            segment = (now.Index, turnedDeg);
        var plannedDeg = segments.Take(now.Index).Sum(s => s.TurnDeg) + now.TurnedDegAt(into);
        TrackDeg = lastCourseDeg is null ? null : turnedDeg - plannedDeg;
        BehindS =
            now.TurnRateDegPerS == 0 || lastCourseDeg is null
                ? null
                : (now.TurnedDegAt(into) - (turnedDeg - segment.TurnedDeg)) / now.TurnRateDegPerS;
        startAltM ??= position.AltM;
        HeightFt =
            position.AltM is { } alt && startAltM is { } start
                ? ((alt - start) * FtPerM) - (now.AltitudeFtAt(into) - segments[0].StartAltitudeFt)
                : null;
    }
}
