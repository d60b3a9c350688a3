using System.Globalization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Replaces the engine's boundaries by an instructor's, and refuses those that cannot be true.</summary>
internal static class ManualBoundaries
{
    /// <summary>Shortest segment, seconds.</summary>
    private const double ShortestS = 1;

    /// <summary>Boundaries closer than this are one boundary, seconds.</summary>
    private const double SameS = 0.01;

    /// <summary>
    /// Refuses corrections that no alignment could make true: outside the recording, end before start, of a run that is not there.
    /// </summary>
    /// <exception cref="CorrectionRefusedException">With the sentence for the instructor.</exception>
    public static void Check(ManualCorrections corrections, DateTimeOffset fromUtc, DateTimeOffset toUtc, int runs)
    {
        if (corrections.Run is { } run && (run < 0 || run >= runs))
        {
            throw new CorrectionRefusedException(
                $"Run {run} is not in this recording: "
                    + $"{(runs == 1 ? "the drill was found once, as run 0" : $"the runs found are 0 to {runs - 1}")}."
            );
        }

        foreach (var stretch in corrections.Excluded ?? [])
        {
            if (stretch.EndUtc <= stretch.StartUtc)
            {
                throw new CorrectionRefusedException(
                    $"The stretch left out from {Clock(stretch.StartUtc)} ends at {Clock(stretch.EndUtc)}: it must end after it starts."
                );
            }

            if (stretch.EndUtc <= fromUtc || stretch.StartUtc >= toUtc)
            {
                throw new CorrectionRefusedException(
                    $"The stretch left out from {Clock(stretch.StartUtc)} to {Clock(stretch.EndUtc)} is "
                        + $"outside the recording, which runs from {Clock(fromUtc)} to {Clock(toUtc)}."
                );
            }
        }
    }

    /// <summary>The alignment with the instructor's boundaries in it.</summary>
    /// <exception cref="CorrectionRefusedException">With the sentence for the instructor.</exception>
    public static Alignment Apply(
        Alignment alignment,
        IReadOnlyList<string> names,
        ManualCorrections corrections,
        DateTimeOffset epochUtc,
        DateTimeOffset fromUtc,
        DateTimeOffset toUtc
    )
    {
        if (corrections.Boundaries is not { Count: > 0 } boundaries)
            return alignment;
        DateTimeOffset? Utc(double s) => double.IsFinite(s) ? epochUtc.AddSeconds(s) : null;
        var moved = Move(
            [.. alignment.Matches.Select(m => new Span(names[m.Index], Utc(m.StartS), Utc(m.EndS)))],
            boundaries,
            fromUtc,
            toUtc
        );
        var matches = alignment
            .Matches.Select(
                (m, k) =>
                    moved[k] is not { StartUtc: { } start, EndUtc: { } end }
                        ? m
                        : m with
                        {
                            Status = m.Status == SegmentStatus.Skipped ? SegmentStatus.Flown : m.Status,
                            StartS = start == Utc(m.StartS) ? m.StartS : (start - epochUtc).TotalSeconds,
                            EndS = end == Utc(m.EndS) ? m.EndS : (end - epochUtc).TotalSeconds,
                            StartSigmaS = start == Utc(m.StartS) ? m.StartSigmaS : 0,
                            EndSigmaS = end == Utc(m.EndS) ? m.EndSigmaS : 0,
                        }
            )
            .ToArray();
        return alignment with { Matches = matches, Aborted = alignment.Aborted && matches[^1].Status == SegmentStatus.Skipped };
    }

    /// <summary>The segments' times with the instructor's in them, and their neighbors' times where the two meet in one boundary.</summary>
    /// <exception cref="CorrectionRefusedException">With the sentence for the instructor.</exception>
    public static Span[] Move(Span[] spans, IReadOnlyList<ManualBoundary> boundaries, DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        var found = (Span[])spans.Clone();
        var starts = new bool[spans.Length];
        var ends = new bool[spans.Length];
        foreach (var boundary in boundaries)
        {
            var k = boundary.Index;
            if (k < 0 || k >= spans.Length)
                throw new CorrectionRefusedException($"There is no segment {k}: the drill's segments are 0 to {spans.Length - 1}.");
            foreach (var time in new[] { boundary.StartUtc, boundary.EndUtc })
            {
                if (time < fromUtc || time > toUtc)
                {
                    throw new CorrectionRefusedException(
                        $"{Clock(time.Value)} for {spans[k].Name} is outside the recording, which runs from "
                            + $"{Clock(fromUtc)} to {Clock(toUtc)}."
                    );
                }
            }

            if ((starts[k] && boundary.StartUtc is not null) || (ends[k] && boundary.EndUtc is not null))
                throw new CorrectionRefusedException($"{spans[k].Name} is given twice.");
            starts[k] |= boundary.StartUtc is not null;
            ends[k] |= boundary.EndUtc is not null;
            spans[k] = spans[k] with { StartUtc = boundary.StartUtc ?? spans[k].StartUtc, EndUtc = boundary.EndUtc ?? spans[k].EndUtc };
        }

        for (var k = 0; k < spans.Length; k++)
        {
            if ((starts[k] || ends[k]) && (spans[k].StartUtc is null || spans[k].EndUtc is null))
            {
                throw new CorrectionRefusedException($"{spans[k].Name} was not found, so both its start and its end are needed.");
            }

            // A start is also the end of the segment before, and an end the start of the next, unless that was set too or other flight
            // lies between.
            if (starts[k] && Before(spans, k) is { } before && !ends[before] && Joined(found, before, k))
                spans[before] = spans[before] with { EndUtc = spans[k].StartUtc };
            if (ends[k] && After(spans, k) is { } after && !starts[after] && Joined(found, k, after))
                spans[after] = spans[after] with { StartUtc = spans[k].EndUtc };
        }

        Span? last = null;
        foreach (var span in spans.Where(s => s.StartUtc is not null))
        {
            if (span.EndUtc < span.StartUtc!.Value.AddSeconds(ShortestS))
            {
                throw new CorrectionRefusedException(
                    $"{span.Name} would run from {Clock(span.StartUtc.Value)} to {Clock(span.EndUtc!.Value)}: it must end after it starts."
                );
            }

            if (last is not null && span.StartUtc < last.EndUtc!.Value.AddSeconds(-SameS))
            {
                throw new CorrectionRefusedException(
                    $"{span.Name} would start at {Clock(span.StartUtc.Value)}, before {last.Name} ends at {Clock(last.EndUtc.Value)}."
                );
            }

            last = span;
        }

        return spans;
    }

    /// <summary>Two segments meet in one boundary: they did when found, or one of them was not found and is inserted.</summary>
    private static bool Joined(Span[] found, int a, int b) =>
        found[a].EndUtc is not { } end || found[b].StartUtc is not { } start || Math.Abs((start - end).TotalSeconds) < SameS;

    private static int? Before(Span[] spans, int k)
    {
        for (var n = k - 1; n >= 0; n--)
        {
            if (spans[n].StartUtc is not null)
                return n;
        }

        return null;
    }

    private static int? After(Span[] spans, int k)
    {
        for (var n = k + 1; n < spans.Length; n++)
        {
            if (spans[n].StartUtc is not null)
                return n;
        }

        return null;
    }

    private static string Clock(DateTimeOffset at) => at.UtcDateTime.ToString("HH:mm:ss", CultureInfo.InvariantCulture) + " UTC";

    /// <summary>A segment's times; null where it was not found.</summary>
    internal sealed record Span(string Name, DateTimeOffset? StartUtc, DateTimeOffset? EndUtc);
}
