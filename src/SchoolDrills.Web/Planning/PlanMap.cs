using System.Globalization;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Planning;

/// <summary>The map of a plan: areas, the path through still air and over the ground from the start, the point that is tightest.</summary>
internal sealed class PlanMap
{
    public const double WidthPx = 720,
        HeightPx = 560;

    private const double HandlePx = 44;

    private readonly MapGround ground;
    private readonly Spot startM;
    private readonly bool closer;

    public PlanMap(PlanDraft draft, DrillPlan plan, PlanMap? before, bool closer = false)
    {
        var corners = MapGround.Corners(draft.Area);
        var middle = corners.Count > 0 ? PracticeArea.From(corners).Area?.ToPlace(0, 0) : draft.Start;
        this.closer = closer;
        HasPlace = middle is not null;
        ground = new MapGround(middle ?? default, WidthPx, HeightPx, before?.ground);
        startM = HasPlace && draft.Start is { } start ? ground.Local(start) : default;
        Spot[] over = [.. plan.GroundPath.EastM.Zip(plan.GroundPath.NorthM, (e, n) => new Spot(startM.X + e, startM.Y + n))];
        Spot[] air = [.. plan.AirPath.EastM.Zip(plan.AirPath.NorthM, (e, n) => new Spot(startM.X + e, startM.Y + n))];
        IEnumerable<Spot> boundary = closer ? [] : corners.Select(ground.Local);
        ground.Show([.. boundary, .. over, .. air], before?.closer == closer ? before.ground : null);

        var path = Array.ConvertAll(over, ground.On);
        Ground = DrillSketch.PathOf(path);
        Air = DrillSketch.PathOf(air.Select(ground.On));
        Start = ground.On(startM);
        var headingRad = Units.DegToRad((draft.HeadingMagDeg ?? 360) + draft.DeclinationDeg);
        HeadingTip = new(Start.X + (Math.Sin(headingRad) * HandlePx), Start.Y - (Math.Cos(headingRad) * HandlePx));
        Ticks = LabelPlacer.Place(path, [.. Minutes(plan)], (WidthPx, HeightPx));
        if (plan.Tightest is { } tightest)
        {
            Tightest = path[Array.FindIndex(plan.GroundPath.TimeS, t => t >= tightest.AtS - 1e-6)];
            TightestText = tightest.MarginNm >= 0 ? $"{Nm(tightest.MarginNm)} NM" : T["{0} NM out", Nm(-tightest.MarginNm)];
        }

        Areas = HasPlace ? [.. draft.Areas.OrderBy(a => a == draft.Area).Select(a => ground.Drawn(a, a == draft.Area))] : [];
        Lines = HasPlace ? [.. ground.Graticule()] : [];
        (BarNm, BarPx) = ground.Bar();
    }

    /// <summary>Whether it is known where on earth this is.</summary>
    public bool HasPlace { get; }

    public string Ground { get; }

    public string Air { get; }

    public Spot Start { get; }

    /// <summary>Where the handle of the heading stands.</summary>
    public Spot HeadingTip { get; }

    public IReadOnlyList<Tick> Ticks { get; }

    public Spot? Tightest { get; }

    public string TightestText { get; } = "";

    public IReadOnlyList<MapArea> Areas { get; }

    public IReadOnlyList<MapLine> Lines { get; }

    public double BarNm { get; }

    public double BarPx { get; }

    /// <summary>The place that is so far right of and below the start, pixels.</summary>
    public LatLon PlaceAt(double rightPx, double downPx) =>
        ground.ToPlace(startM.X + (rightPx / ground.PixelsPerMetre), startM.Y - (downPx / ground.PixelsPerMetre));

    /// <summary>The place so far east and north of the start, nautical miles.</summary>
    public LatLon PlaceBeside(double eastNm, double northNm) =>
        ground.ToPlace(startM.X + (eastNm * Units.MPerNm), startM.Y + (northNm * Units.MPerNm));

    private static string Nm(double nm) => nm.ToString("0.0", CultureInfo.InvariantCulture);

    private static IEnumerable<(int At, string Text, bool Labelled)> Minutes(DrillPlan plan)
    {
        var times = plan.GroundPath.TimeS;
        var last = times[^1];
        var everyS = last > 1200 ? 120 : 60;
        for (var t = everyS; t < last - 1; t += everyS)
        {
            var i = Array.BinarySearch(times, (double)t);
            yield return (i >= 0 ? i : Math.Min(~i, times.Length - 1), Figures.Clock(t), true);
        }
    }
}
