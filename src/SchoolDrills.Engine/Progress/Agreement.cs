using MathNet.Numerics.Distributions;

namespace SchoolDrills.Engine.Progress;

/// <summary>How far two who grade the same attempts agree beyond chance.</summary>
/// <remarks>
/// Cohen's kappa with quadratic weights: two grades apart count four times one apart (Cohen, J., "Weighted kappa", Psychological
/// Bulletin 70, 1968, 213–220). Its standard error is that of Fleiss, J. L., Cohen, J., Everitt, B. S., "Large sample standard errors of
/// kappa and weighted kappa", Psychological Bulletin 72, 1969, 323–327; half a pair spread as chance would is added, or grades that
/// agree throughout would seem certain to agree for ever. Both from memory, checked against an example and by simulation.
/// </remarks>
/// <param name="Shared">Attempts that both graded.</param>
/// <param name="Kappa">1 full agreement, 0 as by chance; null where it is not given.</param>
/// <param name="Interval">Its 80 % interval.</param>
/// <param name="Reason">Why it is not given.</param>
public sealed record Agreement(int Shared, double? Kappa, Interval? Interval, string? Reason)
{
    /// <summary>The agreement of two over attempts.</summary>
    /// <param name="pairs">The two grades of each shared attempt, as places in the scale from 0.</param>
    /// <param name="grades">Grades of the scale, at least 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">A scale of fewer than two grades, or a grade outside it.</exception>
    public static Agreement Of(IReadOnlyList<(int First, int Second)> pairs, int grades)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(grades, 2);
        if (pairs.Count < ProgressModel.FewestShared)
            return new(pairs.Count, null, null, ProgressModel.TooLittle(pairs.Count, ProgressModel.FewestShared));
        var table = Table(pairs, grades);
        if (KappaOf(table) is not { } kappa)
            return new(pairs.Count, null, null, "all grades are the same, so chance agreement cannot be told apart");
        var half = StudentT.InvCDF(0, 1, pairs.Count - 1, 1 - ProgressModel.Tail) * StandardError(table, pairs.Count);
        return new(pairs.Count, kappa, new(Math.Max(-1, kappa - half), Math.Min(1, kappa + half)), null);
    }

    /// <summary>Weighted kappa of a table of shares; null where both give one and the same grade always.</summary>
    internal static double? KappaOf(double[,] table)
    {
        var (observed, expected) = (0.0, 0.0);
        var (rows, columns) = Margins(table);
        for (var i = 0; i < rows.Length; i++)
        {
            for (var j = 0; j < rows.Length; j++)
            {
                observed += Weight(i, j, rows.Length) * table[i, j];
                expected += Weight(i, j, rows.Length) * rows[i] * columns[j];
            }
        }

        return expected > 1 - 1e-12 ? null : (observed - expected) / (1 - expected);
    }

    /// <summary>Standard error of the weighted kappa of a table of shares.</summary>
    internal static double StandardError(double[,] table, int pairs)
    {
        var grades = table.GetLength(0);
        var (rows, columns) = Margins(table);
        var smooth = new double[grades, grades];
        for (var i = 0; i < grades; i++)
        {
            for (var j = 0; j < grades; j++)
                smooth[i, j] = ((pairs * table[i, j]) + (0.5 * rows[i] * columns[j])) / (pairs + 0.5);
        }

        return Math.Sqrt(Variance(smooth) / pairs);
    }

    /// <summary>Variance of kappa for one pair.</summary>
    internal static double Variance(double[,] table)
    {
        var grades = table.GetLength(0);
        var (rows, columns) = Margins(table);
        var all = Enumerable.Range(0, grades).ToList();
        var ofRow = all.ConvertAll(i => all.Sum(j => columns[j] * Weight(i, j, grades)));
        var ofColumn = all.ConvertAll(j => all.Sum(i => rows[i] * Weight(i, j, grades)));
        var expected = all.Sum(i => rows[i] * ofRow[i]);
        var kappa = KappaOf(table) ?? 1;
        var sum = 0.0;
        for (var i = 0; i < grades; i++)
        {
            for (var j = 0; j < grades; j++)
            {
                var off = Weight(i, j, grades) - ((ofRow[i] + ofColumn[j]) * (1 - kappa));
                sum += table[i, j] * off * off;
            }
        }

        var mean = kappa - (expected * (1 - kappa));
        return Math.Max(0, sum - (mean * mean)) / ((1 - expected) * (1 - expected));
    }

    private static double[,] Table(IReadOnlyList<(int First, int Second)> pairs, int grades)
    {
        var table = new double[grades, grades];
        foreach (var (first, second) in pairs)
        {
            if (first < 0 || first >= grades || second < 0 || second >= grades)
                throw new ArgumentOutOfRangeException(nameof(pairs), (first, second), $"Grades are 0 to {grades - 1}.");
            table[first, second] += 1.0 / pairs.Count;
        }

        return table;
    }

    private static (double[] Rows, double[] Columns) Margins(double[,] table)
    {
        var all = Enumerable.Range(0, table.GetLength(0)).ToList();
        return ([.. all.Select(i => all.Sum(j => table[i, j]))], [.. all.Select(j => all.Sum(i => table[i, j]))]);
    }

    private static double Weight(int first, int second, int grades)
    {
        var apart = (first - second) / (grades - 1.0);
        return 1 - (apart * apart);
    }
}
