using System.Security.Cryptography;
using System.Text;

namespace SchoolDrills.Engine.Tracks;

/// <summary>Header of a CSV: its line, its separator, which column holds which quantity and in which unit.</summary>
internal sealed class CsvHeader
{
    private static readonly char[] Separators = [',', ';', '\t', '|'];

    private readonly HashSet<string> manual = [];
    private readonly HashSet<string> manualUnits = [];

    private CsvHeader(char separator, int lineNumber, string[] cells)
    {
        Separator = separator;
        LineNumber = lineNumber;
        Cells = cells;
        Names = Distinct(cells);
        Header = [.. cells.Select(c => new CsvHeaderCell(c))];
        Found = CsvColumns.Find(Header);
        Units = [.. Header.Select(h => h.Unit)];
    }

    public char Separator { get; }

    /// <summary>From 1.</summary>
    public int LineNumber { get; }

    public string[] Cells { get; }

    /// <summary>Name of each column as shown to people; no two are equal.</summary>
    public string[] Names { get; }

    public IReadOnlyList<CsvHeaderCell> Header { get; }

    /// <summary>Our name to the index of the column.</summary>
    public Dictionary<string, int> Found { get; }

    /// <summary>The unit of each column from the mapping, its header, else from a units row; empty where none names one.</summary>
    public string[] Units { get; }

    /// <summary>Finds, in the first lines, the one with most known or mapped columns; null when none has more than one.</summary>
    public static CsvHeader? Find(IReadOnlyList<string> lines, IReadOnlyDictionary<string, ColumnChoice>? mapping)
    {
        CsvHeader? best = null;
        var bestKnown = 1;
        foreach (var header in Candidates(lines, anyCells: mapping is not null))
        {
            var known = header.Found.Count + (mapping?.Values.Count(c => header.IndexOf(c.Column) >= 0) ?? 0);
            if (known > bestKnown)
                (best, bestKnown) = (header, known);
        }
        best?.TakeUnitsRow(lines);
        return best;
    }

    /// <summary>
    /// Without a known column name: the first line of words above a line with as many cells that are mostly numbers, to show its columns to
    /// a person; null when there is none.
    /// </summary>
    public static CsvHeader? Guess(IReadOnlyList<string> lines)
    {
        var header = Candidates(lines, anyCells: false)
            .FirstOrDefault(h =>
                h.Cells.Length >= 3
                && h.LineNumber + 1 < lines.Count
                && h.Cells.Count(IsWord) * 2 > h.Cells.Length
                && lines
                    .Skip(h.LineNumber)
                    .Take(2)
                    .Select(l => Split(l, h.Separator))
                    .Any(below => below.Length == h.Cells.Length && below.Count(c => c.Any(char.IsAsciiDigit)) * 2 > below.Length)
            );
        header?.TakeUnitsRow(lines);
        return header;

        static bool IsWord(string cell) => cell.Length > 0 && char.IsLetter(cell[0]);
    }

    /// <summary>
    /// Index of the column with this shown name, or with the one name that begins so where a sentence cut it; -1 when there is none.
    /// </summary>
    public int IndexOf(string name)
    {
        name = ShownText.Clean(name).Trim();
        var index = Array.FindIndex(Names, n => n.Equals(name, StringComparison.OrdinalIgnoreCase));
        if (index >= 0 || name.Length < ReaderLimits.ShownNameCharacters)
            return index;
        var cut = Enumerable.Range(0, Names.Length).Where(i => Names[i].StartsWith(name, StringComparison.OrdinalIgnoreCase)).ToList();
        return cut is [var one] ? one : -1;
    }

    /// <summary>A person chose the column.</summary>
    public bool IsManual(string name) => manual.Contains(name);

    /// <summary>A person chose the unit; it is not checked against the values.</summary>
    public bool UnitIsManual(string name) => manualUnits.Contains(name);

    /// <summary>
    /// Assigns a quantity to the column that a person chose; no other quantity keeps that column, but latitude and longitude may share.
    /// </summary>
    public void Take(string name, int index, string? unit, IReadOnlyList<string> chosen)
    {
        var shares = Found.GetValueOrDefault(name, -1) == index;
        foreach (var other in Found.Where(f => f.Value == index).Select(f => f.Key).ToList())
        {
            if (!chosen.Contains(other) && !(shares && CsvColumns.MayShare(name, other)))
                Found.Remove(other);
        }
        Found[name] = index;
        manual.Add(name);
        if (unit is null)
            return;
        Units[index] = unit;
        manualUnits.Add(name);
    }

    /// <summary>Takes a column for nothing after all.</summary>
    public void Leave(TrackColumn column, TrackBuilder builder)
    {
        Found.Remove(column.Name());
        builder.Remove(column);
    }

    /// <summary>Cells that all bear one unit, such as "98.470 m", name it for a column without one.</summary>
    public void TakeUnitsOfCells(IReadOnlyList<string[]> sample)
    {
        foreach (var (name, index) in Found)
        {
            if (CsvColumns.OptionalColumn(name) is not { } column || Units[index].Length > 0)
                continue;
            var units = sample
                .Where(s => s.Length > index && s[index].Length > 0)
                .Select(s => CsvValue.UnitOf(s[index]))
                .Distinct()
                .ToList();
            if (units is [{ Length: > 0 } unit] && CsvUnit.For(column, unit) is not null)
                Units[index] = unit;
        }
    }

    /// <summary>The header as a person is shown it.</summary>
    public TrackHeader Show(IReadOnlyList<string[]> sample)
    {
        // Latitude and longitude may share a column.
        var takenAs = Found.GroupBy(f => f.Value).ToDictionary(g => g.Key, g => g.Select(f => f.Key).Order().First());
        return new TrackHeader(
            LineNumber,
            Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\u001F', Cells)))),
            [
                .. Names.Select(
                    (name, i) =>
                        new HeaderColumn(
                            name,
                            [
                                .. sample
                                    .Where(s => s.Length > i && s[i].Length > 0)
                                    .Select(s => ShownText.Cut(ShownText.Clean(s[i]), ReaderLimits.ShownCharacters))
                                    .Distinct()
                                    .Take(ReaderLimits.ShownSamples),
                            ],
                            takenAs.GetValueOrDefault(i),
                            Units[i].Length > 0 ? ShownText.Clean(Units[i]) : null
                        )
                ),
            ]
        );
    }

    /// <summary>Cells of one line; quotes as in RFC 4180, so that one within a cell, as of seconds of arc, is a letter.</summary>
    public static string[] Split(string line, char separator)
    {
        var text = line.StartsWith('#') ? line[1..] : line;
        if (!text.Contains('"'))
            return [.. text.Split(separator).Select(c => c.Trim())];
        var cells = new List<string>();
        var cell = new StringBuilder();
        bool quoted = false,
            begun = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '"' && quoted && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append(text[i++]);
            }
            else if (c == '"' && (quoted || !begun))
            {
                quoted = !quoted;
                begun = true;
            }
            else if (c == separator && !quoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
                begun = false;
            }
            else
            {
                cell.Append(c);
                begun |= !char.IsWhiteSpace(c);
            }
        }
        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }

    /// <summary>Whether a line has cells in quotes: an even number of them, and one that begins a cell.</summary>
    public static bool HasQuotedCells(string line, char separator)
    {
        var quotes = line.Count(c => c == '"');
        return quotes > 0 && quotes % 2 == 0 && line.Split(separator).Any(c => c.AsSpan().TrimStart().StartsWith('"'));
    }

    /// <summary>Names have letters, so records of numbers need not be split; a person may have chosen a column with any name.</summary>
    private static IEnumerable<CsvHeader> Candidates(IReadOnlyList<string> lines, bool anyCells) =>
        from i in Enumerable.Range(0, Math.Min(lines.Count, ReaderLimits.HeaderLines))
        from separator in Separators
        where lines[i].Contains(separator)
        let cells = Split(lines[i], separator)
        where anyCells || cells.Count(c => c.Any(char.IsLetter)) > 1
        select new CsvHeader(separator, i + 1, cells);

    private static string[] Distinct(string[] cells)
    {
        var names = new string[cells.Length];
        var seen = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        for (var i = 0; i < cells.Length; i++)
        {
            var cell = ShownText.Clean(cells[i]);
            var name = cell.Length > 0 ? cell : $"column {i + 1}";
            var times = seen[name] = seen.GetValueOrDefault(name) + 1;
            names[i] = times == 1 ? name : $"{name} ({times})";
        }
        return names;
    }

    /// <summary>Recorders put a row of units below the header, or above it behind a comment mark.</summary>
    private void TakeUnitsRow(IReadOnlyList<string> lines)
    {
        // A second header row, with other names, may stand between.
        foreach (var at in new[] { LineNumber, LineNumber - 2, LineNumber + 1 })
        {
            if (at < 0 || at >= lines.Count)
                continue;
            // A dash is no unit in a row of units, and no value in a record.
            var cells = Split(lines[at], Separator).Select(c => c is "-" or "--" ? "" : c).ToArray();
            var named = cells.Count(c => CsvUnits(c));
            if (named < 2 || named * 2 < cells.Count(c => c.Length > 0))
                continue;
            for (var i = 0; i < Math.Min(cells.Length, Units.Length); i++)
            {
                if (Units[i].Length == 0)
                    Units[i] = cells[i];
            }
            return;
        }

        static bool CsvUnits(string cell) => cell.Length > 0 && CsvUnit.IsName(cell);
    }
}
