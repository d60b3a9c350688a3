namespace SchoolDrills.Engine.Scoring;

/// <summary>Numbers by which load tasks, checks and their effect on the flying are told.</summary>
internal static class WorkloadModel
{
    /// <summary>How long a task loads the pilot where no answer was noted, seconds.</summary>
    /// <remarks>Basis: common practice: a radio call with its read-back, a mental sum.</remarks>
    public const double TaskS = 25;

    /// <summary>An answer after this long is late, and one after this long belongs to no task, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LateS = 20,
        LongestAnswerS = 90;

    /// <summary>Time after a task or check in which the flying still shows it, seconds.</summary>
    /// <remarks>Basis: common practice: a drift begun during the task is noticed and corrected in about this time.</remarks>
    public const double WakeS = 10;

    /// <summary>Length of the blocks of flying that are compared, seconds: neighbouring seconds repeat one another.</summary>
    /// <remarks>Basis: common practice: about the time in which a small deviation is corrected.</remarks>
    public const double BlockS = 10;

    /// <summary>Fewest quiet and loaded blocks from which a change is told.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const int FewestQuiet = 4,
        FewestLoaded = 2;

    /// <summary>Chance outside each end of the interval of a change.</summary>
    /// <remarks>Basis: common practice: 80 % intervals, as everywhere in this program.</remarks>
    public const double Tail = 0.1;

    /// <summary>How long before an episode what caused it may have been given, and relief asked for, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double CauseS = 30,
        ReliefBeforeS = 10;

    /// <summary>How far before an episode it is looked for what went first, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double LookBackS = 60;

    /// <summary>Relief helped where the episode ended no later after it, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double ReliefHelpsS = 30;

    /// <summary>How long after the drill its load may still be rated, seconds.</summary>
    /// <remarks>Basis: common practice.</remarks>
    public const double RatingS = 300;

    /// <summary>Tasks and checks a minute from which the load level is 2, 3, 4 and 5.</summary>
    /// <remarks>Basis: common practice: none, one in four minutes, one in two, one a minute, more.</remarks>
    public const double Level2PerMin = 0.01,
        Level3PerMin = 0.4,
        Level4PerMin = 0.9,
        Level5PerMin = 1.6;
}
