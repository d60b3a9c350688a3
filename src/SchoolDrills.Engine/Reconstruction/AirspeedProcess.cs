namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// The airspeed over time as the pilot makes it: a level that stays for minutes and then moves to another, and deviations from it that are
/// corrected within some ten seconds (critically damped, Matérn of order 3/2). A Kalman filter over the blocks turns a row of residuals,
/// and any row that is linear in the unknowns, into innovations that are independent of each other.
/// </summary>
/// <remarks>
/// State: level, knots; deviation, knots; its rate, knots per second. Both are driven harder in some half minutes than in others, by
/// <see cref="Unrest"/>: one bad climb, or one change of airspeed, then does not pass for wind.
/// </remarks>
internal sealed class AirspeedProcess
{
    private const int States = 3;

    /// <summary>Rate of decay of a deviation, 1/s, and the stationary variance of its rate where its own is 1.</summary>
    private const double Lambda = 1 / WindModel.CorrectionS,
        RateShare = Lambda * Lambda;

    private readonly Step[] steps;
    private readonly double levelPerS;
    private readonly double[] gains;
    private readonly double[,] covariance = new double[States, States];

    /// <param name="blocks">Blocks in order.</param>
    /// <param name="levelPerRootS">How much the level walks at rest, as a share of the deviation's size, per √s.</param>
    public AirspeedProcess(IReadOnlyList<AirBlocks.Block> blocks, double levelPerRootS)
    {
        var n = blocks.Count;
        levelPerS = levelPerRootS * levelPerRootS;
        steps = [.. Enumerable.Range(0, n).Select(i => new Step(i == 0 ? 0 : blocks[i].TimeS - blocks[i - 1].TimeS))];
        gains = new double[n * States];
        InnovationShare = new double[n];
        QuietShare = new double[n];
        Unrest = new double[n];
        Array.Fill(Unrest, 1);
    }

    /// <summary>How much harder than usual a block is driven: a factor on the variance.</summary>
    public double[] Unrest { get; }

    /// <summary>Variance of each innovation, in units of the squared size of a deviation.</summary>
    public double[] InnovationShare { get; }

    /// <summary>The same without unrest.</summary>
    public double[] QuietShare { get; }

    /// <summary>Finds the gains, which then serve every row.</summary>
    /// <param name="noiseShare">Variance of a block's mean in the same units.</param>
    public void Prepare(double noiseShare)
    {
        Filter(noiseShare, _ => 1, QuietShare);
        Filter(noiseShare, i => Unrest[i], InnovationShare);
    }

    /// <summary>Innovations of one column of values that stand row by row, a row a block.</summary>
    /// <param name="values">Rows of values.</param>
    /// <param name="innovations">Rows of the same shape that take the innovations.</param>
    /// <param name="width">Length of a row.</param>
    /// <param name="column">Which value of a row.</param>
    public void Whiten(ReadOnlySpan<double> values, Span<double> innovations, int width, int column)
    {
        double level = 0,
            deviation = 0,
            rate = 0;
        for (var i = 0; i < steps.Length; i++)
        {
            var step = steps[i];
            (deviation, rate) = ((step.A * deviation) + (step.B * rate), (step.C * deviation) + (step.D * rate));
            var at = (i * width) + column;
            var innovation = values[at] - level - deviation;
            innovations[at] = innovation;
            level += gains[i * States] * innovation;
            deviation += gains[(i * States) + 1] * innovation;
            rate += gains[(i * States) + 2] * innovation;
        }
    }

    private void Filter(double noiseShare, Func<int, double> unrestAt, double[] innovationShare)
    {
        Array.Clear(covariance);
        // The mean of the level is an unknown of the fit; at first the level is there.
        covariance[1, 1] = 1;
        covariance[2, 2] = RateShare;
        for (var i = 0; i < steps.Length; i++)
        {
            Predict(steps[i], unrestAt(i));
            ReadOnlySpan<double> shown =
            [
                covariance[0, 0] + covariance[0, 1],
                covariance[1, 0] + covariance[1, 1],
                covariance[2, 0] + covariance[2, 1],
            ];
            var variance = shown[0] + shown[1] + noiseShare;
            innovationShare[i] = variance;
            for (var a = 0; a < States; a++)
            {
                gains[(i * States) + a] = shown[a] / variance;
                for (var b = 0; b < States; b++)
                    covariance[a, b] -= shown[a] * shown[b] / variance;
            }
        }
    }

    /// <summary>F P Fᵀ, and what drives the level and keeps a deviation at its size.</summary>
    private void Predict(Step step, double unrest)
    {
        var (h, a, b, c, d) = step;
        for (var row = 0; row < States; row++)
        {
            var (deviation, rate) = (covariance[row, 1], covariance[row, 2]);
            (covariance[row, 1], covariance[row, 2]) = ((a * deviation) + (b * rate), (c * deviation) + (d * rate));
        }

        for (var column = 0; column < States; column++)
        {
            var (deviation, rate) = (covariance[1, column], covariance[2, column]);
            (covariance[1, column], covariance[2, column]) = ((a * deviation) + (b * rate), (c * deviation) + (d * rate));
        }

        var both = unrest * ((a * c) + (b * d * RateShare));
        covariance[0, 0] += unrest * levelPerS * h;
        covariance[1, 1] += unrest * (1 - (a * a) - (b * b * RateShare));
        covariance[2, 2] += unrest * (RateShare - (c * c) - (d * d * RateShare));
        covariance[1, 2] -= both;
        covariance[2, 1] -= both;
    }

    /// <summary>How deviation and rate go on over a step: [A B; C D].</summary>
    private readonly record struct Step(double LengthS, double A, double B, double C, double D)
    {
        public Step(double lengthS)
            : this(
                lengthS,
                Math.Exp(-Lambda * lengthS) * (1 + (Lambda * lengthS)),
                Math.Exp(-Lambda * lengthS) * lengthS,
                -Math.Exp(-Lambda * lengthS) * Lambda * Lambda * lengthS,
                Math.Exp(-Lambda * lengthS) * (1 - (Lambda * lengthS))
            ) { }
    }
}
