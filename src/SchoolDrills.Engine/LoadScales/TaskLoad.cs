namespace SchoolDrills.Engine.LoadScales;

/// <summary>
/// Workload by the NASA Task Load Index: six ratings from 0 to 100, given after the flight. Source: Hart and Staveland, Development of
/// NASA-TLX: results of empirical and theoretical research, in Hancock and Meshkati (eds.), Human Mental Workload, 1988.
/// </summary>
/// <param name="Mental">Mental demand, low to high.</param>
/// <param name="Physical">Physical demand, low to high.</param>
/// <param name="Temporal">Temporal demand, low to high.</param>
/// <param name="Performance">Performance, from good (0) to poor (100).</param>
/// <param name="Effort">Effort, low to high.</param>
/// <param name="Frustration">Frustration, low to high.</param>
/// <param name="Weights">How often each was picked of the pairs; null where nobody was asked.</param>
public sealed record TaskLoad(
    int Mental,
    int Physical,
    int Temporal,
    int Performance,
    int Effort,
    int Frustration,
    TaskLoadWeights? Weights = null
)
{
    /// <summary>The plain mean of the six (raw TLX), 0 to 100.</summary>
    public double Raw() => Ratings().Average();

    /// <summary>The mean weighted by the pairs, 0 to 100; null where nobody was asked.</summary>
    public double? Weighted() =>
        Weights?.Counts().Zip(Ratings(), (weight, rating) => weight * rating).Sum() is { } sum ? (double)sum / TaskLoadWeights.Pairs : null;

    /// <summary>What is impossible in it, one sentence; null when nothing is.</summary>
    public string? Problem() =>
        Ratings().Any(r => r is < 0 or > 100) ? "The task load is rated from 0 to 100 on each of its six scales." : Weights?.Problem();

    private int[] Ratings() => [Mental, Physical, Temporal, Performance, Effort, Frustration];
}

/// <summary>How often each scale was picked as the weightier of two, each of the six against each other once.</summary>
/// <param name="Mental">Of mental demand, 0 to 5.</param>
/// <param name="Physical">Of physical demand.</param>
/// <param name="Temporal">Of temporal demand.</param>
/// <param name="Performance">Of performance.</param>
/// <param name="Effort">Of effort.</param>
/// <param name="Frustration">Of frustration.</param>
public sealed record TaskLoadWeights(int Mental, int Physical, int Temporal, int Performance, int Effort, int Frustration)
{
    /// <summary>Pairs of six.</summary>
    public const int Pairs = 15;

    /// <summary>What is impossible in it, one sentence; null when nothing is.</summary>
    public string? Problem()
    {
        // The k that were picked least have been compared with each other at least: k(k − 1)/2 picks between them (Landau, 1953).
        var counts = Counts().Order().ToArray();
        var picked = 0;
        for (var k = 1; k <= counts.Length; k++)
        {
            picked += counts[k - 1];
            if (picked < k * (k - 1) / 2)
                return Impossible;
        }

        return picked == Pairs && counts[0] >= 0 ? null : Impossible;
    }

    private const string Impossible = "These weights come of no fifteen pairs, in which each of the six scales meets each other once.";

    internal int[] Counts() => [Mental, Physical, Temporal, Performance, Effort, Frustration];
}
