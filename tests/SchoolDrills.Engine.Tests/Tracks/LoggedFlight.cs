using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// A flight at 90 kt of true airspeed in a wind from the west, on straight legs joined by turns of 3 degrees a second, to be written in
/// any layout: what a column is called is apart from what it holds.
/// </summary>
internal sealed class LoggedFlight
{
    private const double AirspeedKt = 90;

    private readonly List<Moment> moments = [];

    public LoggedFlight(double latDeg, double lonDeg, double windKt, params double[] headingsTrueDeg)
    {
        DeclinationDeg = MagneticModel.DeclinationDeg(latDeg, lonDeg, 0, StartUtc)!.Value;
        var heading = headingsTrueDeg[0];
        var altitudeFt = 2_000.0;
        foreach (var leg in headingsTrueDeg)
        {
            while (Math.Abs(Angles.DifferenceDeg(leg, heading)) > 1.5)
            {
                heading += 3 * Math.Sign(Angles.DifferenceDeg(leg, heading));
                Fly(0);
            }
            heading = leg;
            // Every leg has a climb or descent.
            var verticalSpeedFpm = moments.Count % 2 == 0 ? 600 : -480;
            for (var s = 0; s < 90; s++)
                Fly(s is > 20 and < 70 ? verticalSpeedFpm : 0);
        }

        void Fly(double verticalSpeedFpm)
        {
            var (sin, cos) = Math.SinCos(heading * Math.PI / 180);
            var (east, north) = (AirspeedKt * sin + windKt, AirspeedKt * cos);
            altitudeFt += verticalSpeedFpm / 60;
            moments.Add(
                new Moment(
                    latDeg,
                    lonDeg,
                    altitudeFt,
                    verticalSpeedFpm,
                    Angles.NormalizeDeg(heading),
                    Angles.NormalizeDeg(Math.Atan2(east, north) * 180 / Math.PI),
                    Math.Sqrt(east * east + north * north)
                )
            );
            // A knot is a minute of latitude an hour.
            latDeg += north / 3600 / 60;
            lonDeg += east / 3600 / 60 / Math.Cos(latDeg * Math.PI / 180);
        }
    }

    public DateTimeOffset StartUtc { get; init; } = new(2026, 5, 17, 1, 30, 0, TimeSpan.Zero);

    /// <summary>Degrees, east positive; by the magnetic models unless set.</summary>
    public double DeclinationDeg { get; init; }

    /// <summary>Writes the flight as CSV: time, latitude, longitude, and columns by name and value.</summary>
    public string Csv(params (string Name, Func<Moment, double> Value)[] columns)
    {
        var text = new StringBuilder("time,lat,lon," + string.Join(',', columns.Select(c => c.Name)) + "\n");
        for (var i = 0; i < moments.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{StartUtc.AddSeconds(i):s}Z,{moments[i].LatDeg:F6},{moments[i].LonDeg:F6}");
            foreach (var (_, value) in columns)
                text.Append(CultureInfo.InvariantCulture, $",{value(moments[i]):F1}");
            text.Append('\n');
        }
        return text.ToString();
    }

    public double MagneticDeg(double trueDeg) => Angles.NormalizeDeg(trueDeg - DeclinationDeg);

    /// <summary>One second of it.</summary>
    internal sealed record Moment(
        double LatDeg,
        double LonDeg,
        double AltitudeFt,
        double VerticalSpeedFpm,
        double HeadingTrueDeg,
        double CourseTrueDeg,
        double GroundSpeedKt
    );
}
