namespace SchoolDrills.Engine.Planning;

/// <summary>Numbers of the trade in planning, and the limits of what can be planned with.</summary>
internal static class PlanModel
{
    /// <summary>Share of the rate of climb kept in reserve.</summary>
    /// <remarks>Basis: common practice: turns and rough air cost some, and handbook figures come from test pilots.</remarks>
    public const double ClimbReserveShare = 0.1;

    /// <summary>Distance between the entry headings that are tried, degrees.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int HeadingStepDeg = 30;

    /// <summary>Lowest and highest altimeter setting, hPa.</summary>
    /// <remarks>Basis: records of pressure at sea level (WMO): 870 hPa in 1979, 1,084.8 hPa in 2001.</remarks>
    public const double LowestQnhHpa = 870,
        HighestQnhHpa = 1085;

    /// <summary>Lowest and highest outside air temperature, Celsius.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LowestOatC = -70,
        HighestOatC = 55;

    /// <summary>Strongest wind, knots.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double StrongestWindKt = 150;

    /// <summary>Farthest corner of an area from its middle, metres: the local plane is exact enough within it.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double FarthestCornerM = 300_000;

    /// <summary>Most corners of an area, and most levels of wind.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int MostCorners = 100,
        MostWinds = 50;

    /// <summary>Lowest and highest altitude of a wind, feet.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LowestWindFt = -2000,
        HighestWindFt = 60_000;

    /// <summary>Lowest and highest temperature of a report, Celsius.</summary>
    /// <remarks>Basis: records of air temperature (WMO), and the cold of the tropopause.</remarks>
    public const double LowestReportedC = -99,
        HighestReportedC = 57;

    /// <summary>Strongest wind without a direction that is planned as calm, knots.</summary>
    /// <remarks>Basis: winds-aloft forecasts call wind below 5 kt light and variable.</remarks>
    public const double LightVariableKt = 5;

    /// <summary>Change of temperature with height in the standard atmosphere, Celsius per foot.</summary>
    /// <remarks>Basis: ICAO Doc 7488/3: 6.5 K per kilometre.</remarks>
    public const double StandardLapseCPerFt = 0.0019812;

    /// <summary>Most areas of one import.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int MostAreas = 50;
}
