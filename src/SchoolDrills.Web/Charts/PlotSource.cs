using System.Globalization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Charts;

/// <summary>What the browser draws of a report besides the columns; times in milliseconds since 1970, as browsers count.</summary>
/// <param name="ClockZeroMs">When the drill's clock read zero; null where the drill was not found.</param>
/// <param name="Segments">Segments that were flown.</param>
/// <param name="Engine">The engine's own segments, where those shown were set by hand.</param>
/// <param name="Excluded">Stretches that were not judged.</param>
/// <param name="Paused">Pauses noted on board.</param>
/// <param name="StoppedMs">When the instructor stopped the drill; null where he did not.</param>
/// <param name="Episodes">Times of saturation.</param>
/// <param name="Findings">Findings with a time, those read first with the letter by which they are read.</param>
/// <param name="Events">What was noted on board, with how it ended.</param>
/// <param name="Ratings">The student's own load ratings, in the order given.</param>
/// <param name="Wind">Wind during the drill.</param>
internal sealed record PlotSource(
    double? ClockZeroMs,
    IReadOnlyList<PlotSpan> Segments,
    IReadOnlyList<PlotSpan> Engine,
    IReadOnlyList<PlotSpan> Excluded,
    IReadOnlyList<PlotPause> Paused,
    double? StoppedMs,
    IReadOnlyList<PlotEpisode> Episodes,
    IReadOnlyList<PlotFinding> Findings,
    IReadOnlyList<PlotEvent> Events,
    IReadOnlyList<int> Ratings,
    WindReport? Wind
)
{
    /// <summary>A report for drawing, with what was noted on board beside it.</summary>
    public static PlotSource Of(
        ScoreReport report,
        ScoreReport? engine = null,
        IReadOnlyList<AttemptEvent>? events = null,
        IReadOnlyList<int>? ratings = null
    ) =>
        new(
            PlotDescription.ClockZero(report) is { } zero ? Milliseconds(zero) : null,
            Flown(report),
            engine is null ? [] : Flown(engine),
            [
                .. (report.Corrections?.Excluded ?? []).Select(s => new PlotSpan(
                    -1,
                    s.Reason,
                    "",
                    Milliseconds(s.StartUtc),
                    Milliseconds(s.EndUtc)
                )),
            ],
            [
                .. report.Paused.Select(p => new PlotPause(
                    p.Why == PauseReason.Traffic ? T["traffic | in a sentence"] : T["instructor has control | in a sentence"],
                    Milliseconds(p.FromUtc),
                    Milliseconds(p.ToUtc)
                )),
            ],
            report.StoppedUtc is { } stoppedUtc ? Milliseconds(stoppedUtc) : null,
            [
                .. report.Saturation.Select(e => new PlotEpisode(
                    PlotDescription.Together(e),
                    Milliseconds(e.StartUtc),
                    Milliseconds(e.EndUtc)
                )),
            ],
            [
                .. report
                    .Findings.Index()
                    .Where(f => f.Item.AtUtc is not null)
                    .Select(f => new PlotFinding(
                        PlotDescription.Letter(f.Index),
                        KebabCase.Of(f.Item.Parameter),
                        Milliseconds(f.Item.AtUtc!.Value)
                    )),
            ],
            [
                .. EventTimeline
                    .Of(report, events ?? [])
                    .Select(e => new PlotEvent(
                        e.Mark,
                        Milliseconds(e.AtUtc),
                        e.ToUtc is { } to ? Milliseconds(to) : null,
                        e.What,
                        e.Outcome
                    )),
            ],
            ratings ?? [],
            report.Wind
        );

    /// <summary>Where the browser fetches the drill by the clock, for the entry as flown.</summary>
    public static string? TimelineUrl(ScoreReport report) =>
        report is { Found: true, Entry: { } entry }
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"api/v1/drills/{Uri.EscapeDataString(report.Drill.Slug)}/timeline?version={report.Drill.Version}"
                    + $"&headingMagDeg={entry.HeadingMagDeg}&altitudeFt={entry.AltitudeFt}&airspeedKt={entry.AirspeedKt}"
                    + $"&mirrored={Word(entry.Mirrored)}&halfRate={Word(entry.HalfRate)}"
            )
            : null;

    private static IReadOnlyList<PlotSpan> Flown(ScoreReport report) =>
        [
            .. report
                .Segments.Where(s => s.StartUtc is not null && s.EndUtc is not null)
                .Select(s => new PlotSpan(
                    s.Index,
                    s.Name,
                    KebabCase.Of(s.Verdict),
                    Milliseconds(s.StartUtc!.Value),
                    Milliseconds(s.EndUtc!.Value)
                )),
        ];

    private static string Word(bool yes) => yes ? "true" : "false";

    private static double Milliseconds(DateTimeOffset instant) => (instant - DateTimeOffset.UnixEpoch).TotalMilliseconds;
}

/// <summary>A segment or another stretch of time on the plots.</summary>
internal sealed record PlotSpan(int Index, string Name, string Verdict, double StartMs, double EndMs);

/// <summary>A time of saturation, with what ran away in it.</summary>
internal sealed record PlotEpisode(string What, double StartMs, double EndMs);

/// <summary>A finding at its time.</summary>
/// <param name="Letter">Its letter in the list of findings; null for those further down.</param>
internal sealed record PlotFinding(string? Letter, string Parameter, double AtMs);

/// <summary>A pause noted on board, and why.</summary>
internal sealed record PlotPause(string Why, double StartMs, double EndMs);

/// <summary>Something noted on board, as <see cref="TimelineEntry"/> has it.</summary>
internal sealed record PlotEvent(EventMark Mark, double AtMs, double? ToMs, string What, string Outcome);
