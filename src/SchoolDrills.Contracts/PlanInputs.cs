using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Contracts;

/// <summary>What is asked for a plan, as the engine takes it: the same for the server and for a page that plans while one looks.</summary>
public static class PlanInputs
{
    /// <summary>The entry to plan for: what is left out stays as the template has it.</summary>
    public static DrillEntry Entry(this PlanDrill asked, DrillTemplate template) =>
        template.Entry with
        {
            HeadingMagDeg =
                asked.HeadingMagDeg is { } heading && double.IsFinite(heading)
                    ? Angles.NormalizeDeg(heading)
                    : template.Entry.HeadingMagDeg,
            AltitudeFt = asked.AltitudeFt ?? template.Entry.AltitudeFt,
            AirspeedKt = asked.AirspeedKt ?? template.Entry.AirspeedKt,
            Mirrored = asked.Mirrored ?? template.Entry.Mirrored,
            HalfRate = asked.HalfRate ?? template.Entry.HalfRate,
        };

    /// <summary>Day and place, or why they cannot be planned with: the part that is wrong, and one sentence.</summary>
    /// <param name="asked">What is asked.</param>
    /// <param name="entryFt">Altitude of the entry, feet.</param>
    /// <param name="now">For the magnetic declination.</param>
    /// <param name="suggest">Whether a start is looked for in the area.</param>
    public static (PlanConditions? Conditions, (string What, string Sentence)? Problem) Conditions(
        this PlanDrill asked,
        double entryFt,
        DateTimeOffset now,
        bool suggest = true
    )
    {
        if (asked.WindFromDegTrue is null != asked.WindKt is null)
            return (null, ("wind", "Give both windFromDegTrue and windKt, or neither."));
        if (asked is { WindKt: not null, Winds.Count: > 0 })
            return (null, ("wind", "Give either winds by height or one wind with windFromDegTrue and windKt, not both."));
        if (asked.Winds?.Any(w => w is null) is true)
            return (null, ("wind", "One of winds is empty."));
        if (!TryCorners(asked.Area, out var corners))
            return (null, ("area", "area is a GeoJSON polygon: one ring of at least three [longitude, latitude] corners."));
        var place = asked.Start ?? (corners is [var corner, ..] ? corner : null);
        var conditions = new PlanConditions(
            asked.QnhHpa ?? Atmosphere.StandardPressureHpa,
            asked.OatC,
            asked is { WindFromDegTrue: { } from, WindKt: { } kt } ? [new WindLevel(entryFt, from, kt)] : asked.Winds,
            place is { } at && Math.Abs(at.LatDeg) <= 89 && Math.Abs(at.LonDeg) <= 180
                ? MagneticModel.DeclinationDeg(at.LatDeg, at.LonDeg, entryFt * Units.MPerFt / 1000, now) ?? 0
                : 0,
            corners,
            asked.Start,
            asked.FloorFt,
            asked.CeilingFt,
            suggest
        );
        return conditions.Problems() is [var problem, ..] ? (null, ("conditions", problem)) : (conditions, null);
    }

    /// <summary>Corners as a GeoJSON polygon, the first repeated at the end.</summary>
    public static GeoJsonPolygon Polygon(IReadOnlyList<LatLon> corners) =>
        new(
            "Polygon",
            [
                [.. corners.Append(corners[0]).Select(c => (IReadOnlyList<double>)[c.LonDeg, c.LatDeg])],
            ]
        );

    /// <summary>The corners of a polygon; null where there is none, false where it is none.</summary>
    public static bool TryCorners(GeoJsonPolygon? polygon, out IReadOnlyList<LatLon>? corners)
    {
        corners = null;
        if (polygon is null)
            return true;
        if (
            polygon.Type != "Polygon"
            || polygon.Coordinates is not [{ Count: >= 3 and <= 500 } ring, ..]
            || ring.Any(c => c is null || c.Count < 2)
        )
        {
            return false;
        }

        // GeoJSON repeats the first corner at the end.
        var open = ring[0][0] == ring[^1][0] && ring[0][1] == ring[^1][1] ? ring.Take(ring.Count - 1) : ring;
        corners = [.. open.Select(c => new LatLon(c[1], c[0]))];
        return corners.Count >= 3;
    }
}
