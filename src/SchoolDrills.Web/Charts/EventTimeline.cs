using System.Text.Json.Serialization;
using SchoolDrills.Contracts;
using SchoolDrills.Engine;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Charts;

/// <summary>How something noted on board is marked: each by a shape of its own.</summary>
[JsonConverter(typeof(KebabCase<EventMark>))]
public enum EventMark
{
    Clock,
    Task,
    TaskMissed,
    Answered,
    AnsweredLate,
    AnsweredWrong,
    Check,
    CheckLate,
    CheckMissed,
    Rating,
    Relief,
    Traffic,
    Control,
    Stopped,
    Note,
}

/// <summary>One thing on the timeline of a flight.</summary>
/// <param name="Mark">How it is marked.</param>
/// <param name="AtUtc">When.</param>
/// <param name="What">What.</param>
/// <param name="Outcome">How it ended; empty where there is nothing to tell.</param>
/// <param name="ToUtc">Until when it lasted; null for a moment.</param>
public sealed record TimelineEntry(EventMark Mark, DateTimeOffset AtUtc, string What, string Outcome, DateTimeOffset? ToUtc = null)
{
    /// <summary>What went wrong, to be seen as such.</summary>
    public bool IsTrouble =>
        Mark
            is EventMark.TaskMissed
                or EventMark.AnsweredLate
                or EventMark.AnsweredWrong
                or EventMark.CheckLate
                or EventMark.CheckMissed
                or EventMark.Stopped;
}

/// <summary>What was noted on board with how it ended, in time: what the report makes of it, and the rest as it was noted.</summary>
internal static class EventTimeline
{
    /// <summary>The report's times are computed, those of notes are stored: what is this near is the same.</summary>
    private const double SameS = 0.05;

    /// <summary>Kinds that the report tells of where the drill was flown.</summary>
    private static readonly string[] Told =
    [
        EventKinds.TaskGiven,
        EventKinds.TaskAnswered,
        EventKinds.TaskAnsweredWrong,
        EventKinds.CheckDone,
        EventKinds.Traffic,
        EventKinds.TrafficClear,
        EventKinds.TookControl,
        EventKinds.HandedBack,
        EventKinds.Abort,
    ];

    public static IReadOnlyList<TimelineEntry> Of(ScoreReport report, IReadOnlyList<AttemptEvent> events)
    {
        var told = FromReport(report).ToList();
        var rest = events
            .Where(e => !Told.Contains(e.Kind) || !told.Exists(t => Is(t.AtUtc, e.AtUtc) || (t.ToUtc is { } to && Is(to, e.AtUtc))))
            .Select(AsNoted);
        return [.. told.Concat(rest).OrderBy(t => t.AtUtc).ThenBy(t => t.Mark).ThenBy(t => t.What, StringComparer.Ordinal)];
    }

    private static IEnumerable<TimelineEntry> FromReport(ScoreReport report)
    {
        foreach (var task in report.Workload?.Tasks ?? [])
        {
            var mark = task.Outcome == LoadOutcome.Missed ? EventMark.TaskMissed : EventMark.Task;
            var outcome = task.Outcome switch
            {
                LoadOutcome.Missed => "not answered",
                LoadOutcome.NotNoted => "answer not noted",
                _ => "",
            };
            yield return new(mark, task.GivenUtc, $"Task: {task.Name}", outcome, task.AnsweredUtc);
            if (task is { AnsweredUtc: { } at, DelayS: { } delayS })
            {
                var after = $"after {Figures.Quantity(delayS, "s")}";
                yield return task.Outcome switch
                {
                    LoadOutcome.Wrong => new(EventMark.AnsweredWrong, at, $"Answer: {task.Name}", $"wrong, {after}"),
                    LoadOutcome.Late => new(EventMark.AnsweredLate, at, $"Answer: {task.Name}", $"right but late, {after}"),
                    _ => new(EventMark.Answered, at, $"Answer: {task.Name}", $"right, {after}"),
                };
            }
        }

        foreach (var check in report.Workload?.Checks ?? [])
        {
            yield return check switch
            {
                { DoneUtc: null } => new(EventMark.CheckMissed, check.ToUtc, check.Name, "not done in its window"),
                { Outcome: LoadOutcome.Late, DoneUtc: { } late } => new(
                    EventMark.CheckLate,
                    late,
                    check.Name,
                    $"done {Figures.Quantity((late - check.ToUtc).TotalSeconds, "s")} late"
                ),
                _ => new(EventMark.Check, check.DoneUtc.Value, check.Name, "done in time"),
            };
        }

        foreach (var pause in report.Paused)
        {
            var (mark, what) =
                pause.Why == PauseReason.Traffic ? (EventMark.Traffic, "Traffic") : (EventMark.Control, "Instructor has control");
            var lengthS = (pause.ToUtc - pause.FromUtc).TotalSeconds;
            yield return new(
                mark,
                pause.FromUtc,
                what,
                $"not judged for {Figures.Quantity(lengthS, "s")}{(pause.EndNoted ? "" : "; its end was not noted")}",
                pause.ToUtc
            );
        }

        if (report.StoppedUtc is { } stoppedUtc)
            yield return new(EventMark.Stopped, stoppedUtc, "Drill stopped", "nothing after it is judged");
    }

    private static TimelineEntry AsNoted(AttemptEvent noted)
    {
        var detail = noted.Detail?.Trim() ?? "";
        var (mark, what, outcome) = noted.Kind switch
        {
            EventKinds.ClockStart => (EventMark.Clock, "Clock started", detail),
            EventKinds.TaskGiven => (EventMark.Task, Named("Task", detail), "outside the drill"),
            EventKinds.TaskAnswered => (EventMark.Answered, Named("Answer", detail), "belongs to no task of the drill"),
            EventKinds.TaskAnsweredWrong => (EventMark.AnsweredWrong, Named("Wrong answer", detail), "belongs to no task of the drill"),
            EventKinds.CheckDone => (EventMark.Check, detail.Length > 0 ? detail : "Check", "done; belongs to no window of the drill"),
            EventKinds.LoadRating => (EventMark.Rating, "Load rating", detail.Length > 0 ? $"{detail} of 5" : ""),
            EventKinds.ReliefUsed => (EventMark.Relief, "Relief", detail),
            EventKinds.Traffic => (EventMark.Traffic, "Traffic", detail),
            EventKinds.TrafficClear => (EventMark.Note, "Clear of traffic", detail),
            EventKinds.TookControl => (EventMark.Control, "Instructor has control", detail),
            EventKinds.HandedBack => (EventMark.Note, "Student has control", detail),
            EventKinds.Abort => (EventMark.Note, "Stopped", "outside the drill"),
            EventKinds.Note => (EventMark.Note, detail.Length > 0 ? detail : "Note", ""),
            _ => (EventMark.Note, Sentence(noted.Kind.Replace('-', ' ')), detail),
        };
        return new(mark, noted.AtUtc, what, outcome);
    }

    private static bool Is(DateTimeOffset a, DateTimeOffset b) => Math.Abs((a - b).TotalSeconds) <= SameS;

    private static string Named(string what, string detail) => detail.Length > 0 ? $"{what}: {detail}" : what;

    private static string Sentence(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];
}
