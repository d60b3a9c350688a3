namespace SchoolDrills.Engine.Scoring;

/// <summary>How well quantities are known, and when they count. For the meaning of each basis see <see cref="HandlingModel"/>.</summary>
internal static class MeasurementModel
{
    /// <summary>
    /// A start farther than this from every sample was not seen, seconds: across shorter gaps the flight on either side shows it to two
    /// or three.
    /// </summary>
    /// <remarks>Basis: fitted on simulated dropouts in the recorded truth flights.</remarks>
    public const double UnseenS = 10;

    /// <summary>
    /// With this many level segments, or straights, the entry is seen in them alone: of two, one may have been held at the wrong altitude.
    /// </summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int EnoughLevels = 3;

    /// <summary>One standard deviation of bank, recorded and that of a coordinated turn, degrees.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double RecordedBankSigmaDeg = 1,
        CoordinatedBankSigmaDeg = 2;

    /// <summary>
    /// One standard deviation of the altimeter's level, feet: from the level that was held, and where no level was held.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double HeldLevelSigmaFt = 25,
        NoLevelSigmaFt = 50;

    /// <summary>
    /// A climb or descent is nearly done, so that its rate counts no longer, within this many usual leads for levelling off or this share
    /// of its height.
    /// </summary>
    /// <remarks>Basis: fitted on the recorded truth flights.</remarks>
    public const double NearlyDoneLeads = 1.5,
        NearlyDoneShare = 0.15;

    /// <summary>
    /// How long a pause lasts whose end nobody noted, and after how long a note of an end belongs to another pause, seconds.
    /// </summary>
    /// <remarks>Basis: common practice: room is made for traffic and the drill resumed in about this time.</remarks>
    public const double PauseS = 180,
        LongestPauseS = 600;

    /// <summary>How long after a drill was given up the note that it was stopped may be taken, seconds.</summary>
    /// <remarks>Basis: common practice: the instructor first has other things to do.</remarks>
    public const double StopNotedS = 60;
}
