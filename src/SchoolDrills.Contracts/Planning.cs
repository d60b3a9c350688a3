using System.Text.Json;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Contracts;

/// <summary>
/// The day, the aeroplane and the place for which a drill is to be fitted; entry fields left out stay as the template has them.
/// </summary>
/// <param name="AircraftId">Slug of one of the school's aircraft profiles.</param>
/// <param name="Area">GeoJSON polygon of the practice area.</param>
/// <param name="Start">Where the drill is to begin; left out, the plan may choose within the area.</param>
/// <param name="FloorFt">Lowest indicated altitude to fly at, feet.</param>
/// <param name="Winds">Wind by height, instead of the one wind of <paramref name="WindFromDegTrue"/> and <paramref name="WindKt"/>.</param>
/// <param name="HalfRate">Turns at half the stated rate.</param>
/// <param name="CeilingFt">Highest indicated altitude to fly at, feet.</param>
/// <param name="AreaName">What the area is called.</param>
/// <param name="AircraftVersion">
/// Version of the profile; the newest where left out. A plan that is kept names the one it was made with.
/// </param>
public sealed record PlanDrill(
    string AircraftId,
    double? HeadingMagDeg = null,
    double? AltitudeFt = null,
    double? AirspeedKt = null,
    bool? Mirrored = null,
    double? WindFromDegTrue = null,
    double? WindKt = null,
    double? OatC = null,
    double? QnhHpa = null,
    GeoJsonPolygon? Area = null,
    LatLon? Start = null,
    double? FloorFt = null,
    IReadOnlyList<WindLevel>? Winds = null,
    bool? HalfRate = null,
    double? CeilingFt = null,
    string? AreaName = null,
    int? AircraftVersion = null
);

/// <summary>The plan of an assignment, to be kept.</summary>
/// <param name="Plan">What it was made with.</param>
/// <param name="Revision">Revision of the plan that this one replaces; 0 where there was none.</param>
public sealed record SavePlan(PlanDrill Plan, int Revision = 0);

/// <summary>The plan kept with an assignment.</summary>
/// <param name="Asked">What it was made with; <c>POST drills/{slug}/plan</c> makes it anew.</param>
/// <param name="Revision">1 up, with every save.</param>
/// <param name="DrillVersion">Version of the drill that was planned.</param>
/// <param name="Differences">Where it is not for the drill as assigned, one sentence each: version, heading, altitude and so on.</param>
public sealed record AssignmentPlan(
    PlanDrill Asked,
    int Revision,
    string PlannedBy,
    DateTimeOffset PlannedAtUtc,
    int DrillVersion,
    IReadOnlyList<string> Differences
);

/// <summary>A practice area of the school.</summary>
/// <param name="FloorFt">Lowest indicated altitude to fly drills at, feet.</param>
/// <param name="CeilingFt">Highest indicated altitude, feet; null where none is set.</param>
public sealed record SchoolArea(Guid Id, string Name, double FloorFt, double? CeilingFt, GeoJsonPolygon Polygon);

/// <summary>Adds practice areas from GeoJSON (RFC 7946): a Feature, a FeatureCollection of polygons, or a bare Polygon.</summary>
/// <param name="GeoJson">
/// The file. Properties <c>name</c>, <c>floorFt</c> and <c>ceilingFt</c> of a feature count where the fields below are left out.
/// </param>
/// <param name="Name">Name, for a file of one area.</param>
/// <param name="FloorFt">Floor of the areas of which the file does not give one, feet.</param>
/// <param name="CeilingFt">Ceiling of the areas of which the file does not give one, feet.</param>
public sealed record AddAreas(JsonElement GeoJson, string? Name = null, double? FloorFt = null, double? CeilingFt = null);

/// <summary>A GeoJSON polygon (RFC 7946): rings of longitude and latitude, the outer ring first.</summary>
public sealed record GeoJsonPolygon(string Type, IReadOnlyList<IReadOnlyList<IReadOnlyList<double>>> Coordinates);

/// <summary>A GeoJSON line (RFC 7946): longitude, latitude and height in metres.</summary>
public sealed record GeoJsonLine(string Type, IReadOnlyList<IReadOnlyList<double>> Coordinates);

/// <summary>A drill fitted to the day. What an instructor asks first stands on top; the whole plan is below.</summary>
/// <param name="TrueAirspeedKt">True airspeed at the entry, knots.</param>
/// <param name="BankDeg">Bank of the drill's steepest turn, degrees; null where it does not turn.</param>
/// <param name="RadiusNm">Radius of its widest turn in still air, nautical miles; null where it does not turn.</param>
/// <param name="ClimbFeasible">Whether the rate of climb can be had at the day's density altitude.</param>
/// <param name="ClimbWhy">The comparison in a sentence.</param>
/// <param name="GroundPath">Path over the ground; null where neither start nor area says where.</param>
/// <param name="DeclinationDeg">Magnetic declination used, degrees, east positive; 0 where neither start nor area says where.</param>
/// <param name="Plan">The whole plan.</param>
public sealed record DrillPlanReply(
    double TrueAirspeedKt,
    double? BankDeg,
    double? RadiusNm,
    bool ClimbFeasible,
    string ClimbWhy,
    GeoJsonLine? GroundPath,
    double DeclinationDeg,
    DrillPlan Plan
);
