using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Engine.Progress;

/// <summary>One attempt as a whole.</summary>
/// <param name="WithinShare">Share of its time within tolerance, 0 to 1.</param>
/// <param name="Verdict">How it stands at the drill's standard.</param>
public readonly record struct WholeAttempt(double WithinShare, Verdict Verdict);

/// <summary>How the newest attempts at one drill go, in a word.</summary>
public enum Going
{
    /// <summary>Neither of the others can be said.</summary>
    Undecided,

    /// <summary>Many attempts, the newest not met, and no gain, or one too slow to come to the standard.</summary>
    Stuck,

    /// <summary>The newest attempts were all met.</summary>
    Ready,
}

/// <summary>Whether somebody is ready to go on from a drill, or gets no further with it.</summary>
/// <remarks>
/// From the whole of each attempt, so that it costs little for every student of a school; by parameter, and with intervals, it is for
/// <see cref="ParameterTrend"/> and <see cref="Forecast"/> to say. A learner's gain shrinks with every attempt: who would not come to the
/// standard at the present pace within the attempts that a forecast looks ahead will not come to it at all on this way.
/// </remarks>
/// <param name="Going">How it goes.</param>
/// <param name="Reason">Why, in words; null where it is undecided.</param>
public sealed record DrillStanding(Going Going, string? Reason)
{
    /// <summary>The standing after attempts at one drill of one level.</summary>
    /// <param name="attempts">Attempts, oldest first.</param>
    /// <param name="standardShare">Share that the drill's standard asks for, above 0 to 1.</param>
    public static DrillStanding Of(IReadOnlyList<WholeAttempt> attempts, double standardShare)
    {
        var newest = attempts.TakeLast(ProgressModel.ReadyAttempts).ToList();
        if (newest.Count == ProgressModel.ReadyAttempts && newest.TrueForAll(a => a.Verdict == Verdict.Met))
            return new(Going.Ready, $"the last {ProgressModel.ReadyAttempts} attempts were met");
        if (attempts.Count < ProgressModel.FewestForTrend || attempts[^1].Verdict is Verdict.Met or Verdict.NotMeasured)
            return new(Going.Undecided, null);
        var shares = attempts.TakeLast(ProgressModel.MostForTrend).Select(a => a.WithinShare).ToList();
        var now = shares.TakeLast(ProgressModel.ReadyAttempts).Average();
        var state = $"{ParameterFormat.Percent(now)} of the time in tolerance lately, {ParameterFormat.Percent(standardShare)} asked";
        var gain = Trend.Of(shares).PerAttempt;
        if (gain is not > 0)
            return new(Going.Stuck, $"{shares.Count} attempts without a clear gain: {state}");
        return standardShare - now > gain * ProgressModel.HorizonAttempts
            ? new(Going.Stuck, $"{shares.Count} attempts, and more than {ProgressModel.HorizonAttempts} to go at this pace: {state}")
            : new(Going.Undecided, null);
    }
}
