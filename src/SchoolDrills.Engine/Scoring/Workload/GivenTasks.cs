namespace SchoolDrills.Engine.Scoring;

/// <summary>Load tasks as they were given, each with the answer that belongs to it.</summary>
internal static class GivenTasks
{
    /// <summary>The tasks given while the drill was flown, in time.</summary>
    /// <param name="drill">The drill as flown.</param>
    /// <param name="noted">Notes in time, each once.</param>
    public static IReadOnlyList<LoadTaskResult> Of(FlownDrill drill, IReadOnlyList<FlightEvent> noted)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var (startUtc, endUtc) = (epochUtc.AddSeconds(drill.Alignment.StartS), epochUtc.AddSeconds(drill.Alignment.EndS));
        var answers = noted.Where(e => e.Kind is EventKinds.TaskAnswered or EventKinds.TaskAnsweredWrong).ToList();
        var answersNoted = answers.Count > 0;
        var given = noted.Where(e => e.Kind == EventKinds.TaskGiven && e.AtUtc >= startUtc && e.AtUtc < endUtc).ToList();
        var results = new List<LoadTaskResult>();
        for (var k = 0; k < given.Count; k++)
        {
            var task = given[k];
            var name = NameOf(drill, task, epochUtc);
            var latestUtc = task.AtUtc.AddSeconds(WorkloadModel.LongestAnswerS);
            var answer =
                answers.Find(a => Names(a, name) && a.AtUtc >= task.AtUtc && a.AtUtc <= latestUtc)
                // One without a name answers the task given last.
                ?? answers.Find(a =>
                    string.IsNullOrWhiteSpace(a.Detail)
                    && a.AtUtc >= task.AtUtc
                    && a.AtUtc <= latestUtc
                    && (k + 1 == given.Count || a.AtUtc < given[k + 1].AtUtc)
                );
            if (answer is not null)
                answers.Remove(answer);
            var delayS = answer is null ? (double?)null : Math.Round((answer.AtUtc - task.AtUtc).TotalSeconds, 1);
            results.Add(
                new(
                    name,
                    SegmentAt(drill, (task.AtUtc - epochUtc).TotalSeconds),
                    task.AtUtc,
                    answer?.AtUtc,
                    delayS,
                    answer switch
                    {
                        null => answersNoted && !IsBrokenOff(drill, task, epochUtc) ? LoadOutcome.Missed : LoadOutcome.NotNoted,
                        { Kind: EventKinds.TaskAnsweredWrong } => LoadOutcome.Wrong,
                        _ => delayS > WorkloadModel.LateS ? LoadOutcome.Late : LoadOutcome.InTime,
                    }
                )
            );
        }

        return results;
    }

    /// <summary>When a task no longer loads the pilot.</summary>
    public static DateTimeOffset EndUtc(LoadTaskResult task) => task.AnsweredUtc ?? task.GivenUtc.AddSeconds(WorkloadModel.TaskS);

    /// <summary>An episode began soon after the task was given.</summary>
    public static bool BroughtOn(LoadTaskResult task, SaturationEpisode episode) =>
        (episode.StartUtc - task.GivenUtc).TotalSeconds is >= 0 and <= WorkloadModel.CauseS;

    /// <summary>The segment flown at a time, the nearest where none was.</summary>
    public static int SegmentAt(FlownDrill drill, double atS) =>
        drill.Segments.OfType<FlownSegment>().MinBy(s => Math.Max(s.Match.StartS - atS, Math.Max(atS - s.Match.EndS, 0)))?.Segment.Index
        ?? 0;

    /// <summary>A pause or the end of a stopped drill left no time to answer.</summary>
    private static bool IsBrokenOff(FlownDrill drill, FlightEvent task, DateTimeOffset epochUtc)
    {
        var givenS = (task.AtUtc - epochUtc).TotalSeconds;
        return drill.Excluded.PausedIn(givenS, givenS + WorkloadModel.LateS) || drill.Alignment.StoppedS < givenS + WorkloadModel.LateS;
    }

    private static bool Names(FlightEvent answer, string task) =>
        string.Equals(answer.Detail?.Trim(), task, StringComparison.OrdinalIgnoreCase);

    /// <summary>As noted, else that of the task which the drill plans nearest.</summary>
    private static string NameOf(FlownDrill drill, FlightEvent task, DateTimeOffset epochUtc)
    {
        if (!string.IsNullOrWhiteSpace(task.Detail))
            return task.Detail.Trim();
        var atS = (task.AtUtc - epochUtc).TotalSeconds - drill.Alignment.ClockStartS;
        return drill.Timeline.LoadTasks.MinBy(t => Math.Abs(t.AtS - atS))?.Name ?? "load task";
    }
}
