namespace SchoolDrills.Engine.Scoring;

/// <summary>What the aligner and its confidence are made of. Prices are in the worth of seconds flown to plan.</summary>
internal static class AlignmentModel
{
    /// <summary>What a second flown exactly to plan is worth; a second of other flight is worth nothing.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double Worth = 2.5;

    /// <summary>Usual scatter of turn rate, at standard rate or less, and vertical speed about their targets in training.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnRateScatterDegPerS = 0.9,
        VerticalSpeedScatterFpm = 260;

    /// <summary>Turn rate at 45° of bank and a trainer's 95 kt true, degrees per second.</summary>
    /// <remarks>Basis: g tan(45°) / V.</remarks>
    public const double Rate45DegPerS = 11.5;

    /// <summary>Most that one second can cost for either quantity, so that a lapse does not sink a segment.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double CostCap = 4;

    /// <summary>Prices of a skipped segment, of giving up, and of other flight between two segments.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double SkipPrice = 6,
        SkipPricePerS = 0.5,
        AbortPrice = 40,
        OtherFlightPrice = 40,
        OtherFlightPricePerS = 1;

    /// <summary>Shortest and longest a segment may be flown, as shares of its nominal length.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ShortestShare = 0.4,
        LongestShare = 2.5;

    /// <summary>Usual scatter of a segment's length, as the logarithm of its share of the nominal length.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double LengthScatter = 0.3;

    /// <summary>Usual scatter of the turn made, degrees, and of the height gained in a segment, feet.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnScatterDeg = 12,
        ClimbScatterFt = 90;

    /// <summary>Usual scatter of a change of airspeed, knots.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double SpeedScatterKt = 8;

    /// <summary>Most that a wrong turn or height can cost a segment.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double EndCostCap = 25;

    /// <summary>
    /// By how much the scatter of turn and height grows with each degree and foot planned, where a drill is believed or not.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnScatterShare = 0.08,
        ClimbScatterShare = 0.1;

    /// <summary>
    /// Scatter of length, as a logarithm, where a drill is believed or not: a maneuver takes the time it takes, a straight what the pilot
    /// lets it.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ManeuverLengthScatter = 0.25,
        StraightLengthScatter = 0.5;

    /// <summary>Most that a height let go or a length alone count, squares of scatter.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double MostAlone = 5;

    /// <summary>Half squares of error at which a segment speaks neither for nor against the drill.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double Undecided = 4;

    /// <summary>How a missing maneuver and a missing straight speak; nothing speaks lower.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double MissingManeuver = -1,
        MissingStraight = -0.3;

    /// <summary>
    /// A straight as long as this weighs as much as a maneuver; the shortest weighs half of it, since every flight has straights.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double FullStraightS = 60,
        LeastWeight = 0.5;

    /// <summary>Of a drill given up, the least to have been flown: maneuvers, and share of its time.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MinimumManeuvers = 3,
        MinimumShare = 0.4;

    /// <summary>Other flight inside the drill that takes all but a third of the confidence, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double OtherFlightS = 120;

    /// <summary>
    /// Of a segment's turn, climb and length, less than this share is part of it; of a turn the lead for rolling out may be missing,
    /// degrees.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double WholeShare = 0.85,
        MissingRollOutDeg = 20;

    /// <summary>
    /// Shortest part of a segment, seconds, and what its seconds must be worth at least, as a share of those flown to plan.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ShortestPartS = 6,
        LeastWorthShare = 0.5;

    /// <summary>A segment this near to the recording's end runs on beyond it, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AtEdgeS = 3;

    /// <summary>
    /// Confidence from which the drill counts as found: true flights reach 0.77 and more, other training flight 0.56 by chance.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double FoundConfidence = 0.65;

    /// <summary>
    /// Confidence from which neither the relaxed alignment nor the other hand is tried, and by how much each must be surer.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double SureConfidence = 0.85,
        OtherHandSurerBy = 0.1,
        RelaxedSurerBy = 0.05;

    /// <summary>A drill of fewer turns is flown to either hand by chance: the other hand is not looked for.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const int LeastTurnsForOtherHand = 3;

    /// <summary>A stretch shorter than this share of the drill is not searched.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortestSearchShare = 0.5;
}
