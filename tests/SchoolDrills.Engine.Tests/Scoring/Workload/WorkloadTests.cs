using System.Text.Json;
using SchoolDrills.Accuracy;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Load tasks, checks and relief as noted on board, beside the flying.</summary>
public sealed class WorkloadTests
{
    /// <summary>
    /// The simulated flights say when the pilot looked away (<c>workload_events</c>). With these given as tasks, with or without
    /// answers, the times under load are those of truth by at least eight seconds in ten, both ways.
    /// </summary>
    [Theory]
    [InlineData("track.gpx", true)]
    [InlineData("air.csv", true)]
    [InlineData("track.gpx", false)]
    [InlineData("air.csv", false)]
    public void Times_under_load_are_those_of_the_simulated_pilot(string file, bool answersNoted)
    {
        var (both, told, true_) = (0.0, 0.0, 0.0);
        foreach (var flight in TruthFlight.In(TruthFlight.OwnFolder).Where(f => f.Has(file) && Loads(f).Count > 0))
        {
            var loads = Loads(flight);
            var events = loads.Select(l => new FlightEvent("load-task", l.From, l.What)).ToList();
            if (answersNoted)
                events.AddRange(loads.Select(l => new FlightEvent("answered", l.To, l.What)));
            var report = ReportOf(flight, events, file);
            var loaded = report.Workload!.Loaded;
            told += loaded.Sum(l => (l.EndUtc - l.StartUtc).TotalSeconds);
            true_ += loads.Sum(l => (l.To - l.From).TotalSeconds);
            both += loads.Sum(l => loaded.Sum(t => Math.Max(0, (Min(t.EndUtc, l.To) - Max(t.StartUtc, l.From)).TotalSeconds)));
        }

        Assert.True(true_ > 0);
        Assert.True(both >= 0.8 * true_, $"{both:0} of {true_:0} s under load are told.");
        Assert.True(both >= 0.8 * told, $"{both:0} of {told:0} s told are under load.");
    }

    [Fact]
    public void Answers_in_time_late_wrong_and_missing_are_told_apart()
    {
        var startUtc = Scored.Report("f01.gpx", "box-circles").StartUtc!.Value;
        var tasks = Tasks(
            ("load-task", 60, "Reciprocal"),
            ("answered", 66.5, null),
            ("load-task", 100, "Fuel"),
            ("answered", 135, "fuel"),
            ("load-task", 200, "Time to go"),
            ("answered-wrong", 210, "Time to go"),
            ("load-task", 300, "Frequency")
        );
        Assert.Equal([LoadOutcome.InTime, LoadOutcome.Late, LoadOutcome.Wrong, LoadOutcome.Missed], tasks.Select(t => t.Outcome));
        Assert.Equal([6.5, 35, 10, null], tasks.Select(t => t.DelayS));
        // Without any answer noted, none can be said to be missing.
        Assert.Equal(LoadOutcome.NotNoted, Assert.Single(Tasks(("load-task", 60, "Reciprocal"))).Outcome);

        IReadOnlyList<LoadTaskResult> Tasks(params (string Kind, double AtS, string? Detail)[] events) =>
            Report([.. events.Select(e => new FlightEvent(e.Kind, startUtc.AddSeconds(e.AtS), e.Detail))]).Tasks;
    }

    [Fact]
    public void Notes_in_any_order_and_sent_twice_give_one_result()
    {
        var startUtc = Scored.Report("f01.gpx", "box-circles").StartUtc!.Value;
        var random = new Random(7);
        string[] kinds = ["load-task", "answered", "answered-wrong", "check", "relief", "mark"];
        for (var round = 0; round < 8; round++)
        {
            List<FlightEvent> events =
            [
                .. Enumerable
                    .Range(0, 30)
                    .Select(_ => new FlightEvent(
                        kinds[random.Next(kinds.Length)],
                        startUtc.AddSeconds(random.Next(-30, 900)),
                        random.Next(3) == 0 ? null : $"Task {random.Next(4)}"
                    )),
            ];
            var once = Text(Report(events));
            var shuffled = events.Concat(events.Where(_ => random.Next(2) == 0)).OrderBy(_ => random.Next()).ToList();
            Assert.Equal(once, Text(Report(shuffled)));
        }

        static string Text(WorkloadReport report) => JsonSerializer.Serialize(report, EngineJson.Default.WorkloadReport);
    }

    [Fact]
    public void Nobody_noting_gives_no_workload()
    {
        Assert.Null(Scored.Report("f01.gpx", "box-circles").Workload);
        var nothing = Report([]);
        Assert.Empty(nothing.Tasks);
        Assert.Equal(1, nothing.Level);
        Assert.All(nothing.Checks, c => Assert.Equal(LoadOutcome.Missed, c.Outcome));
    }

    /// <summary>
    /// Two means of four blocks with a variance of 4/3 each differ by 10: their standard error is 0.816, there are six degrees of freedom,
    /// and the 90th percentile of Student's distribution with six is 1.440 (any table of it).
    /// </summary>
    [Fact]
    public void The_interval_of_a_change_is_that_of_Welch() => Assert.Equal((8.8, 11.2), LoadChanges.Welch([0, 2, 0, 2], [10, 12, 10, 12]));

    /// <summary>Truth of f05: from 6:40 to 7:55 on the drill's clock several instruments went unread together.</summary>
    [Fact]
    public void Relief_that_ends_an_episode_has_helped()
    {
        var flight = TruthFlight.In(TruthFlight.OwnFolder).Single(f => f.Id.StartsWith("f05", StringComparison.Ordinal));
        var (from, to, what) = Loads(flight)[^1];
        var report = ReportOf(flight, [new("load-task", from, what), new("relief", to.AddSeconds(-5), "slowed down")]);
        var episode = report.Workload!.Episodes.Single(e => e.ReliefUtc is not null);
        Assert.Equal("slowed down", episode.Relief);
        Assert.Equal(what, episode.After);
        Assert.NotNull(episode.ReliefHelped);
        Assert.Equal(report.Saturation.Count, report.Workload.Episodes.Count);
        Assert.Contains(
            episode.First,
            new Parameter?[] { Parameter.Altitude, Parameter.Heading, Parameter.TurnRate, Parameter.Airspeed, null }
        );
    }

    private static ScoreReport ReportOf(TruthFlight flight, IReadOnlyList<FlightEvent> events, string file = "air.csv") =>
        Scored.Report(flight.Read(file), flight.Drill, new ScoringOptions { Events = events });

    private static WorkloadReport Report(IReadOnlyList<FlightEvent> events) =>
        Scored.Report("f01.gpx", "box-circles", new ScoringOptions { Events = events }).Workload!;

    private static List<(DateTimeOffset From, DateTimeOffset To, string What)> Loads(TruthFlight flight) =>
        flight.Truth.TryGetProperty("workload_events", out var events) && events.ValueKind == JsonValueKind.Array
            ?
            [
                .. events
                    .EnumerateArray()
                    .Select(e =>
                        (
                            e.GetProperty("given_at_utc").GetDateTimeOffset(),
                            e.GetProperty("until_utc").GetDateTimeOffset(),
                            e.GetProperty("what").GetString()!
                        )
                    ),
            ]
            : [];

    private static DateTimeOffset Min(DateTimeOffset a, DateTimeOffset b) => a < b ? a : b;

    private static DateTimeOffset Max(DateTimeOffset a, DateTimeOffset b) => a > b ? a : b;
}
