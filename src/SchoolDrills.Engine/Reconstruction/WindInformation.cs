using MathNet.Numerics.LinearAlgebra;

namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// What a part of a flight shows of the wind: toward east and north, knots, and the change of both with height, knots per 1,000 ft; and
/// of the steady error of a recorded airspeed or heading, which the whole recording shares. It is kept as the inverse of the covariance,
/// and that times the values, so that parts add up and one that shows nothing is zero. What was shown of the wind is worth less after some
/// time, and at another height, for the wind walks.
/// </summary>
internal sealed class WindInformation
{
    /// <summary>East, north, east per 1,000 ft, north per 1,000 ft.</summary>
    public const int WindParts = 4;

    /// <summary>The same and the steady error, in units of its prior sigma.</summary>
    public const int Parts = 5;

    private readonly double altitudeFt;

    /// <param name="precision">Inverse of the covariance.</param>
    /// <param name="weighted">That times wind and error.</param>
    /// <param name="altitudeFt">Altitude of the wind, feet.</param>
    public WindInformation(Matrix<double> precision, Vector<double> weighted, double altitudeFt) =>
        (Precision, Weighted, this.altitudeFt) = (precision, weighted, altitudeFt);

    /// <summary>Inverse of the covariance.</summary>
    public Matrix<double> Precision { get; }

    /// <summary>The inverse of the covariance times wind and error.</summary>
    public Vector<double> Weighted { get; }

    /// <summary>Nothing is shown.</summary>
    public static WindInformation None { get; } =
        new(Matrix<double>.Build.Dense(Parts, Parts), Vector<double>.Build.Dense(Parts), altitudeFt: 0);

    /// <summary>What is known of a wind before anything is shown.</summary>
    /// <param name="altitudeFt">Altitude, feet.</param>
    public static WindInformation Prior(double altitudeFt) =>
        new(
            Diagonal(1 / Square(WindModel.PriorWindKt), 1 / Square(WindModel.PriorShearKtPerKft), error: 1),
            Vector<double>.Build.Dense(Parts),
            altitudeFt
        );

    /// <summary>Both together, at the altitude of this one.</summary>
    /// <param name="other">What another part shows.</param>
    public WindInformation Plus(WindInformation other)
    {
        if (other == None || this == None)
            return other == None ? this : other;
        var moved = other.At(altitudeFt);
        return new WindInformation(Precision + moved.Precision, Weighted + moved.Weighted, altitudeFt);
    }

    /// <summary>What is still shown after the wind has walked.</summary>
    /// <param name="ageS">For how long, seconds.</param>
    public WindInformation Aged(double ageS) =>
        this == None || ageS <= 0
            ? this
            : Walked(WindModel.WalkedSquareKt(ageS), WindModel.WalkedSquareKt(ageS) * Square(WindModel.ShearWalkPerKft));

    /// <summary>What is still shown where something passes for wind.</summary>
    /// <param name="sigmaKt">Sigma of that per axis, knots.</param>
    public WindInformation Doubted(double sigmaKt) => this == None || sigmaKt == 0 ? this : Walked(Square(sigmaKt), 0);

    /// <summary>What is shown of the wind at another altitude.</summary>
    private WindInformation At(double otherFt)
    {
        if (otherFt == altitudeFt)
            return this;
        var kft = (altitudeFt - otherFt) / 1000;
        var walked = Walked(Square(WindModel.WalkKtPerRootKft) * Math.Abs(kft), 0);
        var shift = Matrix<double>.Build.DenseIdentity(Parts);
        shift[0, 2] = shift[1, 3] = kft;
        return new WindInformation(
            shift.TransposeThisAndMultiply(walked.Precision * shift),
            shift.TransposeThisAndMultiply(walked.Weighted),
            otherFt
        );
    }

    /// <summary>(P + Q)⁻¹ from P⁻¹, which may have no inverse.</summary>
    private WindInformation Walked(double windSquareKt, double shearSquare)
    {
        var kept = (Matrix<double>.Build.DenseIdentity(Parts) + (Diagonal(windSquareKt, shearSquare, error: 0) * Precision)).Inverse();
        return new WindInformation(Precision * kept, kept.TransposeThisAndMultiply(Weighted), altitudeFt);
    }

    /// <summary>The wind that is most likely, with its sigma; there must be a prior in it.</summary>
    /// <param name="unsteadySquareKt">Variance of the wind itself about it, per axis, square knots.</param>
    public WindField Field(double unsteadySquareKt)
    {
        var covariance = Precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(Parts));
        var wind = covariance * Weighted;
        return new WindField(
            wind[0],
            wind[1],
            wind[2],
            wind[3],
            altitudeFt,
            Math.Sqrt(Widest(covariance, 0) + unsteadySquareKt),
            WindSource.Turns
        )
        {
            SigmaPerKft = Math.Sqrt(Widest(covariance, 2)),
        };
    }

    /// <summary>Variance along the axis where it is largest.</summary>
    private static double Widest(Matrix<double> covariance, int x)
    {
        var (a, b, both) = (covariance[x, x], covariance[x + 1, x + 1], covariance[x, x + 1]);
        return ((a + b) / 2) + Math.Sqrt(Square((a - b) / 2) + (both * both));
    }

    private static Matrix<double> Diagonal(double wind, double shear, double error) =>
        Matrix<double>.Build.DenseOfDiagonalArray([wind, wind, shear, shear, error]);

    private static double Square(double x) => x * x;
}
