namespace SchoolDrills.Engine.Scoring;

/// <summary>Stretches of a recording that an instructor excluded: they count neither within nor outside tolerance.</summary>
public sealed class ExcludedTime
{
    /// <summary>Nothing is excluded.</summary>
    public static readonly ExcludedTime None = new([]);

    private readonly (double StartS, double EndS)[] stretches;

    private ExcludedTime((double StartS, double EndS)[] stretches) => this.stretches = stretches;

    /// <summary>The stretches on a recording's clock.</summary>
    /// <param name="corrections">The instructor's corrections; null for none.</param>
    /// <param name="epochUtc">The recording's epoch.</param>
    public static ExcludedTime Of(ManualCorrections? corrections, DateTimeOffset epochUtc) =>
        corrections?.Excluded is not { Count: > 0 } excluded
            ? None
            : new ExcludedTime([.. excluded.Select(s => ((s.StartUtc - epochUtc).TotalSeconds, (s.EndUtc - epochUtc).TotalSeconds))]);

    /// <summary>A moment is excluded.</summary>
    /// <param name="timeS">Seconds since the recording's epoch.</param>
    public bool Covers(double timeS) => Array.Exists(stretches, s => timeS >= s.StartS && timeS < s.EndS);

    /// <summary>Part of a span is excluded.</summary>
    /// <param name="startS">From, seconds since the recording's epoch.</param>
    /// <param name="endS">To, seconds since the recording's epoch.</param>
    public bool Touches(double startS, double endS) => Array.Exists(stretches, s => s.StartS < endS && s.EndS > startS);
}
