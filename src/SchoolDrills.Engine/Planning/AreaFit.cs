using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>
/// Fits a drill's ground path into an area: from the given start, and from the best start on the first heading that fits, nearest to the
/// requested heading first.
/// </summary>
internal sealed class AreaFit
{
    private readonly PracticeArea area;

    public AreaFit(PracticeArea area, NominalPath airPath, NominalPath groundPath, PlanConditions conditions)
    {
        this.area = area;
        double? givenM = null;
        if (conditions.Start is { } start)
        {
            var (east, north) = area.ToLocal(start);
            givenM = Place(groundPath.TimeS, groundPath.EastM, groundPath.NorthM, east, north);
        }

        var headingMagDeg = airPath.HeadingMagDeg[0];
        if (!conditions.Suggest)
        {
            Answer = new(givenM / Units.MPerNm, null, null, null, Text(givenM, null, headingMagDeg).Trim());
            return;
        }

        var best = Best(airPath, groundPath);
        var fits = best.MarginM >= 0;
        headingMagDeg = Angles.NormalizeDeg(Math.Round(headingMagDeg + best.TurnedDeg, 6));
        if (fits && Places is null)
            Place(groundPath.TimeS, best.Path.EastM, best.Path.NorthM, best.EastM, best.NorthM);
        Answer = new(
            givenM / Units.MPerNm,
            fits ? area.ToPlace(best.EastM, best.NorthM) : null,
            fits ? headingMagDeg : null,
            best.MarginM / Units.MPerNm,
            Text(givenM, best.MarginM, headingMagDeg)
        );
    }

    public PlannedArea Answer { get; }

    /// <summary>The path from the given start, else from the suggested one; null where none fits.</summary>
    public IReadOnlyList<LatLon>? Places { get; private set; }

    /// <summary>Where that path comes closest to the boundary.</summary>
    public TightestPoint? Tightest { get; private set; }

    /// <summary>A ground path from a start, without an area.</summary>
    public static IReadOnlyList<LatLon> PlacesFrom(LatLon start, NominalPath groundPath)
    {
        var frame = new LocalFrame(start.LatDeg, start.LonDeg, 0);
        return
        [
            .. groundPath.EastM.Zip(groundPath.NorthM, (e, n) => frame.ToGeodetic(e, n, 0)).Select(p => new LatLon(p.LatDeg, p.LonDeg)),
        ];
    }

    /// <summary>Draws the path from a start; its least distance to the boundary, metres.</summary>
    private double Place(double[] timeS, double[] eastM, double[] northM, double startEastM, double startNorthM)
    {
        Places = [.. eastM.Zip(northM, (e, n) => area.ToPlace(startEastM + e, startNorthM + n))];
        var (least, at) = (double.PositiveInfinity, 0);
        for (var i = 0; i < eastM.Length; i++)
        {
            var margin = area.MarginM(startEastM + eastM[i], startNorthM + northM[i]);
            if (margin < least)
                (least, at) = (margin, i);
        }

        Tightest = new(timeS[at], Places[at], least / Units.MPerNm);
        return least;
    }

    private (double EastM, double NorthM, double MarginM, int TurnedDeg, (double[] EastM, double[] NorthM) Path) Best(
        NominalPath airPath,
        NominalPath groundPath
    )
    {
        var best = (EastM: 0.0, NorthM: 0.0, MarginM: double.NegativeInfinity, TurnedDeg: 0, Path: (groundPath.EastM, groundPath.NorthM));
        foreach (
            var turnedDeg in Enumerable
                .Range(0, 360 / PlanModel.HeadingStepDeg)
                .Select(i => (i + 1) / 2 * PlanModel.HeadingStepDeg * (i % 2 == 0 ? -1 : 1))
        )
        {
            var path = Turned(airPath, groundPath, turnedDeg);
            var (east, north, marginM) = StartSearch.Best(area, path.EastM, path.NorthM);
            if (marginM > best.MarginM)
                best = (east, north, marginM, turnedDeg, path);
            if (marginM >= 0)
                break;
        }

        return best;
    }

    /// <summary>The ground path on another entry heading: the air path rotated, the drift unchanged.</summary>
    private static (double[] EastM, double[] NorthM) Turned(NominalPath airPath, NominalPath groundPath, double turnedDeg)
    {
        var (sin, cos) = Math.SinCos(Units.DegToRad(turnedDeg));
        var (eastM, northM) = (new double[airPath.EastM.Length], new double[airPath.EastM.Length]);
        for (var i = 0; i < eastM.Length; i++)
        {
            eastM[i] = (airPath.EastM[i] * cos) + (airPath.NorthM[i] * sin) + groundPath.EastM[i] - airPath.EastM[i];
            northM[i] = (airPath.NorthM[i] * cos) - (airPath.EastM[i] * sin) + groundPath.NorthM[i] - airPath.NorthM[i];
        }

        return (eastM, northM);
    }

    private static string Text(double? givenM, double? bestM, double headingMagDeg)
    {
        var given = givenM switch
        {
            null => "",
            >= 0 => $"From the given start the drill stays inside the area by {Nm(givenM.Value)} NM at least. ",
            _ => $"From the given start the drill leaves the area by up to {Nm(-givenM.Value)} NM. ",
        };
        var best = bestM switch
        {
            null => "",
            >= 0 => "From the suggested start on heading "
                + $"{headingMagDeg.ToString("000", CultureInfo.InvariantCulture)} it stays inside by {Nm(bestM.Value)} NM at least.",
            _ => $"No start on any of {360 / PlanModel.HeadingStepDeg} headings keeps the whole drill inside; the "
                + $"best leaves the area by up to {Nm(-bestM.Value)} NM.",
        };
        return given + best;
    }

    private static string Nm(double metres) => (metres / Units.MPerNm).ToString("0.0", CultureInfo.InvariantCulture);
}
