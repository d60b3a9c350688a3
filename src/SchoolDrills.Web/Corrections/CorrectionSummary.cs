using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Corrections;

/// <summary>What a correction did, in a line.</summary>
internal static class CorrectionSummary
{
    public static string Of(CorrectionView made, ScoreReport engine, SchoolTime time)
    {
        if (made.Undone)
            return "back to the engine's boundaries.";
        var words = new List<string>();
        foreach (var boundary in made.Segments)
        {
            var name = engine.Segments.FirstOrDefault(s => s.Index == boundary.Index)?.Name ?? "segment";
            if (boundary.StartUtc is { } start)
                words.Add($"{boundary.Index + 1}. {name} starts {time.ClockWithSeconds(start)}");
            if (boundary.EndUtc is { } end)
                words.Add($"{boundary.Index + 1}. {name} ends {time.ClockWithSeconds(end)}");
        }

        words.AddRange(
            made.Excluded.Select(s =>
                $"{time.ClockWithSeconds(s.StartUtc)} to {time.ClockWithSeconds(s.EndUtc)} left out: {s.Reason.TrimEnd('.')}"
            )
        );
        if (made.Run is { } run)
            words.Add($"number {run + 1} of the flights and readings of the drill scored");
        if (made.QnhHpa is { } qnh)
            words.Add($"QNH {qnh.ToString("0.#", CultureInfo.InvariantCulture)} hPa");
        if (made is { WindFromDegTrue: { } from, WindKt: { } kt })
            words.Add($"wind {Figures.Heading(from)} true at {Figures.Quantity(kt, "kt")}");
        return string.Join("; ", words) + ".";
    }

    /// <summary>What the corrections made of the score, in a sentence.</summary>
    public static string Effect(ScoreReport engine, ScoreReport corrected) =>
        $"The engine's own: {Labels.Of(engine.Overall.Verdict)}, {Figures.Share(engine.Overall.WithinShare)} in tolerance. "
        + $"As corrected: {Labels.Of(corrected.Overall.Verdict)}, {Figures.Share(corrected.Overall.WithinShare)}.";
}
