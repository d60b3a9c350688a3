namespace SchoolDrills.Engine.Tracks;

/// <summary>Which column of a CSV holds a quantity, as a person chose it.</summary>
/// <param name="Column">Name of the column as <see cref="HeaderColumn.Name"/> has it, or <see cref="None"/>.</param>
/// <param name="Unit">Unit of its values, one of <see cref="ColumnQuantity.Units"/>; null for the unit of the header.</param>
public sealed record ColumnChoice(string Column, string? Unit = null)
{
    /// <summary>No column: the quantity is excluded, whatever the header calls a column.</summary>
    public const string None = "none";
}

/// <summary>The header of a CSV, for a person to choose the columns.</summary>
/// <param name="Line">Its line, from 1.</param>
/// <param name="Fingerprint">The same for every recording with the same columns in the same order; 64 hexadecimal digits (SHA-256).</param>
/// <param name="Columns">Its columns in their order.</param>
public sealed record TrackHeader(int Line, string Fingerprint, IReadOnlyList<HeaderColumn> Columns);

/// <summary>One column of a CSV.</summary>
/// <param name="Name">
/// As the header has it; a number in brackets distinguishes repeated names, and a nameless column is called by its position.
/// </param>
/// <param name="Samples">A few of its values as written, those of the first records that have one.</param>
/// <param name="TakenAs">
/// The quantity it holds, by <see cref="ColumnQuantity.Name"/>; null when it was not used. A column with both latitude and longitude is
/// shown as <c>latDeg</c>.
/// </param>
/// <param name="Unit">Unit from the header, the units row or the mapping; null when there is none.</param>
public sealed record HeaderColumn(string Name, IReadOnlyList<string> Samples, string? TakenAs, string? Unit);

/// <summary>A quantity that a column of a CSV can be taken as.</summary>
/// <param name="Name">
/// A column of <see cref="Track"/>, or <c>date</c>, <c>utcOffset</c>, <c>latHemisphere</c> or <c>lonHemisphere</c>.
/// </param>
/// <param name="Units">Units that can be chosen for it, the track's own first; empty where the values themselves show it.</param>
public sealed record ColumnQuantity(string Name, IReadOnlyList<string> Units)
{
    /// <summary>Without a column for each of these a CSV is not a recording.</summary>
    public static IReadOnlyList<string> Required { get; } = [CsvColumns.Time, CsvColumns.Lat, CsvColumns.Lon];

    /// <summary>Every quantity there is.</summary>
    public static IReadOnlyList<ColumnQuantity> All { get; } =
    [
        .. new[]
        {
            CsvColumns.Time,
            CsvColumns.Date,
            CsvColumns.UtcOffset,
            CsvColumns.Lat,
            CsvColumns.LatHemisphere,
            CsvColumns.Lon,
            CsvColumns.LonHemisphere,
        }.Select(name => new ColumnQuantity(name, [])),
        .. Enum.GetValues<TrackColumn>().Select(column => new ColumnQuantity(column.Name(), CsvUnit.Offered(column))),
    ];
}
