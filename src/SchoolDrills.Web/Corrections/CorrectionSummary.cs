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
            return T["back to the engine's boundaries. | in a sentence"];
        var words = new List<string>();
        foreach (var boundary in made.Segments)
        {
            var name = engine.Segments.FirstOrDefault(s => s.Index == boundary.Index)?.Name ?? T["segment | in a sentence"];
            if (boundary.StartUtc is { } start)
                words.Add(T["{0}. {1} starts {2}", boundary.Index + 1, name, time.ClockWithSeconds(start)]);
            if (boundary.EndUtc is { } end)
                words.Add(T["{0}. {1} ends {2}", boundary.Index + 1, name, time.ClockWithSeconds(end)]);
        }

        words.AddRange(
            made.Excluded.Select(s =>
                T[
                    "{0} to {1} left out: {2}",
                    time.ClockWithSeconds(s.StartUtc),
                    time.ClockWithSeconds(s.EndUtc),
                    s.Reason.TrimEnd('.')
                ].Value
            )
        );
        if (made.Run is { } run)
            words.Add(T["number {0} of the flights and readings of the drill scored", run + 1]);
        if (made.QnhHpa is { } qnh)
            words.Add(T["QNH {0} hPa", qnh.ToString("0.#", CultureInfo.InvariantCulture)]);
        if (made is { WindFromDegTrue: { } from, WindKt: { } kt })
            words.Add(T["wind {0} true at {1}", Figures.Heading(from), Figures.Quantity(kt, "kt")]);
        return string.Join("; ", words) + ".";
    }

    /// <summary>What the corrections made of the score, in a sentence.</summary>
    public static string Effect(ScoreReport engine, ScoreReport corrected) =>
        T[
            "The engine's own: {0}, {1} in tolerance. As corrected: {2}, {3}.",
            Labels.Of(engine.Overall.Verdict),
            Figures.Share(engine.Overall.WithinShare),
            Labels.Of(corrected.Overall.Verdict),
            Figures.Share(corrected.Overall.WithinShare)
        ];
}
