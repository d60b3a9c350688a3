using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>A recording made into others whose truth follows from its own.</summary>
internal static class TrackVariants
{
    /// <summary>Every so many seconds one sample.</summary>
    public static Track Every(this Track track, double stepS)
    {
        var kept = new List<int>();
        var nextS = double.NegativeInfinity;
        for (var i = 0; i < track.Count; i++)
        {
            if (track.TimeS[i] < nextS - 0.01)
                continue;
            kept.Add(i);
            nextS = track.TimeS[i] + stepS;
        }

        return track.Kept(kept);
    }

    /// <summary>Twice as many samples, those between on straight lines, as recorders that interpolate write them.</summary>
    public static Track Doubled(this Track track) =>
        track.Map(
            (_, c) => [.. Enumerable.Range(0, (2 * c.Length) - 1).Select(i => i % 2 == 0 ? c[i / 2] : (c[i / 2] + c[(i / 2) + 1]) / 2)],
            (_, c) =>
                [
                    .. Enumerable
                        .Range(0, (2 * c.Length) - 1)
                        .Select(i => i % 2 == 0 ? c[i / 2] : c[i / 2] + (Angles.DifferenceDeg(c[(i / 2) + 1], c[i / 2]) / 2)),
                ]
        );

    /// <summary>The part between two times of its own clock.</summary>
    public static Track Between(this Track track, double fromS, double toS) =>
        track.Kept([.. Enumerable.Range(0, track.Count).Where(i => track.TimeS[i] >= fromS && track.TimeS[i] <= toS)]);

    /// <summary>
    /// One recording after another with a pause between, as when a recorder is switched off and on; columns that both have.
    /// </summary>
    public static Track Then(this Track track, Track next, double pauseS)
    {
        var shiftS = track.TimeS[^1] - next.TimeS[0] + pauseS;
        double[] Both(Func<Track, double[]?> column, double[] own) =>
            column(next) is { } other ? [.. own, .. other] : [.. own, .. next.TimeS.Select(_ => double.NaN)];
        var both = track.Map(Both, Both);
        return new Track
        {
            Format = both.Format,
            EpochUtc = both.EpochUtc,
            TimeS = [.. track.TimeS, .. next.TimeS.Select(t => t + shiftS)],
            LatDeg = both.LatDeg,
            LonDeg = both.LonDeg,
            GpsAltitudeFt = both.GpsAltitudeFt,
            PressureAltitudeFt = both.PressureAltitudeFt,
            IndicatedAltitudeFt = both.IndicatedAltitudeFt,
            AltimeterSettingHpa = both.AltimeterSettingHpa,
            IndicatedAirspeedKt = both.IndicatedAirspeedKt,
            TrueAirspeedKt = both.TrueAirspeedKt,
            HeadingMagDeg = both.HeadingMagDeg,
            BankDeg = both.BankDeg,
            GroundSpeedKt = both.GroundSpeedKt,
            CourseTrueDeg = both.CourseTrueDeg,
            Columns = both.Columns,
        };
    }

    /// <summary>The same flight so many seconds later.</summary>
    public static Track Later(this Track track, double seconds) =>
        track.Map((column, c) => column(track) == track.TimeS ? [.. c.Select(t => t + seconds)] : c, (_, c) => c);

    /// <summary>Left and right exchanged: every position mirrored in the meridian of the first. Positions and heights alone.</summary>
    public static Track MirroredPath(this Track track) =>
        new()
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = track.LatDeg,
            LonDeg = [.. track.LonDeg.Select(l => (2 * track.LonDeg[0]) - l)],
            GpsAltitudeFt = track.GpsAltitudeFt,
        };

    /// <summary>The path turned about its first position. Positions and heights alone.</summary>
    public static Track Turned(this Track track, double deg)
    {
        var frame = new LocalFrame(track.LatDeg[0], track.LonDeg[0], 0);
        var (sin, cos) = Math.SinCos(deg * Math.PI / 180);
        var turned = Enumerable
            .Range(0, track.Count)
            .Select(i =>
            {
                var (east, north, _) = frame.ToLocal(track.LatDeg[i], track.LonDeg[i], 0);
                return frame.ToGeodetic((east * cos) + (north * sin), (north * cos) - (east * sin), 0);
            })
            .ToArray();
        return new()
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = [.. turned.Select(p => p.Item1)],
            LonDeg = [.. turned.Select(p => p.Item2)],
            GpsAltitudeFt = track.GpsAltitudeFt,
        };
    }

    /// <summary>
    /// The recording moved in place and to the same clock, so that its first (0) or last (-1) position is the first or last of another.
    /// Positions and heights alone.
    /// </summary>
    public static Track MovedTo(this Track track, Track other, int own, int others)
    {
        static int At(Track t, int end) => end < 0 ? t.Count - 1 : 0;
        var lat = other.LatDeg[At(other, others)] - track.LatDeg[At(track, own)];
        var lon = other.LonDeg[At(other, others)] - track.LonDeg[At(track, own)];
        return new()
        {
            Format = track.Format,
            EpochUtc = other.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = [.. track.LatDeg.Select(l => l + lat)],
            LonDeg = [.. track.LonDeg.Select(l => l + lon)],
            GpsAltitudeFt = track.GpsAltitudeFt,
        };
    }

    /// <summary>White noise on top of what the recorder had.</summary>
    public static Track Noisier(this Track track, int seed, double horizontalM, double verticalFt)
    {
        var random = new Random(seed);
        double Drawn() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        var degPerM = 1 / 111_000.0;
        return new()
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = track.TimeS,
            LatDeg = [.. track.LatDeg.Select(l => l + (horizontalM * degPerM * Drawn()))],
            LonDeg = [.. track.LonDeg.Select(l => l + (horizontalM * degPerM / Math.Cos(track.LatDeg[0] * Math.PI / 180) * Drawn()))],
            GpsAltitudeFt = track.GpsAltitudeFt is { } ft ? [.. ft.Select(a => a + (verticalFt * Drawn()))] : null,
        };
    }

    /// <summary>All but the part between two times of its own clock.</summary>
    public static Track Without(this Track track, double fromS, double toS) =>
        track.Kept([.. Enumerable.Range(0, track.Count).Where(i => track.TimeS[i] < fromS || track.TimeS[i] > toS)]);

    /// <summary>Some seconds missing every minute or two, five to twenty of them.</summary>
    public static Track WithDropouts(this Track track, int seed)
    {
        var random = new Random(seed);
        var kept = new List<int>();
        var (fromS, untilS) = (track.TimeS[0] + random.Next(60, 120), 0.0);
        for (var i = 0; i < track.Count; i++)
        {
            if (track.TimeS[i] >= fromS)
                (untilS, fromS) = (fromS + random.Next(5, 21), fromS + random.Next(80, 140));
            if (track.TimeS[i] >= untilS)
                kept.Add(i);
        }

        return track.Kept(kept);
    }

    private static Track Kept(this Track track, IReadOnlyList<int> kept) =>
        track.Map((_, c) => [.. kept.Select(i => c[i])], (_, c) => [.. kept.Select(i => c[i])]);

    /// <summary>Every column made anew, angles by a rule of their own; each rule is told which column it is.</summary>
    private static Track Map(
        this Track track,
        Func<Func<Track, double[]?>, double[], double[]> line,
        Func<Func<Track, double[]?>, double[], double[]> angle
    )
    {
        double[]? Line(Func<Track, double[]?> column) => column(track) is { } c ? line(column, c) : null;
        double[]? Angle(Func<Track, double[]?> column) => column(track) is { } c ? angle(column, c) : null;
        return new Track
        {
            Format = track.Format,
            EpochUtc = track.EpochUtc,
            TimeS = Line(t => t.TimeS)!,
            LatDeg = Line(t => t.LatDeg)!,
            LonDeg = Line(t => t.LonDeg)!,
            GpsAltitudeFt = Line(t => t.GpsAltitudeFt),
            PressureAltitudeFt = Line(t => t.PressureAltitudeFt),
            IndicatedAltitudeFt = Line(t => t.IndicatedAltitudeFt),
            AltimeterSettingHpa = Line(t => t.AltimeterSettingHpa),
            IndicatedAirspeedKt = Line(t => t.IndicatedAirspeedKt),
            TrueAirspeedKt = Line(t => t.TrueAirspeedKt),
            HeadingMagDeg = Angle(t => t.HeadingMagDeg),
            BankDeg = Line(t => t.BankDeg),
            GroundSpeedKt = Line(t => t.GroundSpeedKt),
            CourseTrueDeg = Angle(t => t.CourseTrueDeg),
            Columns = track.Columns,
        };
    }
}
