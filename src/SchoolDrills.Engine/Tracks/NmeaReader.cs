using System.Globalization;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Tracks;

/// <summary>
/// NMEA 0183 sentences from any talker, also among a receiver's binary messages. RMC, GGA and ZDA of one instant make one sample: RMC and
/// ZDA have the date, RMC the magnetic variation, GGA the altitude above mean sea level, and they come in either order. A sentence whose
/// checksum is wrong is not used.
/// </summary>
internal sealed class NmeaReader
{
    private readonly TrackBuilder builder;
    private readonly Range[] fields = new Range[24];
    private Fix fix = new();
    private bool dated;
    private long lastTicks;
    private bool checksumsInUse;
    private int damaged;
    private int firstDamaged;
    private bool datelessFixes;
    private bool unreadableTimes;

    private NmeaReader(TrackBuilder builder) => this.builder = builder;

    public static void Read(TextReader text, TrackBuilder builder)
    {
        var reader = new NmeaReader(builder);
        var number = 0;
        while (text.ReadLine() is { } line)
        {
            number++;
            reader.Line(line, number);
        }
        reader.Emit();
        reader.Conclude();
    }

    /// <summary>
    /// Some loggers write their own time before the sentence, or binary messages, in which any byte can be; a lost line end joins two.
    /// </summary>
    private void Line(ReadOnlySpan<char> line, int number)
    {
        for (var start = line.IndexOf('$'); start >= 0; )
        {
            line = line[(start + 1)..];
            start = line.IndexOf('$');
            var sentence = start < 0 ? line : line[..start];
            if (!IsBinary(sentence))
                Sentence(sentence, number);
        }
    }

    /// <summary>A $ that begins no sentence, not even a damaged one: too little follows, or what no sentence has.</summary>
    private static bool IsBinary(ReadOnlySpan<char> sentence) =>
        !TrackSniffer.BeginsSentence(sentence)
        && (sentence.Length < 6 || sentence[..Math.Min(24, sentence.Length)].ContainsAnyExceptInRange(' ', '~'));

    private void Conclude()
    {
        if (damaged > 0)
        {
            builder.Warn(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{damaged:N0} {(damaged == 1 ? "sentence has" : "sentences have")} a wrong checksum or none "
                        + $"and {(damaged == 1 ? "was" : "were")} left out, the first in line {firstDamaged}."
                )
            );
        }
        if (builder.Count > 0)
            return;
        throw TrackRefusedException.Unreadable(
            datelessFixes ? "The NMEA sentences have times but no date (no RMC or ZDA); log RMC sentences too."
            : unreadableTimes ? "No NMEA sentence with a position has a readable time; export the recording again."
            : damaged > 0 ? "No NMEA sentence with a right checksum has a position; export the recording again."
            : "The NMEA sentences have no position (RMC or GGA with a fix); check that the receiver had a fix and "
                + "export the recording again."
        );
    }

    private void Sentence(ReadOnlySpan<char> sentence, int number)
    {
        if (!IsIntact(sentence, out var body))
        {
            if (damaged++ == 0)
                firstDamaged = number;
            builder.DropWarned(1);
            return;
        }
        var count = body.Split(fields, ',');
        var name = body[fields[0]];
        if (name.Length != 5 || count < 3)
            return;
        var type = name[2..];
        if (type.SequenceEqual("RMC") && count >= 10)
            Rmc(body, number);
        else if (type.SequenceEqual("GGA") && count >= 10)
            Gga(body, number);
        else if (type.SequenceEqual("ZDA") && count >= 5)
            Zda(body, number);
    }

    private void Rmc(ReadOnlySpan<char> body, int number)
    {
        if (!TryBegin(body, number))
            return;
        if (
            Field(body, 9) is { Length: 6 } date
            && TimeText.TryDigits(date, 0, 2, out var day)
            && TimeText.TryDigits(date, 2, 2, out var month)
            && TimeText.TryDigits(date, 4, 2, out var year)
            && TimeText.TryDate(TimeText.FullYear(year), month, day, out var dayTicks)
        )
        {
            fix.DayTicks = dayTicks;
        }

        if (Field(body, 2) is not ['A'])
            return;
        Position(body, 3);
        if (DecimalText.TryParse(Field(body, 7), out var groundSpeedKt))
            fix.GroundSpeedKt = groundSpeedKt;
        if (DecimalText.TryParse(Field(body, 8), out var courseDeg))
            fix.CourseTrueDeg = courseDeg;
        if (body.Count(',') >= 11 && DecimalText.TryParse(Field(body, 10), out var variationDeg))
            fix.MagneticVariationDeg = EastDeg(variationDeg, Field(body, 11));
    }

    /// <summary>A variation without a side tells nothing.</summary>
    private static double EastDeg(double variationDeg, ReadOnlySpan<char> side) =>
        side switch
        {
            ['E'] => variationDeg,
            ['W'] => -variationDeg,
            _ => double.NaN,
        };

    private void Gga(ReadOnlySpan<char> body, int number)
    {
        if (!TryBegin(body, number) || Field(body, 6) is [] or ['0'])
            return;
        Position(body, 2);
        if (DecimalText.TryParse(Field(body, 9), out var altitudeM))
            fix.AltitudeM = altitudeM;
    }

    private void Zda(ReadOnlySpan<char> body, int number)
    {
        if (
            TryBegin(body, number)
            && DecimalText.TryParseDigits(Field(body, 2), out var day)
            && DecimalText.TryParseDigits(Field(body, 3), out var month)
            && DecimalText.TryParseDigits(Field(body, 4), out var year)
            && TimeText.TryDate(year, month, day, out var dayTicks)
        )
        {
            fix.DayTicks = dayTicks;
        }
    }

    /// <summary>Starts a new sample when the sentence has another time than the ones before it.</summary>
    private bool TryBegin(ReadOnlySpan<char> body, int number)
    {
        if (!TimeText.TryParseClock(Field(body, 1), out var clockTicks))
        {
            // Before the first fix a receiver leaves both the time and what follows empty, and nothing is lost.
            if (Field(body, 1).IsEmpty && Field(body, 3).IsEmpty)
                return false;
            unreadableTimes = true;
            builder.Drop(number);
            return false;
        }
        if (fix.Line == 0 || fix.ClockTicks != clockTicks)
        {
            Emit();
            fix = new Fix { ClockTicks = clockTicks, Line = number };
        }
        return true;
    }

    private void Position(ReadOnlySpan<char> body, int field)
    {
        if (
            !double.IsNaN(fix.LatDeg)
            || !CsvPositions.TryParsePacked(Field(body, field), Field(body, field + 1), out var latDeg)
            || !CsvPositions.TryParsePacked(Field(body, field + 2), Field(body, field + 3), out var lonDeg)
        )
        {
            return;
        }

        (fix.LatDeg, fix.LonDeg) = (latDeg, lonDeg);
    }

    private void Emit()
    {
        if (fix.Line == 0)
            return;
        if (fix.DayTicks is null && !dated)
        {
            datelessFixes |= !double.IsNaN(fix.LatDeg);
            builder.Drop(fix.Line);
            return;
        }
        var utcTicks = fix.DayTicks is { } dayTicks ? dayTicks + fix.ClockTicks : TimeText.NearestDay(lastTicks, fix.ClockTicks);
        (lastTicks, dated) = (utcTicks, true);
        if (!builder.Add(utcTicks, fix.LatDeg, fix.LonDeg, fix.Line))
            return;
        builder.Set(TrackColumn.GpsAltitudeFt, Units.MToFt(fix.AltitudeM));
        builder.Set(TrackColumn.GroundSpeedKt, fix.GroundSpeedKt);
        builder.Set(TrackColumn.CourseTrueDeg, fix.CourseTrueDeg);
        builder.Set(TrackColumn.MagneticVariationDeg, fix.MagneticVariationDeg);
    }

    /// <summary>
    /// Checks <c>*hh</c> against the exclusive or of all between <c>$</c> and <c>*</c>; without it only while no sentence had one.
    /// </summary>
    private bool IsIntact(ReadOnlySpan<char> sentence, out ReadOnlySpan<char> body)
    {
        sentence = sentence.TrimEnd();
        var star = sentence.LastIndexOf('*');
        body = star < 0 ? sentence : sentence[..star];
        if (star < 0)
            return !checksumsInUse;
        var sum = 0;
        foreach (var c in body)
            sum ^= c;
        checksumsInUse = true;
        return sentence.Length == star + 3
            && int.TryParse(sentence[(star + 1)..], NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var stated)
            && stated == sum;
    }

    private ReadOnlySpan<char> Field(ReadOnlySpan<char> body, int index) => body[fields[index]];

    /// <summary>Values from the sentences of one instant so far.</summary>
    private struct Fix()
    {
        public int Line = 0;
        public long ClockTicks = 0;
        public long? DayTicks = null;
        public double LatDeg = double.NaN;
        public double LonDeg = double.NaN;
        public double AltitudeM = double.NaN;
        public double GroundSpeedKt = double.NaN;
        public double CourseTrueDeg = double.NaN;
        public double MagneticVariationDeg = double.NaN;
    }
}
