namespace SchoolDrills.Web.Cards;

/// <summary>A sheet of paper, millimetres.</summary>
/// <param name="Slug">As it stands in addresses and as the browser knows it.</param>
/// <param name="MarginMm">White around the card: what printers leave.</param>
public sealed record Paper(string Slug, string Name, double WidthMm, double HeightMm, double MarginMm)
{
    public static IReadOnlyList<Paper> All { get; } =
    [new("a4", "A4", 210, 297, 11), new("letter", T["Letter"], 215.9, 279.4, 11), new("a5", T["A5, kneeboard"], 148, 210, 7)];

    public static Paper Of(string? slug) =>
        All.FirstOrDefault(p => string.Equals(p.Slug, slug, StringComparison.OrdinalIgnoreCase)) ?? All[0];
}

/// <summary>How a card's content is laid on one sheet: the largest type with which all of it fits.</summary>
/// <param name="TypePt">Size of the type, points.</param>
/// <param name="Columns">Columns of the timetable.</param>
/// <param name="DrawingMm">Height of the drawing, millimetres.</param>
/// <param name="WithGates">Whether there is room for gates within segments.</param>
/// <param name="WithNotes">Whether there is room for what the drill is for and what goes wrong in it.</param>
public sealed record CardFit(double TypePt, int Columns, double DrawingMm, bool WithGates, bool WithNotes)
{
    private const double MmPerPt = 25.4 / 72;

    /// <summary>Height of a line and width of a letter, of the size of the type; as drawn by the usual sans-serif faces.</summary>
    private const double LineShare = 1.3,
        LetterShare = 0.52;

    /// <summary>Clock, heading and altitude with the space between, letters.</summary>
    private const double FigureLetters = 21,
        BesideLetters = 9;

    /// <summary>
    /// What is tried, in this order: gates within segments are worth more than a point of type, notes less, and nothing is worth type that
    /// cannot be read.
    /// </summary>
    private static readonly (double TypePt, bool WithGates, bool WithNotes)[] Tries =
    [
        .. ((double[])[10.5, 10, 9.5, 9]).Select(pt => (pt, true, true)),
        .. ((double[])[10, 9.5, 9, 8.5, 8]).Select(pt => (pt, true, false)),
        .. ((double[])[9.5, 9, 8.5, 8, 7.5, 7, 6.5, 6, 5.5]).Select(pt => (pt, false, false)),
    ];

    /// <param name="paper">The sheet.</param>
    /// <param name="content">What stands on it.</param>
    public static CardFit Of(Paper paper, CardContent content)
    {
        foreach (var (typePt, gates, notes) in Tries)
        {
            foreach (var columns in (int[])[1, 2, 3])
            {
                if (Drawing(paper, content.Rows(gates), typePt, columns, content.Aside(notes)) is { } drawingMm)
                    return new(typePt, columns, drawingMm, gates, notes);
            }
        }

        return new(Tries[^1].TypePt, 3, paper.HeightMm * 0.14, false, false);
    }

    /// <summary>The timetable in columns of like length, in the order of time.</summary>
    public IReadOnlyList<CardRow[]> Split(IReadOnlyList<CardRow> rows, Paper paper)
    {
        var letters = ColumnLetters(paper, TypePt, Columns);
        var share = (double)rows.Sum(r => Lines(r, letters)) / Columns;
        var columns = new List<CardRow>[Columns];
        var before = 0;
        foreach (var row in rows)
        {
            var lines = Lines(row, letters);
            var column = Math.Min(Columns - 1, (int)((before + (lines / 2.0)) / share));
            (columns[column] ??= []).Add(row);
            before += lines;
        }

        return [.. columns.Where(c => c is not null).Select(c => c.ToArray())];
    }

    /// <summary>Room for the drawing where all else is set in this type; null where there is too little.</summary>
    private static double? Drawing(
        Paper paper,
        IReadOnlyList<CardRow> rows,
        double typePt,
        int columns,
        IReadOnlyList<(string Name, string Text)> beside
    )
    {
        var (width, height) = (paper.WidthMm - (2 * paper.MarginMm), paper.HeightMm - (2 * paper.MarginMm) - 2);
        var (line, letter) = (typePt * MmPerPt * LineShare, typePt * MmPerPt * LetterShare);
        var columnLetters = ColumnLetters(paper, typePt, columns);
        // Type that is read in flight needs lines of some length.
        if (columns > 1 && columnLetters < 38)
            return null;
        var table = rows.Sum(r => Lines(r, columnLetters)) + columns + (columns > 1 ? 2 : 0);
        var asideWidth = (width * 0.52 / letter) - 2;
        var aside = beside.Sum(b => Lines(b.Name.Length + b.Text.Length + 2, asideWidth)) * line * 1.06;
        // The head has the code beside it.
        var head = Math.Max(line * 4.2, 21);
        var foot = (Lines(CardContent.Foot.Length, width / letter) + 2.5) * line;
        var left = height - head - foot - (Math.Ceiling((double)table / columns) * line * 1.1) - (line * 3);
        var most = Math.Min(left, paper.HeightMm * 0.4);
        return most >= aside && most >= paper.HeightMm * 0.17 ? most : null;
    }

    private static double ColumnLetters(Paper paper, double typePt, int columns) =>
        ((paper.WidthMm - (2 * paper.MarginMm) - ((columns - 1) * 5)) / columns / (typePt * MmPerPt * LetterShare)) - 1;

    private static int Lines(CardRow row, double columnLetters) =>
        Lines(row.Text.Length, columnLetters - (row.Heading is null ? BesideLetters : FigureLetters));

    private static int Lines(double letters, double width) => Math.Max(1, (int)Math.Ceiling(letters / Math.Max(width, 8)));
}
