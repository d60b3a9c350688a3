using MathNet.Numerics.LinearAlgebra;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// Fits wind and airspeed to ground velocities by robust Gauss–Newton. In turns the tips of the ground velocity lie on a circle about
/// the wind whose radius is the true airspeed. The pilot holds one indicated airspeed and corrects deviations within some ten seconds.
/// </summary>
/// <remarks>
/// Unknowns: wind toward east and north at the reference altitude, knots, and their change per 1,000 ft; the mean error of the held
/// airspeed, knots, or the steady error of a recorded airspeed or heading, in units of its prior sigma; what a climb of 500 ft/min,
/// a climb or descent of that and a standard-rate turn cost of the airspeed, knots; the heading error that all straights share, radians.
/// How the airspeed moves about the held one is <see cref="AirspeedProcess"/>'s: what a pilot does with it must not pull the wind. Where
/// the heading is recorded, the same process has the speed across it, which is 0 in the air.
/// </remarks>
internal sealed class WindFit
{
    private const int WindEast = 0,
        WindNorth = 1,
        EastPerKft = 2,
        NorthPerKft = 3,
        SteadyError = 4,
        ClimbCost = 5,
        ClimbOrDescentCost = 6,
        TurnCost = 7,
        HeadingOffset = 8,
        Unknowns = 9;

    private const double UsualHeadingRad = WindModel.UsualHeadingDeviationDeg * Math.PI / 180;

    private readonly AirBlocks blocks;
    private readonly IReadOnlyList<Straight> straights;
    private readonly WindInformation prior;
    private readonly AirspeedProcess airspeed;
    private readonly HoldingModel holding;
    private readonly int shared;
    private readonly double[] residual,
        innovation;
    private readonly double[] rows,
        innovationRows;
    private readonly double[] products = new double[Unknowns * Unknowns];
    private readonly Vector<double> solution = Vector<double>.Build.Dense(Unknowns);
    private Matrix<double> normal = Matrix<double>.Build.Dense(Unknowns, Unknowns);
    private double deviationKt = WindModel.FirstAirspeedDeviationKt;
    private double headingRad = UsualHeadingRad;

    private WindFit(AirBlocks blocks, IReadOnlyList<Straight> straights, WindInformation prior)
    {
        (this.blocks, this.straights, this.prior) = (blocks, straights, prior);
        var n = blocks.All.Count;
        holding = HoldingModel.Of(blocks.Evidence);
        airspeed = new AirspeedProcess(blocks.All, holding.LevelPerRootS);
        // A recording shares the steady error of what it records; how an airspeed is held is a stretch's own.
        shared = blocks.IsRecorded ? WindInformation.Parts : WindInformation.WindParts;
        (residual, innovation) = (new double[n], new double[n]);
        (rows, innovationRows) = (new double[n * Unknowns], new double[n * Unknowns]);
    }

    /// <summary>Mean ground velocity of a straight with the heading to hold in it.</summary>
    /// <param name="EastKt">Velocity toward east, knots.</param>
    /// <param name="NorthKt">Velocity toward north, knots.</param>
    /// <param name="Kft">Height above the reference, thousands of feet.</param>
    /// <param name="HeadingRad">Heading to hold, radians.</param>
    public readonly record struct Straight(double EastKt, double NorthKt, double Kft, double HeadingRad);

    /// <summary>Solves the wind.</summary>
    /// <param name="blocks">Ground velocities.</param>
    /// <param name="straights">Straights with known headings.</param>
    /// <param name="prior">What is known of the wind at their altitude besides; without it a fit may end far from the wind.</param>
    /// <returns>What the blocks alone show of the wind, at their reference altitude.</returns>
    public static WindInformation Solve(AirBlocks blocks, IReadOnlyList<Straight> straights, WindInformation prior)
    {
        var fit = new WindFit(blocks, straights, prior);
        for (var round = 0; round < 30; round++)
        {
            // The first rounds weight all blocks equally: far from the solution everything looks like an outlier.
            if (round == 3)
                fit.BeginHeadings();
            if (fit.Step(robust: round >= 3) < 3e-3 && round > 3)
                break;
        }

        return fit.Shown();
    }

    /// <summary>What the blocks show of the wind by themselves, whatever airspeed and costs are.</summary>
    private WindInformation Shown()
    {
        var others = Unknowns - shared;
        var across = normal.SubMatrix(0, shared, shared, others);
        var precision =
            normal.SubMatrix(0, shared, 0, shared)
            - (across * normal.SubMatrix(shared, others, shared, others).Cholesky().Solve(across.Transpose()));
        var weighted = precision * solution.SubVector(0, shared);
        var scale = 1 / (holding.SigmaFactor * holding.SigmaFactor);
        var shown = Matrix<double>.Build.Dense(WindInformation.Parts, WindInformation.Parts);
        shown.SetSubMatrix(0, 0, (scale * precision) - prior.Precision.SubMatrix(0, shared, 0, shared));
        var shownWeighted = Vector<double>.Build.Dense(WindInformation.Parts);
        shownWeighted.SetSubVector(0, shared, (scale * weighted) - prior.Weighted.SubVector(0, shared));
        var directedKt = blocks.Evidence == AirEvidence.None ? WindModel.DirectedClimbKt * blocks.DirectedClimbSquare() : 0;
        return new WindInformation(shown, shownWeighted, blocks.ReferenceAltitudeFt).Doubted(directedKt);
    }

    /// <summary>Starts the shared heading error at the mean difference of flown and planned headings.</summary>
    private void BeginHeadings()
    {
        double sin = 0,
            cos = 0;
        foreach (var s in straights)
        {
            var (east, north, _) = Air(s.EastKt, s.NorthKt, s.Kft);
            var (sine, cosine) = Math.SinCos(Math.Atan2(east, north) - s.HeadingRad);
            sin += sine;
            cos += cosine;
        }

        solution[HeadingOffset] = Math.Atan2(sin, cos);
    }

    private double Step(bool robust)
    {
        Array.Clear(products);
        var right = Vector<double>.Build.Dense(Unknowns);
        AddPriors(right);
        AddAirspeeds(right, robust);
        if (robust)
            AddHeadings(right);
        normal = Matrix<double>.Build.Dense(Unknowns, Unknowns, [.. products]);
        var step = normal.Cholesky().Solve(right);
        solution.Add(step, solution);
        return step.AbsoluteMaximum();
    }

    private void AddPriors(Vector<double> right)
    {
        // The blocks count for more here than their sigma says in the end, and so does the prior.
        var scale = holding.SigmaFactor * holding.SigmaFactor;
        for (var a = 0; a < shared; a++)
        {
            right[a] += scale * prior.Weighted[a];
            for (var b = 0; b < shared; b++)
            {
                products[(a * Unknowns) + b] += scale * prior.Precision[a, b];
                right[a] -= scale * prior.Precision[a, b] * solution[b];
            }
        }

        ReadOnlySpan<double> sigma = [holding.HeldSigmaKt, holding.ClimbSigmaKt, holding.ClimbSigmaKt, WindModel.PriorCostKt, Math.PI];
        for (var k = shared; k < Unknowns; k++)
        {
            var sigmaOf = sigma[k - WindInformation.WindParts];
            var precision = 1 / (sigmaOf * sigmaOf);
            products[(k * Unknowns) + k] += precision;
            right[k] -= precision * solution[k];
        }
    }

    /// <summary>Innovations of the airspeed: each block against what the blocks before it let expect.</summary>
    private void AddAirspeeds(Vector<double> right, bool robust)
    {
        var n = blocks.All.Count;
        for (var i = 0; i < n; i++)
            residual[i] = Residual(blocks.All[i], rows.AsSpan(i * Unknowns, Unknowns));

        var group = (int)Math.Max(1, Math.Round(WindModel.DeviationGroupS / blocks.StepS));
        for (var pass = 0; pass < 3; pass++)
        {
            airspeed.Prepare(WindModel.BlockSigmaKt * WindModel.BlockSigmaKt / (deviationKt * deviationKt));
            airspeed.Whiten(residual, innovation, 1, 0);
            double sum = WindModel.UsualDeviationWeight * holding.UsualKt * holding.UsualKt,
                count = WindModel.UsualDeviationWeight;
            for (var from = 0; from < n; from += group)
            {
                var to = Math.Min(n, from + group);
                double squares = 0;
                for (var i = from; i < to; i++)
                    squares += innovation[i] * innovation[i] / (airspeed.QuietShare[i] * deviationKt * deviationKt);
                var unrest = robust ? (WindModel.AirspeedFreedom + squares) / (WindModel.AirspeedFreedom + to - from) : 1;
                for (var i = from; i < to; i++)
                {
                    airspeed.Unrest[i] = unrest;
                    sum += innovation[i] * innovation[i] / (unrest * airspeed.QuietShare[i]);
                    count++;
                }
            }

            if (pass < 2)
                deviationKt = Math.Max(holding.LeastKt, Math.Sqrt(sum / count));
        }

        for (var k = 0; k < Unknowns; k++)
            airspeed.Whiten(rows, innovationRows, Unknowns, k);
        for (var i = 0; i < n; i++)
        {
            AddRow(
                right,
                innovationRows.AsSpan(i * Unknowns, Unknowns),
                innovation[i],
                1 / (airspeed.InnovationShare[i] * deviationKt * deviationKt)
            );
        }
    }

    private double Residual(in AirBlocks.Block b, Span<double> row)
    {
        if (blocks.Evidence == AirEvidence.RecordedHeading)
            return Across(b, row);
        var (east, north, speed) = Air(b.EastKt, b.NorthKt, b.Kft);
        var scale = 1 / (speed * b.TrueOverIndicated);
        var steady = blocks.Evidence == AirEvidence.RecordedAirspeed ? WindModel.AirspeedErrorShare * b.HeldKt : 1;
        return Linear(
            (speed / b.TrueOverIndicated) - b.HeldKt,
            [
                -east * scale,
                -north * scale,
                -east * scale * b.Kft,
                -north * scale * b.Kft,
                -steady,
                b.Climb,
                blocks.Evidence == AirEvidence.None ? Math.Abs(b.Climb) : 0,
                Math.Abs(b.Turn),
                0,
            ],
            row
        );
    }

    /// <summary>Speed through the air across the recorded heading, to the right, knots: nothing but error.</summary>
    private double Across(in AirBlocks.Block b, Span<double> row)
    {
        var (east, north, _) = Air(b.EastKt, b.NorthKt, b.Kft);
        var (sin, cos) = Math.SinCos(b.HeadingRad);
        var steady = WindModel.HeadingErrorDeg * Math.PI / 180 * ((east * sin) + (north * cos));
        return Linear((east * cos) - (north * sin), [-cos, sin, -cos * b.Kft, sin * b.Kft, -steady, b.Climb, 0, b.Turn, 0], row);
    }

    /// <summary>A residual with what is linear in the unknowns beside the wind.</summary>
    private double Linear(double residualKt, ReadOnlySpan<double> slopes, Span<double> row)
    {
        slopes.CopyTo(row);
        for (var k = SteadyError; k <= TurnCost; k++)
            residualKt += slopes[k] * solution[k];
        return residualKt;
    }

    private void AddHeadings(Vector<double> right)
    {
        var errors = new (double Value, double[] Row)[straights.Count];
        for (var i = 0; i < errors.Length; i++)
        {
            var s = straights[i];
            var (east, north, speed) = Air(s.EastKt, s.NorthKt, s.Kft);
            var error = Math.IEEERemainder(Math.Atan2(east, north) - s.HeadingRad - solution[HeadingOffset], 2 * Math.PI);
            double perEast = -north / (speed * speed),
                perNorth = east / (speed * speed);
            errors[i] = (error, [perEast, perNorth, perEast * s.Kft, perNorth * s.Kft, 0, 0, 0, 0, -1]);
        }

        double sum = WindModel.UsualDeviationWeight * UsualHeadingRad * UsualHeadingRad,
            count = WindModel.UsualDeviationWeight;
        foreach (var (value, _) in errors)
        {
            sum += Shrink(value) * value * value;
            count++;
        }

        headingRad = Math.Sqrt(sum / count);
        foreach (var (value, row) in errors)
            AddRow(right, row, value, Shrink(value) / (headingRad * headingRad));

        double Shrink(double value) =>
            (WindModel.HeadingFreedom + 1) / (WindModel.HeadingFreedom + (value * value / (headingRad * headingRad)));
    }

    private (double East, double North, double Speed) Air(double eastKt, double northKt, double kft)
    {
        var east = eastKt - solution[WindEast] - (solution[EastPerKft] * kft);
        var north = northKt - solution[WindNorth] - (solution[NorthPerKft] * kft);
        return (east, north, Math.Max(1, Math.Sqrt((east * east) + (north * north))));
    }

    private void AddRow(Vector<double> right, ReadOnlySpan<double> row, double error, double times)
    {
        for (var a = 0; a < Unknowns; a++)
        {
            if (row[a] == 0)
                continue;
            right[a] -= times * row[a] * error;
            for (var b = 0; b < Unknowns; b++)
                products[(a * Unknowns) + b] += times * row[a] * row[b];
        }
    }
}
