using System.Text;

namespace SchoolDrills.Api.Audit;

/// <summary>Rows for a spreadsheet (RFC 4180).</summary>
internal static class Csv
{
    private static readonly System.Buffers.SearchValues<char> Quoted = System.Buffers.SearchValues.Create("\",\r\n");

    public static string Line(params ReadOnlySpan<string?> cells)
    {
        var line = new StringBuilder();
        for (var i = 0; i < cells.Length; i++)
        {
            if (i > 0)
                line.Append(',');
            line.Append(Cell(cells[i] ?? ""));
        }

        return line.Append("\r\n").ToString();
    }

    /// <summary>
    /// A cell that a spreadsheet would take for a formula gets an apostrophe before it: names and comments are other people's words, and
    /// must not run on the machine of whoever opens the file.
    /// </summary>
    private static string Cell(string text)
    {
        if (
            text.TrimStart(' ') is ['=' or '+' or '-' or '@' or '\t' or '\r' or '\n' or '＝' or '＋' or '－' or '＠', ..]
            || text is ['\t' or '\r' or '\n', ..]
        )
        {
            text = "'" + text;
        }

        return text.AsSpan().IndexOfAny(Quoted) < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
    }
}
