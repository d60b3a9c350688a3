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

    /// <summary>
    /// Gone over to another one, all of it at a share of 1: where it is a matter of degree which of two movements began the segment, a
    /// little more or less must not move the boundary by seconds.
    /// </summary>
    public Onset Toward(Onset other, double share)
    {
        var part = Math.Clamp(share, 0, 1);
        return new(AtS + (part * (other.AtS - AtS)), SigmaS + (part * (other.SigmaS - SigmaS)));
    }
}
