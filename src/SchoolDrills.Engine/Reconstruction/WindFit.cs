using MathNet.Numerics.LinearAlgebra;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// Fits wind and airspeed to ground velocities by robust Gauss–Newton. In turns the tips of the ground velocity lie on a circle about
/// the wind whose radius is the true airspeed. The pilot holds one indicated airspeed and corrects deviations within some ten seconds.
/// </summary>
/// <remarks>
/// Unknowns: wind toward east and north at the reference altitude, knots, and their change per 1,000 ft; the mean error of the held
/// airspeed, knots; what a climb of 500 ft/min and a standard-rate turn cost of the airspeed, knots; the heading error that all straights
/// share, radians.
/// How the airspeed moves about the held one is <see cref="AirspeedProcess"/>'s: what a pilot does with it must not pull the wind.
/// </remarks>
internal sealed class WindFit
{
    private const int WindEast = 0,
        WindNorth = 1,
        EastPerKft = 2,
        NorthPerKft = 3,
        AirspeedOffset = 4,
        ClimbCost = 5,
        TurnCost = 6,
        HeadingOffset = 7,
        Unknowns = 8;

    private const double UsualHeadingRad = WindModel.UsualHeadingDeviationDeg * Math.PI / 180;

    private readonly AirBlocks blocks;
    private readonly IReadOnlyList<Straight> straights;
    private readonly WindInformation prior;
    private readonly AirspeedProcess airspeed;
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
        airspeed = new AirspeedProcess(blocks.All, blocks.Planned ? 0 : WindModel.LevelPerRootS);
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
        const int wind = WindInformation.Parts,
            others = Unknowns - wind;
        var across = normal.SubMatrix(0, wind, wind, others);
        var precision =
            normal.SubMatrix(0, wind, 0, wind)
            - (across * normal.SubMatrix(wind, others, wind, others).Cholesky().Solve(across.Transpose()));
        var weighted = precision * solution.SubVector(0, wind);
        var scale = 1 / (SigmaFactor * SigmaFactor);
        return new WindInformation((scale * precision) - prior.Precision, (scale * weighted) - prior.Weighted, blocks.ReferenceAltitudeFt);
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

    private double SigmaFactor => blocks.Planned ? WindModel.PlannedSigmaFactor : WindModel.SigmaFactor;

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
        var scale = SigmaFactor * SigmaFactor;
        for (var a = 0; a < WindInformation.Parts; a++)
        {
            right[a] += scale * prior.Weighted[a];
            for (var b = 0; b < WindInformation.Parts; b++)
            {
                products[(a * Unknowns) + b] += scale * prior.Precision[a, b];
                right[a] -= scale * prior.Precision[a, b] * solution[b];
            }
        }

        ReadOnlySpan<double> sigma =
        [
            blocks.Planned ? WindModel.PlannedAirspeedSigmaKt : WindModel.UnplannedAirspeedSigmaKt,
            WindModel.PriorCostKt,
            WindModel.PriorCostKt,
            Math.PI,
        ];
        for (var k = WindInformation.Parts; k < Unknowns; k++)
        {
            var precision = 1 / (sigma[k - WindInformation.Parts] * sigma[k - WindInformation.Parts]);
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
            double sum = WindModel.UsualDeviationWeight * WindModel.UsualAirspeedDeviationKt * WindModel.UsualAirspeedDeviationKt,
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
                deviationKt = Math.Max(WindModel.LeastAirspeedDeviationKt, Math.Sqrt(sum / count));
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
        var (east, north, speed) = Air(b.EastKt, b.NorthKt, b.Kft);
        var scale = 1 / (speed * b.TrueOverIndicated);
        ReadOnlySpan<double> slopes =
        [
            -east * scale,
            -north * scale,
            -east * scale * b.Kft,
            -north * scale * b.Kft,
            -1,
            b.Climb,
            b.Turn,
            0,
        ];
        slopes.CopyTo(row);
        return (speed / b.TrueOverIndicated)
            - b.PlannedKt
            - solution[AirspeedOffset]
            + (solution[ClimbCost] * b.Climb)
            + (solution[TurnCost] * b.Turn);
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
            errors[i] = (error, [perEast, perNorth, perEast * s.Kft, perNorth * s.Kft, 0, 0, 0, -1]);
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
