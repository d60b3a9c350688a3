using System.Globalization;
using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>Where a segment begins, so that "turn to 270" and "climb to 4000" have a meaning.</summary>
/// <param name="HeadingMagDeg">Magnetic heading, degrees.</param>
/// <param name="AltitudeFt">Indicated altitude, feet.</param>
/// <param name="AirspeedKt">Indicated airspeed, knots.</param>
public readonly record struct SegmentStart(double HeadingMagDeg, double AltitudeFt, double AirspeedKt);

/// <summary>
/// A segment typed as one says it: <c>right 360, climb 1000</c>, <c>30 s</c>, <c>corner: left to 270 at 1.5°/s</c>,
/// <c>slow to 80 in 60 s</c>. Order is free; commas and the words and, then, straight, level are allowed anywhere.
/// </summary>
/// <param name="Segment">The segment; null where the words were not understood.</param>
/// <param name="Problem">One sentence where they were not.</param>
public sealed partial record SegmentReading(Segment? Segment, string? Problem)
{
    /// <summary>What can be typed, by example.</summary>
    public static IReadOnlyList<string> Examples { get; } =
    ["30 s", "right 90", "corner: left 90 at 1.5°/s", "right circle, climb 1000", "descend to 3000 at 700 fpm", "slow to 80 in 1:00"];

    /// <summary>Reads one segment.</summary>
    /// <param name="text">The words; before a colon its name.</param>
    /// <param name="start">Where it begins.</param>
    public static SegmentReading Read(string text, SegmentStart start)
    {
        var name = "";
        if (NamePart().Match(text) is { Success: true } named)
            (name, text) = (named.Groups[1].Value.Trim(), text[named.Length..]);
        var words = Words().Matches(text.ToLowerInvariant()).Select(m => m.Value).ToList();
        if (Left(text).Trim() is { Length: > 0 } left)
            return Refused(left);
        var reader = new Reader(words, start);
        while (reader.More)
        {
            if (!reader.Next())
                return Refused(reader.Here);
        }

        var segment = reader.Segment with { Name = name };
        return segment == new Segment { Name = name }
            ? new(null, "Say what is flown, for example “30 s” or “right 360, climb 1000”.")
            : new(segment, null);
    }

    /// <summary>
    /// A turn typed into its field: <c>90</c>, <c>L 90</c>, <c>-90</c>, <c>to 270</c>; NaN where it is none, null for nothing.
    /// </summary>
    /// <param name="text">What was typed.</param>
    /// <param name="start">Where the segment begins.</param>
    public static double? TurnDeg(string text, SegmentStart start) => One(text, "right ", "", start, s => s.TurnDeg);

    /// <summary>A change of altitude typed into its field: <c>1000</c>, <c>-500</c>, <c>to 4000</c>.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="start">Where the segment begins.</param>
    public static double? ClimbFt(string text, SegmentStart start) => One(text, "climb ", "climb ", start, s => s.ClimbFt);

    /// <summary>A change of airspeed typed into its field: <c>10</c>, <c>-10</c>, <c>to 80</c>.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="start">Where the segment begins.</param>
    public static double? SpeedChangeKt(string text, SegmentStart start) => One(text, "speed ", "speed ", start, s => s.SpeedChangeKt);

    /// <summary>A time typed into its field: <c>30</c>, <c>1:30</c>, <c>2 min</c>.</summary>
    /// <param name="text">What was typed.</param>
    public static double? TimeS(string text) => One(text, "", "", default, s => s.DurationS);

    /// <summary>A plain number typed into a field.</summary>
    /// <param name="text">What was typed.</param>
    public static double? PlainNumber(string text) =>
        text.Trim().Length == 0 ? null
        : double.TryParse(Unspaced(text), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) ? value
        : double.NaN;

    private static double? One(string text, string verb, string toVerb, SegmentStart start, Func<Segment, double?> of)
    {
        text = text.Trim().Replace('−', '-');
        if (text.Length == 0)
            return null;
        var negative = text[0] == '-';
        var words = text.TrimStart('-', '+').TrimStart();
        var read = Read(
            words.StartsWith("to ", StringComparison.OrdinalIgnoreCase) ? toVerb + words
                : words.Length > 0 && char.IsLetter(words[0]) ? words
                : verb + words,
            start
        ).Segment;
        return read is null || of(read) is not { } value || Others(read) ? double.NaN
            : negative ? -value
            : value;
    }

    // A time typed into the field of a turn is no turn with a time.
    private static bool Others(Segment read)
    {
        var given = new[] { read.TurnDeg, read.ClimbFt, read.SpeedChangeKt, read.DurationS, read.TurnRateDegPerS, read.VerticalSpeedFpm };
        return given.Count(g => g is not null) > 1 || read.Name.Length > 0;
    }

    private static string Unspaced(string text) => text.Replace(",", "", StringComparison.Ordinal).Replace('−', '-').Trim();

    private static SegmentReading Refused(string words) =>
        new(null, $"“{words.Trim()}” is not understood here; say for example “{Examples[3]}” or “{Examples[5]}”.");

    /// <summary>What the pattern of words leaves over.</summary>
    private static string Left(string text) =>
        string.Concat(Words().Replace(text.ToLowerInvariant(), "").Where(c => c is not (',' or ';' or '.')));

    [GeneratedRegex(@"^\s*([^:]*[^\s:\d][^:]*):(?!\d\d)")]
    private static partial Regex NamePart();

    [GeneratedRegex(@"°/s|deg/s|ft/min|°|[+-]|\d+:\d\d|\d{1,3}(,\d{3})+|\d+(\.\d+)?|[a-z]+")]
    private static partial Regex Words();
}
