namespace SchoolDrills.Engine.Progress;

/// <summary>What statistics over attempts take for granted: how sure an interval is, how much data a statement needs.</summary>
internal static class ProgressModel
{
    /// <summary>Chance that an interval holds the true value, for every interval over attempts.</summary>
    /// <remarks>Basis: design choice: wide enough to warn, narrow enough to be of use with ten attempts.</remarks>
    public const double IntervalShare = 0.8;

    /// <summary>Fewest attempts of which anything is said.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const int FewestAttempts = 3;

    /// <summary>Fewest attempts that show a trend or allow a forecast.</summary>
    /// <remarks>Basis: Heathcote, Brown and Mewhort 2000, from memory: never extrapolate from fewer than five trials.</remarks>
    public const int FewestForTrend = 5;

    /// <summary>Newest attempts that a trend and a forecast look at.</summary>
    /// <remarks>Basis: design choice: what was flown before them no longer says how learning goes now.</remarks>
    public const int MostForTrend = 30;

    /// <summary>Time after which a deviation says little about the next, seconds.</summary>
    /// <remarks>Basis: common practice: a scan around the panel and a correction.</remarks>
    public const double DecorrelationS = 15;

    /// <summary>Days after which an attempt counts half as evidence of what fails.</summary>
    /// <remarks>Basis: design choice: a stage of instrument training takes about as long.</remarks>
    public const double HalfLifeDays = 90;

    /// <summary>Correlation of the verdicts on like segments of one attempt.</summary>
    /// <remarks>Basis: assumed.</remarks>
    public const double WithinAttemptCorrelation = 0.3;

    /// <summary>Fewest other students from whom a prior is taken.</summary>
    /// <remarks>Basis: design choice: fewer neither show a spread nor hide who they are.</remarks>
    public const int FewestStudents = 5;

    /// <summary>Bounds of a prior's strength, samples.</summary>
    /// <remarks>Basis: design choice: the lower is that of Jeffreys' prior.</remarks>
    public const double LeastStrength = 1,
        MostStrength = 20;

    /// <summary>Share not met above which a segment is weak.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const double RecurringShare = 0.3;

    /// <summary>Chance that this share is exceeded from which a segment is recurring.</summary>
    /// <remarks>Basis: design choice: surer than an interval, since it is a finding against somebody.</remarks>
    public const double RecurringProbability = 0.95;

    /// <summary>Attempts with at least half of the segments not met that make a weak segment recurring.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const int AgreeingAttempts = 3;

    /// <summary>Newest attempts, all met, after which somebody is ready to go on.</summary>
    /// <remarks>Basis: design choice: once may be luck.</remarks>
    public const int ReadyAttempts = 3;

    /// <summary>Attempts ahead beyond which no forecast is given.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const int HorizonAttempts = 40;

    /// <summary>Expected shares met between which a drill is neither too easy nor too hard.</summary>
    /// <remarks>Basis: design choice; about what is known of error rates that teach best.</remarks>
    public const double LeastMetShare = 0.7,
        MostMetShare = 0.85;

    /// <summary>Change of the log odds to meet a segment from one level to the next.</summary>
    /// <remarks>Basis: assumed.</remarks>
    public const double LevelStepLogits = 0.5;

    /// <summary>Most drills suggested at once.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const int MostSuggestions = 3;

    /// <summary>Fewest attempts graded by both that give an agreement.</summary>
    /// <remarks>Basis: design choice: below it the interval covers nearly all there is.</remarks>
    public const int FewestShared = 10;

    /// <summary>Fewest attempts of which it is said that nearly everybody fails.</summary>
    /// <remarks>Basis: design choice: with fewer one student may be all of them.</remarks>
    public const int FewestForNearlyAll = 10;

    /// <summary>Share not met above which nearly everybody fails.</summary>
    /// <remarks>Basis: design choice.</remarks>
    public const double NearlyAllShare = 0.8;

    /// <summary>Lower and upper tail outside an interval.</summary>
    public static double Tail => (1 - IntervalShare) / 2;

    /// <summary>What is said where there are too few attempts.</summary>
    public static string TooLittle(int attempts, int needed) => $"too little data: {attempts} of {needed} attempts";
}
