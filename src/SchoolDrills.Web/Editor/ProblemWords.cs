using System.Text.RegularExpressions;

namespace SchoolDrills.Web.Editor;

/// <summary>The engine's sentences where the place is plain to see: without it, and without the names of the JSON.</summary>
internal static partial class ProblemWords
{
    private static readonly (string Member, string Word)[] Words =
    [
        ("durationS says", "the time says"),
        ("give durationS, turnDeg or climbFt", "give it a time, a turn or a change of altitude"),
        ("no turnDeg", "no turn"),
        ("no climbFt", "no change of altitude"),
        ("turnDeg is", "the turn is"),
        ("turnRateDegPerS is", "the rate of turn is"),
        ("climbFt is", "the change of altitude is"),
        ("verticalSpeedFpm is", "the vertical speed is"),
        ("speedChangeKt is", "the change of speed is"),
        ("durationS is", "the time is"),
        ("repeat must", "its repetitions must"),
        ("each common error", "a common error"),
        ("each prerequisite", "a prerequisite"),
        ("each source", "a source"),
        ("each item", "an item"),
        ("standardSlug", "the standard"),
    ];

    public static string Plain(string sentence)
    {
        var text = Words.Aggregate(Place().Replace(sentence, ""), (t, w) => t.Replace(w.Member, w.Word, StringComparison.Ordinal));
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    [GeneratedRegex(@"^(segment|check|load task) [\d.]+(: its |: )")]
    private static partial Regex Place();
}
