namespace SchoolDrills.Engine.Reconstruction;

/// <summary>
/// Fixed-interval smoother of one quantity: a Kalman filter forward and the Rauch-Tung-Striebel recursion backward, over a state of
/// value, rate and acceleration driven by white jerk. Samples may be uneven; it starts again after a gap.
/// </summary>
/// <remarks>
/// Source: H. E. Rauch, F. Tung, C. T. Striebel, "Maximum likelihood estimates of linear dynamic systems", AIAA Journal 3 (1965).
/// The error of satellite positions changes slowly and is not white, so samples closer together than a second carry only their share of a
/// second's information: their sigma is widened by the square root of their number in a second.
/// </remarks>
public static class Smoother
{
    /// <summary>Smooths one column.</summary>
    /// <param name="timeS">Times, seconds, strictly rising.</param>
    /// <param name="values">Measured values, NaN where none.</param>
    /// <param name="sigma">One standard deviation of a measurement taken once a second, in the value's unit.</param>
    /// <param name="jerk">Spectral density of the driving jerk, unit/s³ per √Hz: how fast the acceleration may change.</param>
    /// <param name="gapS">Time between samples beyond which nothing is carried over, seconds.</param>
    public static SmoothColumn Smooth(ReadOnlySpan<double> timeS, ReadOnlySpan<double> values, double sigma, double jerk, double gapS)
    {
        var column = new SmoothColumn(timeS.Length);
        for (var from = 0; from < timeS.Length; )
        {
            var to = from + 1;
            while (to < timeS.Length && timeS[to] - timeS[to - 1] <= gapS)
                to++;
            SmoothRun(timeS[from..to], values[from..to], sigma, jerk, column, from);
            from = to;
        }

        return column;
    }

    private static void SmoothRun(
        ReadOnlySpan<double> timeS,
        ReadOnlySpan<double> values,
        double sigma,
        double jerk,
        SmoothColumn column,
        int offset
    )
    {
        var n = timeS.Length;
        var first = 0;
        while (first < n && !double.IsFinite(values[first]))
            first++;
        if (first == n)
        {
            column.Fill(offset, n, double.NaN);
            return;
        }

        var filtered = new State[n];
        var predicted = new State[n];
        var second = Math.Min(n - 1, first + 3);
        while (second > first && !double.IsFinite(values[second]))
            second--;
        var firstRate = second > first ? (values[second] - values[first]) / (timeS[second] - timeS[first]) : 0;
        var state = First(values[first], firstRate, sigma);
        for (var i = 0; i < n; i++)
        {
            if (i > 0)
                state = Predict(state, timeS[i] - timeS[i - 1], jerk);
            predicted[i] = state;
            if (double.IsFinite(values[i]))
            {
                var spacingS =
                    i > 0 ? timeS[i] - timeS[i - 1]
                    : n > 1 ? timeS[1] - timeS[0]
                    : 1;
                state = Update(state, values[i], Variance(sigma, spacingS));
            }

            filtered[i] = state;
        }

        var smoothed = filtered[n - 1];
        column.Put(offset + n - 1, smoothed);
        for (var i = n - 2; i >= 0; i--)
        {
            smoothed = Back(filtered[i], predicted[i + 1], smoothed, timeS[i + 1] - timeS[i]);
            column.Put(offset + i, smoothed);
        }
    }

    /// <summary>Variance of a measurement, given the seconds since the one before.</summary>
    internal static double Variance(double sigma, double spacingS) => sigma * sigma / Math.Min(1, Math.Max(spacingS, 1e-3));

    /// <summary>A first state uncertain enough for the data to decide, yet not so wide that the backward recursion loses digits.</summary>
    internal static State First(double value, double rate, double sigma)
    {
        var wide = 400 * sigma * sigma;
        return new State(value, rate, 0, wide, 0, 0, wide, 0, wide);
    }

    internal static State Predict(in State s, double dt, double jerk)
    {
        var h = dt * dt / 2;
        double q = jerk * jerk,
            dt2 = dt * dt,
            dt3 = dt2 * dt,
            dt4 = dt3 * dt,
            dt5 = dt4 * dt;
        // F P Fᵀ written out for F = [1 dt dt²/2; 0 1 dt; 0 0 1].
        var p0 = s.Pvv + (dt * s.Pvr) + (h * s.Pva);
        var p1 = s.Pvr + (dt * s.Prr) + (h * s.Pra);
        var p2 = s.Pva + (dt * s.Pra) + (h * s.Paa);
        var r1 = s.Prr + (dt * s.Pra);
        var r2 = s.Pra + (dt * s.Paa);
        return new State(
            s.Value + (dt * s.Rate) + (h * s.Acceleration),
            s.Rate + (dt * s.Acceleration),
            s.Acceleration,
            p0 + (dt * p1) + (h * p2) + (q * dt5 / 20),
            p1 + (dt * p2) + (q * dt4 / 8),
            p2 + (q * dt3 / 6),
            r1 + (dt * r2) + (q * dt3 / 3),
            r2 + (q * dt2 / 2),
            s.Paa + (q * dt)
        );
    }

    internal static State Update(in State s, double measured, double variance)
    {
        var total = s.Pvv + variance;
        double k0 = s.Pvv / total,
            k1 = s.Pvr / total,
            k2 = s.Pva / total;
        var innovation = measured - s.Value;
        return new State(
            s.Value + (k0 * innovation),
            s.Rate + (k1 * innovation),
            s.Acceleration + (k2 * innovation),
            (1 - k0) * s.Pvv,
            (1 - k0) * s.Pvr,
            (1 - k0) * s.Pva,
            s.Prr - (k1 * s.Pvr),
            s.Pra - (k1 * s.Pva),
            s.Paa - (k2 * s.Pva)
        );
    }

    /// <summary>One step of the backward recursion: G = P Fᵀ P̂⁻¹, x + G (x̄ − x̂), P + G (P̄ − P̂) Gᵀ.</summary>
    private static State Back(in State now, in State next, in State nextSmoothed, double dt)
    {
        var h = dt * dt / 2;
        // A = P Fᵀ, row by row.
        double a00 = now.Pvv + (dt * now.Pvr) + (h * now.Pva),
            a01 = now.Pvr + (dt * now.Pva),
            a02 = now.Pva;
        double a10 = now.Pvr + (dt * now.Prr) + (h * now.Pra),
            a11 = now.Prr + (dt * now.Pra),
            a12 = now.Pra;
        double a20 = now.Pva + (dt * now.Pra) + (h * now.Paa),
            a21 = now.Pra + (dt * now.Paa),
            a22 = now.Paa;

        // Inverse of the symmetric predicted covariance by cofactors.
        double c00 = (next.Prr * next.Paa) - (next.Pra * next.Pra),
            c01 = (next.Pva * next.Pra) - (next.Pvr * next.Paa),
            c02 = (next.Pvr * next.Pra) - (next.Pva * next.Prr);
        double c11 = (next.Pvv * next.Paa) - (next.Pva * next.Pva),
            c12 = (next.Pvr * next.Pva) - (next.Pvv * next.Pra),
            c22 = (next.Pvv * next.Prr) - (next.Pvr * next.Pvr);
        var det = (next.Pvv * c00) + (next.Pvr * c01) + (next.Pva * c02);
        if (!(det > 0))
            return now;
        double i00 = c00 / det,
            i01 = c01 / det,
            i02 = c02 / det,
            i11 = c11 / det,
            i12 = c12 / det,
            i22 = c22 / det;

        double g00 = (a00 * i00) + (a01 * i01) + (a02 * i02),
            g01 = (a00 * i01) + (a01 * i11) + (a02 * i12),
            g02 = (a00 * i02) + (a01 * i12) + (a02 * i22);
        double g10 = (a10 * i00) + (a11 * i01) + (a12 * i02),
            g11 = (a10 * i01) + (a11 * i11) + (a12 * i12),
            g12 = (a10 * i02) + (a11 * i12) + (a12 * i22);
        double g20 = (a20 * i00) + (a21 * i01) + (a22 * i02),
            g21 = (a20 * i01) + (a21 * i11) + (a22 * i12),
            g22 = (a20 * i02) + (a21 * i12) + (a22 * i22);

        double x0 = nextSmoothed.Value - next.Value,
            x1 = nextSmoothed.Rate - next.Rate,
            x2 = nextSmoothed.Acceleration - next.Acceleration;
        double d00 = nextSmoothed.Pvv - next.Pvv,
            d01 = nextSmoothed.Pvr - next.Pvr,
            d02 = nextSmoothed.Pva - next.Pva;
        double d11 = nextSmoothed.Prr - next.Prr,
            d12 = nextSmoothed.Pra - next.Pra,
            d22 = nextSmoothed.Paa - next.Paa;

        return new State(
            now.Value + (g00 * x0) + (g01 * x1) + (g02 * x2),
            now.Rate + (g10 * x0) + (g11 * x1) + (g12 * x2),
            now.Acceleration + (g20 * x0) + (g21 * x1) + (g22 * x2),
            now.Pvv + Quadratic(g00, g01, g02, g00, g01, g02),
            now.Pvr + Quadratic(g00, g01, g02, g10, g11, g12),
            now.Pva + Quadratic(g00, g01, g02, g20, g21, g22),
            now.Prr + Quadratic(g10, g11, g12, g10, g11, g12),
            now.Pra + Quadratic(g10, g11, g12, g20, g21, g22),
            now.Paa + Quadratic(g20, g21, g22, g20, g21, g22)
        );

        double Quadratic(double u0, double u1, double u2, double w0, double w1, double w2) =>
            (u0 * ((d00 * w0) + (d01 * w1) + (d02 * w2)))
            + (u1 * ((d01 * w0) + (d11 * w1) + (d12 * w2)))
            + (u2 * ((d02 * w0) + (d12 * w1) + (d22 * w2)));
    }

    /// <summary>Value, rate and acceleration with the upper triangle of their covariance.</summary>
    internal readonly record struct State(
        double Value,
        double Rate,
        double Acceleration,
        double Pvv,
        double Pvr,
        double Pva,
        double Prr,
        double Pra,
        double Paa
    );
}

/// <summary>A smoothed column: value, rate and acceleration with the sigmas of the first two; NaN where nothing was measured.</summary>
/// <param name="count">Number of samples.</param>
public sealed class SmoothColumn(int count)
{
    /// <summary>Smoothed values.</summary>
    public double[] Value { get; } = new double[count];

    /// <summary>Rates of change, per second.</summary>
    public double[] Rate { get; } = new double[count];

    /// <summary>Rates of change of the rates, per second squared.</summary>
    public double[] Acceleration { get; } = new double[count];

    /// <summary>One standard deviation of <see cref="Value"/>.</summary>
    public double[] ValueSigma { get; } = new double[count];

    /// <summary>One standard deviation of <see cref="Rate"/>.</summary>
    public double[] RateSigma { get; } = new double[count];

    internal void Put(int index, in Smoother.State state)
    {
        Value[index] = state.Value;
        Rate[index] = state.Rate;
        Acceleration[index] = state.Acceleration;
        ValueSigma[index] = Math.Sqrt(Math.Max(state.Pvv, 0));
        RateSigma[index] = Math.Sqrt(Math.Max(state.Prr, 0));
    }

    internal void Fill(int from, int length, double value)
    {
        foreach (var column in (ReadOnlySpan<double[]>)[Value, Rate, Acceleration, ValueSigma, RateSigma])
            Array.Fill(column, value, from, length);
    }
}
