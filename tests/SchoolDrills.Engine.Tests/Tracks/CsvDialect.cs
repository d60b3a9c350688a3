using System.Globalization;
using System.Text;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// One of the many ways in which recorders write the same table: the separator, what surrounds the records, which forms times
/// and positions have.
/// </summary>
internal sealed class CsvDialect(Random random)
{
    private static readonly string[] Marks = ["#", "%", "//"];

    private readonly char separator = Pick(random, ',', ';', '\t', '|');
    private readonly bool quoted = random.Next(3) == 0;
    private readonly string lineEnd = Pick(random, "\n", "\r\n");
    private readonly string byteOrderMark = Pick(random, "", "\uFEFF");
    private readonly int remarks = Pick(random, 0, 0, 3, 45);
    private readonly string mark = Pick(random, Marks);
    private readonly bool padded = random.Next(3) == 0;
    private readonly bool repeatsHeader = random.Next(3) == 0;
    private readonly bool unitsRow = random.Next(2) == 0;
    private readonly string time = Pick(random, "iso", "epoch", "epoch-ms", "epoch-ns", "apart", "local", "panel", "day-first");
    private readonly string position = Pick(random, "decimal", "letters", "minutes", "packed", "hemispheres", "pair");
    private readonly (string Name, double PerFt) altitudeUnit = Pick(random, ("ft", 1), ("m", 0.3048));
    private readonly (string Name, double PerKt) speedUnit = Pick(random, ("kt", 1), ("km/h", 1.852), ("m/s", 1852 / 3600.0));
    private readonly (string Name, double PerFpm) climbUnit = Pick(random, ("fpm", 1), ("m/s", 0.3048 / 60));

    /// <summary>A comma cannot part both cells and decimals, unless cells are quoted.</summary>
    private bool Comma
    {
        get => field && (separator != ',' || quoted);
    } = random.Next(3) == 0;

    /// <summary>Writes the table in this dialect, its columns in an order of their own.</summary>
    public string Write(IReadOnlyList<CsvSample> samples)
    {
        var columns = Columns().OrderBy(_ => random.Next()).ToList();
        var text = new StringBuilder(byteOrderMark);
        for (var i = 0; i < remarks; i++)
            Line(text, $"{mark} remark {i} of a recorder");
        Header(text, columns);
        for (var i = 0; i < samples.Count; i++)
        {
            if (i == samples.Count / 2 && repeatsHeader)
                Header(text, columns);
            if (i == samples.Count / 3)
                Line(text, $"{mark} pilot event");
            Line(text, string.Join(separator, columns.Select(c => Cell(c.Value(samples[i])))));
        }

        return text.ToString();
    }

    public override string ToString() =>
        $"{separator} quoted {quoted} comma {Comma} time {time} position {position} units row {unitsRow} "
        + $"{altitudeUnit.Name} {speedUnit.Name} {climbUnit.Name}";

    private void Header(StringBuilder text, List<Column> columns)
    {
        // A unit is named once: in the header, or in the row below.
        Line(text, string.Join(separator, columns.Select(c => Cell(unitsRow || c.Unit.Length == 0 ? c.Name : $"{c.Name} [{c.Unit}]"))));
        if (unitsRow)
            Line(text, string.Join(separator, columns.Select(c => Cell(c.Unit))));
    }

    private List<Column> Columns()
    {
        List<Column> columns =
        [
            new("Baro Alt", altitudeUnit.Name, s => Number(s.AltitudeFt * altitudeUnit.PerFt)),
            new("IAS", speedUnit.Name, s => Number(s.AirspeedKt * speedUnit.PerKt)),
            new("V Spd", climbUnit.Name, s => Number(s.VerticalSpeedFpm * climbUnit.PerFpm)),
            new("Magnetic Heading", "deg", s => Number(s.HeadingDeg)),
            new("EGT1", "degF", _ => "1200"),
            new("Remark", "", _ => quoted ? $"a{separator}b" : "ab"),
        ];
        var local = TimeSpan.FromMinutes(random.Next(-44, 53) * 15);
        switch (time)
        {
            case "iso":
                columns.Add(new("UTC", "iso8601", s => Text(s.Utc, "yyyy-MM-ddTHH:mm:ss.fffZ")));
                break;
            case "epoch":
                columns.Add(new("time", "s", s => (s.Utc - DateTime.UnixEpoch).TotalSeconds.ToString("F3", CultureInfo.InvariantCulture)));
                break;
            case "epoch-ms":
                columns.Add(
                    new(
                        "timestamp",
                        "ms",
                        s => ((s.Utc - DateTime.UnixEpoch).Ticks / TimeSpan.TicksPerMillisecond).ToString(CultureInfo.InvariantCulture)
                    )
                );
                break;
            case "epoch-ns":
                columns.Add(new("t_utc", "ns", s => (s.Utc - DateTime.UnixEpoch).Ticks.ToString(CultureInfo.InvariantCulture) + "00"));
                break;
            case "apart":
                columns.Add(new("UTC Date", "yyyy-mm-dd", s => Text(s.Utc, "yyyy-MM-dd")));
                columns.Add(new("UTC Time", "hh:mm:ss", s => Text(s.Utc, "HH:mm:ss.fff")));
                break;
            case "panel":
                columns.Add(new("Date", "yyyy-mm-dd", s => Text(s.Utc + local, "yyyy-MM-dd")));
                columns.Add(new("Time", "hh:mm:ss", s => Text(s.Utc + local, "HH:mm:ss.fff")));
                columns.Add(new("UTC Time", "hh:mm:ss", s => Text(s.Utc, "HH:mm:ss.fff")));
                columns.Add(new("UTC Offset", "hh:mm", _ => Offset(local)));
                break;
            case "local":
                columns.Add(new("Lcl Date", "yyyy-mm-dd", s => Text(s.Utc + local, "yyyyMMdd")));
                columns.Add(new("Lcl Time", "hh:mm:ss", s => Text(s.Utc + local, "HH:mm:ss.fff")));
                columns.Add(new("UTCOfst", "hh:mm", _ => Offset(local)));
                break;
            default:
                columns.Add(new("Date Time UTC", "", s => Text(s.Utc, "dd.MM.yyyy HH:mm:ss.fff")));
                break;
        }

        if (position == "pair")
        {
            columns.Add(new("Position", "", s => $"{Coordinate(s.LatDeg, 2, 'N', 'S')} {Coordinate(s.LonDeg, 3, 'E', 'W')}"));
            return columns;
        }
        columns.Add(new("Latitude", position == "decimal" ? "deg" : "", s => Coordinate(s.LatDeg, 2, 'N', 'S')));
        columns.Add(new("Longitude", position == "decimal" ? "deg" : "", s => Coordinate(s.LonDeg, 3, 'E', 'W')));
        if (position != "hemispheres")
            return columns;
        columns.Add(new("N/S", "", s => s.LatDeg < 0 ? "S" : "N"));
        columns.Add(new("E/W", "", s => s.LonDeg < 0 ? "W" : "E"));
        return columns;
    }

    private string Coordinate(double deg, int digits, char positive, char negative)
    {
        var size = Math.Abs(deg);
        var side = deg < 0 ? negative : positive;
        // Positions lie on whole hundred-thousandths of a minute, so that all forms can hold them.
        var units = (long)Math.Round(size * 6_000_000);
        var (whole, minutes) = (units / 6_000_000, units % 6_000_000 / 100_000m);
        var packed =
            whole.ToString("D" + digits, CultureInfo.InvariantCulture) + minutes.ToString("00.00000", CultureInfo.InvariantCulture);
        return position switch
        {
            "decimal" or "pair" => Decimal(deg.ToString("F10", CultureInfo.InvariantCulture)),
            "letters" => Decimal(size.ToString("F10", CultureInfo.InvariantCulture)) + side,
            "minutes" => $"{whole}°{Decimal(minutes.ToString("00.00000", CultureInfo.InvariantCulture))}'{side}",
            "packed" => (deg < 0 ? "-" : "") + Decimal(packed),
            _ => Decimal(packed),
        };
    }

    private static string Offset(TimeSpan local) =>
        (local < TimeSpan.Zero ? "-" : "+") + local.ToString(@"hh\:mm", CultureInfo.InvariantCulture);

    private string Number(double value) => Decimal(value.ToString("F6", CultureInfo.InvariantCulture));

    private string Decimal(string number) => Comma ? number.Replace('.', ',') : number;

    private static string Text(DateTime time, string form) => time.ToString(form, CultureInfo.InvariantCulture);

    private string Cell(string text) =>
        quoted ? $"\"{text}\""
        : padded ? $" {text} "
        : text;

    private void Line(StringBuilder text, string line) => text.Append(line).Append(lineEnd);

    private static T Pick<T>(Random random, params T[] choices) => choices[random.Next(choices.Length)];

    private sealed record Column(string Name, string Unit, Func<CsvSample, string> Value);
}

/// <summary>One row of a table, in the units of a track.</summary>
internal sealed record CsvSample(
    DateTime Utc,
    double LatDeg,
    double LonDeg,
    double AltitudeFt,
    double AirspeedKt,
    double VerticalSpeedFpm,
    double HeadingDeg
);
