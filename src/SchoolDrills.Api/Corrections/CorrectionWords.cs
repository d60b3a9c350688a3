using System.Globalization;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Corrections;

/// <summary>Corrections in the audit trail's words: what was, and what is set by hand now.</summary>
internal static class CorrectionWords
{
    public static string Deed(AttemptCorrection correction, Attempt attempt, ScoreReport own)
    {
        var before =
            attempt.StandingCorrection is { } standing && standing.Revision < correction.Revision ? Of(standing)
            : correction.ByHand.Boundaries is { Count: > 0 } moved
                ? string.Join(
                    ", ",
                    moved.Select(b => $"segment {b.Index} {Span(own.Segments[b.Index].StartUtc, own.Segments[b.Index].EndUtc)}")
                )
            : "the engine's own";
        return $"before: {before}; after: {Of(correction)}{(correction.Reason is { } why ? $"; {why}" : "")}";
    }

    public static string Of(AttemptCorrection correction)
    {
        var words = new List<string>();
        foreach (var b in correction.ByHand.Boundaries ?? [])
            words.Add($"segment {b.Index} {Span(b.StartUtc, b.EndUtc)}");
        foreach (var s in correction.ByHand.Excluded ?? [])
            words.Add($"left out {Span(s.StartUtc, s.EndUtc)} ({s.Reason})");
        if (correction.ByHand.Run is { } run)
            words.Add($"run {run}");
        if (correction.QnhHpa is { } qnh)
            words.Add(string.Create(CultureInfo.InvariantCulture, $"{qnh} hPa"));
        if (correction.WindKt is { } kt)
            words.Add(string.Create(CultureInfo.InvariantCulture, $"wind {correction.WindFromDegTrue:0}° {kt} kt"));
        return string.Join(", ", words);
    }

    private static string Span(DateTimeOffset? from, DateTimeOffset? to) => $"{Clock(from)} to {Clock(to)}";

    private static string Clock(DateTimeOffset? at) => at?.UtcDateTime.ToString("HH:mm:ss'Z'", CultureInfo.InvariantCulture) ?? "as found";
}
