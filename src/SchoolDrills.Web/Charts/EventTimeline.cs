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
            string outcome = task.Outcome switch
            {
                LoadOutcome.Missed => T["not answered"],
                LoadOutcome.NotNoted => T["answer not noted"],
                _ => "",
            };
            yield return new(mark, task.GivenUtc, T["Task: {0}", task.Name], outcome, task.AnsweredUtc);
            if (task is { AnsweredUtc: { } at, DelayS: { } delayS })
            {
                var (what, after) = (T["Answer: {0}", task.Name], Figures.Quantity(delayS, "s"));
                yield return task.Outcome switch
                {
                    LoadOutcome.Wrong => new(EventMark.AnsweredWrong, at, what, T["wrong, after {0}", after]),
                    LoadOutcome.Late => new(EventMark.AnsweredLate, at, what, T["right but late, after {0}", after]),
                    _ => new(EventMark.Answered, at, what, T["right, after {0}", after]),
                };
            }
        }

        foreach (var check in report.Workload?.Checks ?? [])
        {
            yield return check switch
            {
                { DoneUtc: null } => new(EventMark.CheckMissed, check.ToUtc, check.Name, T["not done in its window"]),
                { Outcome: LoadOutcome.Late, DoneUtc: { } late } => new(
                    EventMark.CheckLate,
                    late,
                    check.Name,
                    T["done {0} late", Figures.Quantity((late - check.ToUtc).TotalSeconds, "s")]
                ),
                _ => new(EventMark.Check, check.DoneUtc.Value, check.Name, T["done in time"]),
            };
        }

        foreach (var pause in report.Paused)
        {
            var (mark, what) =
                pause.Why == PauseReason.Traffic ? (EventMark.Traffic, T["Traffic"]) : (EventMark.Control, T["Instructor has control"]);
            var length = Figures.Quantity((pause.ToUtc - pause.FromUtc).TotalSeconds, "s");
            yield return new(
                mark,
                pause.FromUtc,
                what,
                pause.EndNoted ? T["not judged for {0}", length] : T["not judged for {0}; its end was not noted", length],
                pause.ToUtc
            );
        }

        if (report.StoppedUtc is { } stoppedUtc)
            yield return new(EventMark.Stopped, stoppedUtc, T["Drill stopped"], T["nothing after it is judged"]);
    }

    private static TimelineEntry AsNoted(AttemptEvent noted)
    {
        var detail = noted.Detail?.Trim() ?? "";
        var isNamed = detail.Length > 0;
        (EventMark Mark, string What, string Outcome) told = noted.Kind switch
        {
            EventKinds.ClockStart => (EventMark.Clock, T["Clock started"], detail),
            EventKinds.TaskGiven => (EventMark.Task, isNamed ? T["Task: {0}", detail] : T["Task"], T["outside the drill"]),
            EventKinds.TaskAnswered => (
                EventMark.Answered,
                isNamed ? T["Answer: {0}", detail] : T["Answer"],
                T["matches no task of this drill"]
            ),
            EventKinds.TaskAnsweredWrong => (
                EventMark.AnsweredWrong,
                isNamed ? T["Wrong answer: {0}", detail] : T["Wrong answer"],
                T["matches no task of this drill"]
            ),
            EventKinds.CheckDone => (EventMark.Check, isNamed ? detail : T["Check"], T["done; matches no check of this drill"]),
            EventKinds.LoadRating => (EventMark.Rating, T["Load rating"], isNamed ? T["{0} of 5", detail] : ""),
            EventKinds.ReliefUsed => (EventMark.Relief, T["Relief"], detail),
            EventKinds.Traffic => (EventMark.Traffic, T["Traffic"], detail),
            EventKinds.TrafficClear => (EventMark.Note, T["Clear of traffic"], detail),
            EventKinds.TookControl => (EventMark.Control, T["Instructor has control"], detail),
            EventKinds.HandedBack => (EventMark.Note, T["Student has control"], detail),
            EventKinds.Abort => (EventMark.Note, T["Stopped"], T["outside the drill"]),
            EventKinds.Note => (EventMark.Note, isNamed ? detail : T["Note"], ""),
            _ => (EventMark.Note, Sentence(noted.Kind.Replace('-', ' ')), detail),
        };
        return new(told.Mark, noted.AtUtc, told.What, told.Outcome);
    }

    private static bool Is(DateTimeOffset a, DateTimeOffset b) => Math.Abs((a - b).TotalSeconds) <= SameS;

    private static string Sentence(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];
}
