using System.Buffers;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Latitude and longitude in one cell: <c>41.5,-99.5</c>, <c>(41.5; -99.5)</c>, <c>N41 30.0 W099 30.0</c>.</summary>
internal sealed class CsvPair
{
    private static readonly SearchValues<char> Letters = SearchValues.Create("NSEWnsew");

    private readonly bool lonFirst;

    /// <param name="name">Name of the column, which may say that the longitude comes first.</param>
    /// <param name="cells">Cells of the first records.</param>
    public CsvPair(string name, IReadOnlyList<string> cells)
    {
        Point = cells.Count > 0 && cells.All(c => !c.Contains('.') && c.Count(letter => letter == ',') > 1) ? ',' : '.';
        var (lat, lon) = (At(name, "lat"), Math.Min(At(name, "lon"), At(name, "lng")));
        // Where the name does not say, a first value beyond a pole does.
        lonFirst =
            lon < lat
            || lat == lon
                && cells.Any(c =>
                    TrySplit(c, out var first, out _) && CsvPositions.TryParse(first, default, Point, out var d) && Math.Abs(d) > 90
                );
    }

    /// <summary>The decimal separator.</summary>
    public char Point { get; }

    public bool TryParse(ReadOnlySpan<char> cell, out double latDeg, out double lonDeg)
    {
        latDeg = lonDeg = double.NaN;
        return TrySplit(cell, out var first, out var second)
            && CsvPositions.TryParse(lonFirst ? second : first, default, Point, out latDeg)
            && CsvPositions.TryParse(lonFirst ? first : second, default, Point, out lonDeg);
    }

    private static int At(string name, string word) =>
        name.IndexOf(word, StringComparison.OrdinalIgnoreCase) is var at and >= 0 ? at : int.MaxValue;

    private bool TrySplit(ReadOnlySpan<char> cell, out ReadOnlySpan<char> first, out ReadOnlySpan<char> second)
    {
        first = second = default;
        cell = cell.Trim().Trim("()[]{}\"").Trim();
        var at = cell.IndexOfAny(";|/");
        if (at < 0 && Point != ',')
            at = cell.IndexOf(',');
        if (at < 0)
            at = cell.Count(' ') == 1 ? cell.IndexOf(' ') : BetweenLetters(cell);
        if (at <= 0)
            return false;
        first = cell[..at].Trim();
        second = cell[at..].TrimStart(";|/, ");
        return second.Length > 0;
    }

    /// <summary>Where the letters stand before the numbers the second begins with its letter, else the first ends with its own.</summary>
    private static int BetweenLetters(ReadOnlySpan<char> cell)
    {
        if (cell.IsEmpty)
            return -1;
        var before = cell[..1].IndexOfAny(Letters) == 0;
        var next = cell[1..].IndexOfAny(Letters);
        return next < 0 ? -1
            : before ? next + 1
            : next + 2 < cell.Length ? next + 2
            : -1;
    }
}
