using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Web.Tests.Planning;

/// <summary>A square of sixteen miles about 43.7° S 171.9° E, and what pages of plans ask for.</summary>
internal static class PlanSchool
{
    public static readonly LatLon Middle = new(-43.7, 171.9);

    public static SchoolArea Plains { get; } = Area("Plains West", 8);

    public static IReadOnlyList<AircraftProfile> Aircraft => Catalogue.Aircraft;

    /// <summary>A square area by half its side, nautical miles.</summary>
    public static SchoolArea Area(string name, double halfNm)
    {
        var (lat, lon) = (halfNm / 60, halfNm / 60 / Math.Cos(Middle.LatDeg * Math.PI / 180));
        LatLon[] corners =
        [
            new(Middle.LatDeg - lat, Middle.LonDeg - lon),
            new(Middle.LatDeg - lat, Middle.LonDeg + lon),
            new(Middle.LatDeg + lat, Middle.LonDeg + lon),
            new(Middle.LatDeg + lat, Middle.LonDeg - lon),
        ];
        return new(Guid.CreateVersion7(), name, 2500, 6500, PlanInputs.Polygon(corners));
    }

    public static SchoolApi For(string role, params SchoolArea[] areas) =>
        SchoolApi
            .For(role)
            .Answer("drills/racetrack", Catalogue.Templates.Single(t => t.Slug == "racetrack") with { Version = 1 })
            .Answer("aircraft", Aircraft)
            .Answer<IReadOnlyList<SchoolArea>>("school/areas", areas);
}
