using System.Text.Json;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Flight;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Whatever is noted on board: devices send it in any order, twice, and with clocks that are wrong.</summary>
public sealed class NotePropertyTests
{
    private static readonly string[] Kinds =
    [
        "clock-start",
        "check",
        "load-task",
        "answered",
        "answered-wrong",
        "relief",
        "load-rating",
        "traffic",
        "traffic-clear",
        "took-control",
        "handed-back",
        "abort",
        "note",
        "mark",
    ];

    /// <summary>The flight reconstructed and the drill found in it once: notes touch neither.</summary>
    private static readonly ReconstructedFlight Flight = ReconstructedFlight.Of(Recording.GoodFile("f13.csv"), new ScoringOptions())!;
    private static readonly FoundDrill Found = DrillFinder.Find(Flight, Scored.Drill("timed-turns"), new ScoringOptions());
    private static readonly ScoreReport Own = Score([]);

    /// <summary>Notes from ten minutes before the drill to ten after it; one in eight drawn is from an impossible time.</summary>
    private static readonly Gen<FlightEvent> AnyEvent =
        from kind in Gen.Elements(Kinds)
        from atS in Gen.Choose(-600, 1000)
        from odd in Gen.Choose(0, 23)
        from detail in Gen.Elements(null, "", "3", "7", "Fuel", " fuel ", "Reciprocal", "\uD800")
        select new FlightEvent(
            kind,
            odd switch
            {
                0 => DateTimeOffset.MinValue,
                1 => DateTimeOffset.MaxValue,
                2 => Own.StartUtc!.Value.AddYears(5),
                _ => Own.StartUtc!.Value.AddSeconds(atS).ToOffset(TimeSpan.FromHours(odd % 3)),
            },
            detail
        );

    private static Gen<FlightEvent[]> Any(int most) =>
        from count in Gen.Choose(0, most)
        from events in AnyEvent.ListOf(count)
        select events.ToArray();

    [Property(Replay = Draw.Seed, MaxTest = 60)]
    public Property Any_order_and_the_same_notes_again_give_one_report() =>
        Draw.Always(
            from events in Any(40)
            from again in Gen.Choose(0, 1000)
            select (events, again),
            drawn =>
            {
                var random = new Random(drawn.again);
                var shuffled = drawn.events.Concat(drawn.events.Where(_ => random.Next(2) == 0)).OrderBy(_ => random.Next()).ToArray();
                Assert.Equal(Text(Score(drawn.events)), Text(Score(shuffled)));
            }
        );

    [Property(Replay = Draw.Seed, MaxTest = 15)]
    public Property Hundreds_of_notes_are_no_more_than_what_they_say() =>
        Draw.Always(
            Any(500),
            events =>
            {
                var report = Score(events);
                Assert.True(report.Found);
                Assert.Equal(Own.Segments.Count, report.Segments.Count);
                Assert.All(
                    report.Paused,
                    p => Assert.True(p.FromUtc < p.ToUtc && p.FromUtc >= report.StartUtc && p.ToUtc <= report.EndUtc)
                );
                Assert.Equal(report.StoppedUtc is not null, report.Overall.Why.Contains("Stopped by", StringComparison.Ordinal));
                Assert.DoesNotContain(report.Findings, f => f.Kind is FindingKind.Aborted or FindingKind.SkippedSegment);
                Assert.True(report.Overall.WithinShare is null or (>= 0 and <= 1));
            }
        );

    [Property(Replay = Draw.Seed, MaxTest = 60)]
    public Property Notes_before_and_after_the_drill_change_nothing_of_it() =>
        Draw.Always(
            Any(20),
            events =>
            {
                var outside = events
                    .Where(e => e.Kind is not "check")
                    .Where(e => e.AtUtc < Own.StartUtc!.Value.AddSeconds(-200) || e.AtUtc > Own.EndUtc!.Value.AddSeconds(301))
                    // What began before the drill and ended in it does matter.
                    .Where(e => e.AtUtc > Own.EndUtc || e.Kind is not ("traffic" or "took-control"))
                    .ToArray();
                Assert.Equal(Text(Own), Text(Score(outside)));
            }
        );

    private static ScoreReport Score(FlightEvent[] events) =>
        AttemptScorer.Score(Flight, Found, Scored.Standard, new ScoringOptions { Events = events }).Scored.Report;

    private static string Text(ScoreReport report) => JsonSerializer.Serialize(report, EngineJson.Default.ScoreReport);
}
