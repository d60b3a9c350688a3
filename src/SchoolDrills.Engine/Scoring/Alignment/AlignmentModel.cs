namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Constants of the aligner, of partial segments and of confidence; those of the search are in <see cref="ReadingModel"/>. Scores and
/// penalties share one unit: a second flown exactly to plan scores <see cref="ScorePerS"/>. For the meaning of each basis see
/// <see cref="HandlingModel"/>.
/// </summary>
internal static class AlignmentModel
{
    /// <summary>Score of a second flown exactly to plan; a second of other flight scores nothing.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ScorePerS = 2.5;

    /// <summary>
    /// Usual scatter about their targets in training of turn rate, degrees per second, at standard rate or less, and of vertical speed,
    /// feet per minute.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnRateScatterDegPerS = 0.9,
        VerticalSpeedScatterFpm = 260;

    /// <summary>Turn rate at 45° of bank and a trainer's 95 kt true, degrees per second.</summary>
    /// <remarks>Basis: g tan(45°) / V.</remarks>
    public const double Rate45DegPerS = 11.5;

    /// <summary>Most that one second can cost in either quantity, squares of scatter: a lapse does not sink a segment.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double CostCap = 4;

    /// <summary>Penalties, in units of score: a skipped segment, and for each of its seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double SkipPenalty = 6,
        SkipPenaltyPerS = 0.5;

    /// <summary>Penalty for an aborted drill, in units of score.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double AbortPenalty = 40;

    /// <summary>Penalties, in units of score: other flight between two segments, and for each of its seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double OtherFlightPenalty = 40,
        OtherFlightPenaltyPerS = 1;

    /// <summary>Shortest and longest a segment may be flown, as shares of its nominal length.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double ShortestShare = 0.4,
        LongestShare = 2.5;

    /// <summary>
    /// The same for a straight that opens or closes the drill. It has no visible outer end, so the clock sets it, and the recording may
    /// cut it to half.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortestOuterShare = 0.5,
        LongestOuterShare = 1.1;

    /// <summary>
    /// Usual scatter of a segment's length, and of an outer straight's, as the logarithm of the share of the nominal length.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double LengthScatter = 0.3,
        OuterLengthScatter = 0.15;

    /// <summary>Usual scatter of the turn made, degrees, and of the height gained in a segment, feet.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnScatterDeg = 12,
        ClimbScatterFt = 90;

    /// <summary>Usual scatter of a change of airspeed, knots.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double SpeedScatterKt = 8;

    /// <summary>Most that a wrong turn, height or speed can each cost a segment, squares of scatter.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double EndCostCap = 25;

    /// <summary>
    /// Confidence only: by how much the scatter of turn and height grows with each degree and foot planned.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double TurnScatterShare = 0.08,
        ClimbScatterShare = 0.1;

    /// <summary>
    /// Confidence only: scatter of length, as a logarithm. A maneuver takes the time it takes, a straight what the pilot allows it.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ManeuverLengthScatter = 0.25,
        StraightLengthScatter = 0.5;

    /// <summary>Most that the height of a level segment, or a length, counts in confidence, squares of scatter.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double LoneErrorCap = 5;

    /// <summary>Half squares of error at which a segment is evidence neither for nor against the drill.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double Undecided = 4;

    /// <summary>Evidence of a missing maneuver and of a missing straight; none is lower.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double MissingManeuver = -1,
        MissingStraight = -0.3;

    /// <summary>
    /// A straight of this length, seconds, weighs as much as a maneuver; the shortest weighs this share of it, since every flight has
    /// straights.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double FullStraightS = 60,
        LeastWeight = 0.5;

    /// <summary>The least of an aborted drill that must have been flown: maneuvers, and share of its time.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double MinimumManeuvers = 3,
        MinimumShare = 0.4;

    /// <summary>Other flight inside the drill that divides confidence by e, seconds.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double OtherFlightS = 360;

    /// <summary>
    /// A segment is partial below this share of its turn, climb and length; a turn may also miss the lead for rolling out, degrees.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double WholeShare = 0.85,
        MissingRollOutDeg = 20;

    /// <summary>
    /// Shortest part of a segment, seconds, and the least that its seconds score, as a share of what they score when flown to plan.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ShortestPartS = 6,
        LeastScoreShare = 0.5;

    /// <summary>
    /// A turn held for so long, seconds, below this share of its rate has been rolled out of; it was ended there where at most this share
    /// of it was still to go.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortHoldS = 8,
        StraightShare = 0.4,
        MostShortShare = 0.6;

    /// <summary>A segment this near to the recording's end runs on beyond it, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AtEdgeS = 3;

    /// <summary>
    /// Confidence: what full resemblance adds to the log odds, the sum that is even, and by how much of it confidence fades.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights, so that one drill in a hundred is found where another or none was flown.</remarks>
    public const double ResemblanceWeight = 15,
        EvenScore = 10,
        ScoreSpread = 2;

    /// <summary>Confidence from which the drill counts as found.</summary>
    /// <remarks>Basis: even odds.</remarks>
    public const double FoundConfidence = 0.5;

    /// <summary>Flight before and after a reading in which its segments are aligned, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double AroundReadingS = 60;

    /// <summary>A stretch shorter than this share of the drill is not searched.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ShortestSearchShare = 0.5;
}
