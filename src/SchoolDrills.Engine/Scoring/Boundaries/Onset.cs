namespace SchoolDrills.Engine.Scoring;

/// <summary>When a pilot began to act, seconds since the recording's epoch, and one standard deviation of it, seconds.</summary>
internal readonly record struct Onset(double AtS, double SigmaS)
{
    public static Onset operator -(Onset onset, double byS) => onset with { AtS = onset.AtS - byS };

    /// <summary>
    /// The same with the sigma that such fits turn out to have: the bend of a real maneuver is not the model's, so that there is a least
    /// sigma, and a fit is less sure than its own likelihoods say.
    /// </summary>
    public Onset With(double leastSigmaS, double spread) => this with { SigmaS = double.Hypot(leastSigmaS, spread * SigmaS) };
}
