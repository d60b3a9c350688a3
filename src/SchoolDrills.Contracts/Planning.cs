using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Contracts;

/// <summary>
/// The day, the aeroplane and the place for which a drill is to be fitted; entry fields left out stay as the template has them.
/// </summary>
/// <param name="AircraftId">Slug of one of the school's aircraft profiles.</param>
/// <param name="Area">GeoJSON polygon of the practice area.</param>
/// <param name="Start">Where the drill is to begin; left out, the plan may choose within the area.</param>
/// <param name="FloorFt">Lowest indicated altitude to fly at, feet.</param>
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
    double? FloorFt = null
);

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
