namespace SchoolDrills.Engine.Tracks;

/// <summary>Where a CSV's header stands, how its cells are parted, which column is what and in which unit.</summary>
internal sealed class CsvHeader
{
    private const int LinesSearched = 50;
    private static readonly char[] Separators = [',', ';', '\t', '|'];

    private CsvHeader(char separator, int lineNumber, string[] cells, IReadOnlyList<CsvHeaderCell> header, Dictionary<string, int> found)
    {
        Separator = separator;
        LineNumber = lineNumber;
        Cells = cells;
        Header = header;
        Found = found;
        Units = [.. header.Select(h => h.Unit)];
    }

    public char Separator { get; }

    /// <summary>From 1.</summary>
    public int LineNumber { get; }

    public string[] Cells { get; }

    public IReadOnlyList<CsvHeaderCell> Header { get; }

    /// <summary>Our name to the index of the column.</summary>
    public Dictionary<string, int> Found { get; }

    /// <summary>The unit of each column from its header, else from a units row; empty where neither names one.</summary>
    public string[] Units { get; }

    /// <summary>Looks for the line, in the first 50, in which most columns are known; null when none has more than one.</summary>
    public static CsvHeader? Find(IReadOnlyList<string> lines, IReadOnlyDictionary<string, string>? mapping)
    {
        CsvHeader? best = null;
        for (var i = 0; i < Math.Min(lines.Count, LinesSearched); i++)
        {
            foreach (var separator in Separators)
            {
                if (!lines[i].Contains(separator))
                    continue;
                var cells = Split(lines[i], separator);
                var header = cells.Select(c => new CsvHeaderCell(c)).ToList();
                var found = CsvColumns.Find(header);
                if (mapping is not null)
                    Map(mapping, header, found);
                if (found.Count > 1 && (best is null || found.Count > best.Found.Count))
                    best = new CsvHeader(separator, i + 1, cells, header, found);
            }
        }
        best?.TakeUnitsRow(lines);
        return best;
    }

    /// <summary>Cells of one line; quotes as in RFC 4180.</summary>
    public static string[] Split(string line, char separator)
    {
        var text = line.StartsWith('#') ? line[1..] : line;
        if (!text.Contains('"'))
            return [.. text.Split(separator).Select(c => c.Trim())];
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        foreach (var c in text)
        {
            if (c == '"')
                quoted = !quoted;
            else if (c == separator && !quoted)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
                cell.Append(c);
        }
        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }

    /// <summary>The person's own mapping goes before anything found by name; an empty header takes a column away.</summary>
    private static void Map(IReadOnlyDictionary<string, string> mapping, List<CsvHeaderCell> header, Dictionary<string, int> found)
    {
        foreach (var (name, text) in mapping)
        {
            var index = header.FindIndex(h => h.Text.Equals(text.Trim(), StringComparison.OrdinalIgnoreCase));
            if (text.Length == 0)
                found.Remove(name);
            else if (index >= 0 && CsvColumns.IsName(name))
            {
                foreach (var other in found.Where(f => f.Value == index && !mapping.ContainsKey(f.Key)).Select(f => f.Key).ToList())
                    found.Remove(other);
                found[name] = index;
            }
        }
    }

    /// <summary>Recorders put a row of units below the header, or above it behind a comment mark.</summary>
    private void TakeUnitsRow(IReadOnlyList<string> lines)
    {
        foreach (var at in new[] { LineNumber, LineNumber - 2 })
        {
            if (at < 0 || at >= lines.Count)
                continue;
            var cells = Split(lines[at], Separator);
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
