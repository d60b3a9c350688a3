namespace SchoolDrills.Engine.Drills;

/// <summary>Numbers of the trade in drills: what a template means where it gives none, and how hard a drill is.</summary>
internal static class DrillModel
{
    /// <summary>Vertical speed where a segment gives none, feet per minute.</summary>
    /// <remarks>Basis: common practice: 1,000 ft in a full circle at standard rate.</remarks>
    public const double UsualVerticalSpeedFpm = 500;

    /// <summary>Stated times that differ by no more than this agree, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AgreementS = 1;

    /// <summary>A cue comes this long before what it announces, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double CueLeadS = 5;

    /// <summary>
    /// Rate of roll, degrees per second, and change of vertical speed, feet per minute per second, of the nominal path.
    /// </summary>
    /// <remarks>Basis: common practice: about 3 s to a standard-rate bank, 5 s to a 500 fpm climb.</remarks>
    public const double RollRateDegPerS = 5,
        VerticalSpeedChangeFpmPerS = 100;

    /// <summary>
    /// What a change a minute, a standard rate beyond the first, and a minute beyond the fifth add to the score of a drill's level.
    /// </summary>
    /// <remarks>Basis: common practice: the catalogue comes out in the order in which its drills are taught.</remarks>
    public const double PaceWeight = 0.4,
        SteepnessWeight = 0.5,
        LengthWeight = 0.04;

    /// <summary>Minutes of a drill that add nothing to its level for length.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double EasyLengthMin = 5;

    /// <summary>Scores at which levels 2, 3, 4 and 5 begin.</summary>
    /// <remarks>Basis: common practice: the catalogue comes out in the order in which its drills are taught.</remarks>
    public const double Level2Score = 0.9,
        Level3Score = 1.5,
        Level4Score = 2.1,
        Level5Score = 2.8;
}
