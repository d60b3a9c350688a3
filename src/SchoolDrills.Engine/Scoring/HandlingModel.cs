namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// How a light trainer and its pilot begin and end turns, climbs and descents. Times in seconds, angles in degrees, heights in feet.
/// </summary>
/// <remarks>
/// Each constant here and in the other models states its basis. "Fitted on the recorded truth flights": on the public set of 18 flights
/// of a six-degree-of-freedom model with known truth, recorded in several formats, over all of them at once. "Fitted on simulated
/// flights": on those that <c>SchoolDrills.Accuracy.Flown</c> flies by program, seeds 1 to 150. "Common practice": what instructors
/// teach and examiners expect.
/// </remarks>
internal static class HandlingModel
{
    /// <summary>
    /// Time in which the aeroplane rolls into or out of a standard-rate turn, seconds, and the change of rate in it; a larger change
    /// takes longer by its square root, since steep turns are rolled into faster.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double RollS = 4,
        RollRateChangeDegPerS = 4.5;

    /// <summary>From the first movement of the controls to the start of the fitted breakpoint, seconds: a roll-in begins gently.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double RollInDelayS = 0.6,
        RollOutDelayS = 0.2;

    /// <summary>
    /// Time over which pitching changes the vertical speed, and from the first movement of the controls to its start, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double PitchS = 5,
        PitchDelayS = 0.4;

    /// <summary>
    /// A level-off this much later than the roll-out begins to count for the segment's end, and counts alone at half as much again,
    /// seconds.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double LaterLevelOffS = 2.5;

    /// <summary>
    /// Heading turned the other way that shows a turn begun to the wrong side, degrees, and the longest it takes, seconds.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double WrongWayOnsetDeg = 8,
        WrongWayS = 36;

    /// <summary>
    /// Heading past the end of a turn that begins to show a reversal forgotten, and shows it at half as much again, degrees.
    /// </summary>
    /// <remarks>Basis: common practice: some three seconds at standard rate.</remarks>
    public const double ForgottenReversalDeg = 10;

    /// <summary>A turn to the wrong side holds this share of the planned rate over so many seconds; weaving and drifting do not.</summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double WrongTurnRateShare = 0.65,
        WrongTurnHeldS = 4;

    /// <summary>Other flight between two segments shorter than this is hesitation, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double HesitationS = 30;

    /// <summary>Shares of the planned vertical speed below which an aeroplane is level, and above which it goes on climbing.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double LevelShare = 0.25,
        ClimbingShare = 0.5;

    /// <summary>From the first movement to the moment a level-off has taken half of the vertical speed away, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double HalfLevelOffS = 2.2;

    /// <summary>A new climb has begun once it passes this share of its vertical speed and then gains this height, feet.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ClimbBegunShare = 0.35,
        ClimbBegunFt = 40;

    /// <summary>From the first movement to the moment a new climb has begun, from level flight, seconds.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double ClimbBegunDelayS = 2.2;

    /// <summary>Time to settle on a new rate, in which rates do not count, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TransitionS = 7;

    /// <summary>
    /// Lead for levelling off, as a share of the vertical speed (feet of feet per minute), and for rolling out, degrees, in which rates
    /// do not count.
    /// </summary>
    /// <remarks>
    /// Basis: 10 % of the rate: FAA-H-8083-15B; 12° is half of the bank at standard rate and a trainer's speed and some more, common
    /// practice.
    /// </remarks>
    public const double LevelOffLeadShare = 0.1,
        RollOutLeadDeg = 12;

    /// <summary>
    /// The first seconds of a segment, in which the last one is still being put right, and its last ones do not show what was held.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double SettleS = 10,
        LeaveS = 2;

    /// <summary>How late a pilot who flies by the clock usually ends a straight, seconds: reading it comes before acting.</summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double StraightLateS = 0.6;

    /// <summary>Instructors give headings in tens of degrees and altitudes in hundreds of feet.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double HeadingStepDeg = 10,
        AltitudeStepFt = 100;

    /// <summary>How often a heading is given in tens, in fives between them, and otherwise, each by the heading.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double HeadingsInTens = 1,
        HeadingsInFives = 0.2,
        HeadingsOtherwise = 0.05;

    /// <summary>How much likelier a drill is begun at its template's altitude than at another.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double TemplateAltitude = 3;

    /// <summary>
    /// One standard deviation of how far a heading is held from the one that was meant, degrees: usual, and the number of straights that
    /// this knowledge counts for.
    /// </summary>
    /// <remarks>Basis: fitted on simulated flights.</remarks>
    public const double HeldHeadingDeg = 2.5,
        HeldHeadingWeight = 3;

    /// <summary>
    /// One standard deviation of the distance of satellite or pressure altitude from the altimeter, feet: temperature, setting, geoid.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double GpsOffsetFt = 90;
}
