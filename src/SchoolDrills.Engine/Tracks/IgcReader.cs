using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// IGC flight recorder files (FAI Technical Specification for IGC-approved GNSS Flight Recorders, appendix A). Positions are degrees and
/// thousandths of minutes; pressure altitude is metres on 1013.25 hPa; satellite altitude is metres above the ellipsoid unless the header
/// says geoid. Of the extensions that an I record declares, finer positions and times, speeds and headings are used.
/// </summary>
internal sealed class IgcReader
{
    private static readonly double KtPerKmh = Units.MpsToKt(1 / 3.6);

    private readonly TrackBuilder builder;
    private readonly Dictionary<string, Range> extensions = [];
    private long? dayTicks;
    private long lastTicks;
    private bool dateIsFresh;
    private bool satelliteAltitude = true;
    private bool pressureAltitude = true;

    private IgcReader(TrackBuilder builder) => this.builder = builder;

    public static void Read(TextReader text, TrackBuilder builder)
    {
        var reader = new IgcReader(builder);
        builder.GpsAltitudeIsEllipsoidal = true;
        var number = 0;
        var lastIsWhole = true;
        while (text.ReadLine() is { } line)
        {
            number++;
            if (line.Length == 0)
                continue;
            lastIsWhole = line[0] switch
            {
                'B' => reader.Fix(line, number),
                'H' => reader.Header(line),
                'I' => reader.Extensions(line),
                _ => true,
            };
        }
        if (reader.dayTicks is null)
        {
            throw TrackRefusedException.Unreadable(
                "The IGC file has no usable date record (HFDTE), so its fixes have a time but no day; export the recording again."
            );
        }

        if (builder.Count == 0)
        {
            throw TrackRefusedException.Unreadable(
                builder.Dropped == 0
                    ? "The IGC file has no fixes (B records); check that the recorder was running and export the flight again."
                    : "None of the IGC file's fixes (B records) has a usable time and position; export the flight again."
            );
        }
        if (!lastIsWhole)
        {
            builder.Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The file is cut short in line {number}; the {builder.Count:N0} whole fixes before it were used."
                )
            );
        }
        // A recorder without a sensor writes zeros throughout.
        builder.RemoveIfAllZero(TrackColumn.PressureAltitudeFt);
        builder.RemoveIfAllZero(TrackColumn.GpsAltitudeFt);
    }

    private bool Header(string line)
    {
        if (line.Length < 5)
            return true;
        var name = line.AsSpan(2, 3);
        var value = line.AsSpan(5);
        if (name.SequenceEqual("DTE"))
        {
            // Old form HFDTE160701, new form HFDTEDATE:160701,01.
            var digits = value.IndexOfAnyInRange('0', '9');
            if (
                digits >= 0
                && TimeText.TryDigits(value, digits, 2, out var day)
                && TimeText.TryDigits(value, digits + 2, 2, out var month)
                && TimeText.TryDigits(value, digits + 4, 2, out var year)
                && TimeText.TryDate(TimeText.FullYear(year), month, day, out var ticks)
            )
            {
                (dayTicks, dateIsFresh) = (ticks, true);
            }
        }
        else if (name.SequenceEqual("ALG"))
        {
            if (value.EndsWith("GEO"))
                builder.GpsAltitudeIsEllipsoidal = false;
            else if (value.EndsWith("NIL"))
                satelliteAltitude = false;
        }
        else if (name.SequenceEqual("ALP") && value.EndsWith("MSL"))
        {
            pressureAltitude = false;
            builder.Warn("The pressure altitude is not on 1013.25 hPa and was left out.");
        }
        return true;
    }

    private bool Extensions(string line)
    {
        // I, the number of extensions, then first byte, last byte and code of each, bytes counted from 1.
        if (!TimeText.TryDigits(line, 1, 2, out var count))
            return true;
        for (var i = 0; i < count && line.Length >= 10 + i * 7; i++)
        {
            if (
                TimeText.TryDigits(line, 3 + i * 7, 2, out var first)
                && TimeText.TryDigits(line, 5 + i * 7, 2, out var last)
                && first > 35
                && last >= first
            )
            {
                extensions[line.Substring(7 + i * 7, 3)] = (first - 1)..last;
            }
        }
        return true;
    }

    private bool Fix(string line, int number)
    {
        if (line.Length < 35)
        {
            builder.Drop(number);
            return false;
        }
        if (
            !TimeText.TryParseClock(line.AsSpan(1, 6), out var clockTicks)
            || dayTicks is null
            || !TryCoordinate(line, 7, 2, "LAD", 'N', 'S', out var latDeg)
            || !TryCoordinate(line, 15, 3, "LOD", 'E', 'W', out var lonDeg)
        )
        {
            builder.Drop(number);
            return true;
        }
        // Before the first fix some recorders write a place off Africa.
        if (line[24] == 'V' && latDeg == 0 && lonDeg == 0)
        {
            builder.Drop(number);
            return true;
        }
        if (Extension(line, "TDS") is { Length: > 0 and <= 7 } fraction && DecimalText.TryParseDigits(fraction, out var decimals))
            clockTicks += (long)(decimals * (TimeSpan.TicksPerSecond / Math.Pow(10, fraction.Length)));
        var utcTicks = dateIsFresh ? dayTicks.Value + clockTicks : TimeText.NearestDay(lastTicks, clockTicks);
        (lastTicks, dateIsFresh) = (utcTicks, false);
        if (!builder.Add(utcTicks, latDeg, lonDeg, number))
            return true;
        if (pressureAltitude && TryMetres(line.AsSpan(25, 5), out var pressureM))
            builder.Set(TrackColumn.PressureAltitudeFt, Units.MToFt(pressureM));
        // V is a fix without height.
        if (satelliteAltitude && line[24] == 'A' && TryMetres(line.AsSpan(30, 5), out var satelliteM))
            builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(satelliteM));
        ThreeDigits(line, "IAS", TrackColumn.IndicatedAirspeedKt, KtPerKmh);
        ThreeDigits(line, "TAS", TrackColumn.TrueAirspeedKt, KtPerKmh);
        ThreeDigits(line, "GSP", TrackColumn.GroundSpeedKt, KtPerKmh);
        ThreeDigits(line, "HDM", TrackColumn.HeadingMagDeg, 1);
        ThreeDigits(line, "HDT", TrackColumn.HeadingTrueDeg, 1);
        ThreeDigits(line, "TRT", TrackColumn.CourseTrueDeg, 1);
        return true;
    }

    private bool TryCoordinate(string line, int start, int degreeDigits, string finer, char positive, char negative, out double deg)
    {
        deg = double.NaN;
        var hemisphere = line[start + degreeDigits + 5];
        if (
            !TimeText.TryDigits(line, start, degreeDigits, out var degrees)
            || !TimeText.TryDigits(line, start + degreeDigits, 5, out var thousandths)
            // Recorders that round write a full degree as 60.000 minutes.
            || thousandths > 60_000
            || (hemisphere != positive && hemisphere != negative)
        )
        {
            return false;
        }

        double minutes = thousandths;
        if (Extension(line, finer) is { Length: > 0 } more && DecimalText.TryParseDigits(more, out var decimals))
            minutes += decimals / Math.Pow(10, more.Length);
        deg = degrees + minutes / 60_000;
        if (hemisphere == negative)
            deg = -deg;
        return true;
    }

    private ReadOnlySpan<char> Extension(string line, string code) =>
        extensions.TryGetValue(code, out var range) && range.End.Value <= line.Length ? line.AsSpan()[range] : default;

    private void ThreeDigits(string line, string code, TrackColumn column, double factor)
    {
        if (extensions.Count > 0 && Extension(line, code) is { Length: 3 } text && DecimalText.TryParseDigits(text, out var value))
            builder.Set(column, value * factor);
    }

    /// <summary>Five digits, or a minus sign and four.</summary>
    private static bool TryMetres(ReadOnlySpan<char> text, out int metres)
    {
        var negative = text[0] == '-';
        var good = DecimalText.TryParseDigits(negative ? text[1..] : text, out metres);
        if (negative)
            metres = -metres;
        return good;
    }
}
