using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Planning;

/// <summary>The numbers of one kind of turn in a drill.</summary>
/// <param name="TurnRateDegPerS">Rate of turn, degrees per second.</param>
/// <param name="AirspeedKt">Calibrated airspeed, knots.</param>
/// <param name="BankDeg">Angle of bank, degrees, at the highest true airspeed it is turned at.</param>
/// <param name="RadiusNm">Radius in still air, nautical miles.</param>
/// <param name="LoadFactor">Load factor, 1 in level flight.</param>
/// <param name="RollOutLeadDeg">Roll-out lead, half the bank, degrees.</param>
public sealed record PlannedTurn(
    double TurnRateDegPerS,
    double AirspeedKt,
    double BankDeg,
    double RadiusNm,
    double LoadFactor,
    double RollOutLeadDeg
);

/// <summary>The lead of one vertical speed in a drill.</summary>
/// <param name="VerticalSpeedFpm">Vertical speed, feet per minute, up positive.</param>
/// <param name="LevelOffLeadFt">Level-off lead, a tenth of it, feet.</param>
public sealed record PlannedVerticalSpeed(double VerticalSpeedFpm, double LevelOffLeadFt);

/// <summary>Whether the aeroplane can climb as the drill needs.</summary>
/// <param name="Feasible">True where it can, and where the drill does not climb.</param>
/// <param name="NeededFpm">Planned rate of climb, feet per minute, where the margin is least; null where the drill does not climb.</param>
/// <param name="AvailableFpm">Rate the aeroplane has there, feet per minute.</param>
/// <param name="DensityAltitudeFt">Density altitude there, feet.</param>
/// <param name="Why">The comparison in a sentence.</param>
public sealed record PlannedClimb(bool Feasible, double? NeededFpm, double? AvailableFpm, double? DensityAltitudeFt, string Why);

/// <summary>The wind at an altitude of the drill, and what it makes in a minute.</summary>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="WindFromDegTrue">Direction it blows from, degrees true, (0, 360].</param>
/// <param name="WindKt">Speed, knots.</param>
/// <param name="NmPerMinute">Drift in a minute, nautical miles.</param>
public sealed record DriftLevel(double AltitudeFt, double WindFromDegTrue, double WindKt, double NmPerMinute);

/// <summary>How far the wind carries the whole drill.</summary>
/// <param name="Levels">At each altitude the drill holds or reaches, lowest first.</param>
/// <param name="TotalNm">From where it would end in still air, nautical miles.</param>
/// <param name="TowardDegTrue">Direction it is carried to, degrees true, (0, 360].</param>
public sealed record PlannedDrift(IReadOnlyList<DriftLevel> Levels, double TotalNm, double TowardDegTrue);

/// <summary>Where a ground path comes closest to the boundary of its area, or is farthest outside.</summary>
/// <param name="AtS">Drill clock, seconds.</param>
/// <param name="Place">The place.</param>
/// <param name="MarginNm">Distance to the boundary, nautical miles; negative outside.</param>
public sealed record TightestPoint(double AtS, LatLon Place, double MarginNm);

/// <summary>Where a drill comes closest to the floor or the ceiling.</summary>
/// <param name="LimitFt">The floor or the ceiling, feet.</param>
/// <param name="MarginFt">Distance to it, feet; negative beyond it.</param>
/// <param name="AtS">Drill clock of the first such moment, seconds.</param>
public sealed record HeightMargin(double LimitFt, double MarginFt, double AtS);

/// <summary>How a drill lies in its area.</summary>
/// <param name="GivenStartMarginNm">
/// Least distance to the boundary from the given start, nautical miles, negative where it leaves the area; null without a given start.
/// </param>
/// <param name="SuggestedStart">Start from which it stays inside; null where there is none.</param>
/// <param name="SuggestedHeadingMagDeg">Entry heading there: the planned one, or the nearest to it that fits; degrees magnetic.</param>
/// <param name="SuggestedMarginNm">
/// Least distance to the boundary there, or the best found where none fits, nautical miles; null where no start was looked for.
/// </param>
/// <param name="Text">The answer in a sentence or two.</param>
public sealed record PlannedArea(
    double? GivenStartMarginNm,
    LatLon? SuggestedStart,
    double? SuggestedHeadingMagDeg,
    double? SuggestedMarginNm,
    string Text
);

/// <summary>A drill fitted to an aeroplane and a day.</summary>
public sealed record DrillPlan
{
    /// <summary>True airspeed at the entry, knots.</summary>
    public required double TrueAirspeedKt { get; init; }

    /// <summary>Pressure altitude at the entry, feet.</summary>
    public required double PressureAltitudeFt { get; init; }

    /// <summary>Density altitude at the entry, feet.</summary>
    public required double DensityAltitudeFt { get; init; }

    /// <summary>Bank, radius and lead of each kind of turn.</summary>
    public required IReadOnlyList<PlannedTurn> Turns { get; init; }

    /// <summary>Lead of each vertical speed.</summary>
    public required IReadOnlyList<PlannedVerticalSpeed> VerticalSpeeds { get; init; }

    /// <summary>Whether it can be climbed.</summary>
    public required PlannedClimb Climb { get; init; }

    /// <summary>Lowest indicated altitude of the drill, feet.</summary>
    public required double LowestAltitudeFt { get; init; }

    /// <summary>Highest indicated altitude of the drill, feet.</summary>
    public required double HighestAltitudeFt { get; init; }

    /// <summary>Where it comes closest to the floor; null where none was given.</summary>
    public HeightMargin? FloorMargin { get; init; }

    /// <summary>Where it comes closest to the ceiling; null where none was given.</summary>
    public HeightMargin? CeilingMargin { get; init; }

    /// <summary>Where the path over the ground comes closest to the boundary; null without an area or a path.</summary>
    public TightestPoint? Tightest { get; init; }

    /// <summary>Whether it stays at or above the floor; null where none was given.</summary>
    public bool? AboveFloor { get; init; }

    /// <summary>Drift.</summary>
    public required PlannedDrift Drift { get; init; }

    /// <summary>Path through still air, metres from its start, true north up.</summary>
    public required NominalPath AirPath { get; init; }

    /// <summary>Path over the ground, metres from its start, true north up.</summary>
    public required NominalPath GroundPath { get; init; }

    /// <summary>
    /// Path over the ground from the given start, else from the suggested one on its heading; null where there is neither.
    /// </summary>
    public IReadOnlyList<LatLon>? GroundPlaces { get; init; }

    /// <summary>How it lies in the area; null where none was given.</summary>
    public PlannedArea? Area { get; init; }

    /// <summary>Reasons against flying it so, one sentence each.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>Plans a drill.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="entry">Its entry.</param>
    /// <param name="aircraft">The aeroplane.</param>
    /// <param name="conditions">The day and the place.</param>
    /// <exception cref="ArgumentException">The template, the entry or the conditions have problems; the message is
    /// the first.</exception>
    public static DrillPlan Of(DrillTemplate template, DrillEntry entry, AircraftProfile aircraft, PlanConditions conditions)
    {
        if (conditions.Problems() is [var problem, ..])
            throw new ArgumentException(problem, nameof(conditions));
        return new DrillPlanner(DrillTimeline.Resolve(template, entry), aircraft, conditions).Plan();
    }
}
