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
}
