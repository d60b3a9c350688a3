using System.Globalization;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// What load tasks and checks did to the flying. Everything comes from notes taken on board, in any order and possibly twice, and from the
/// measured drill: without notes there is nothing to tell.
/// </summary>
public static class Workload
{
    /// <summary>The workload of a measured drill; null where nobody took notes.</summary>
    /// <param name="drill">The drill as flown.</param>
    /// <param name="saturation">Its episodes of saturation.</param>
    /// <param name="events">What was noted on board.</param>
    public static WorkloadReport? Of(FlownDrill drill, IReadOnlyList<SaturationEpisode> saturation, IReadOnlyList<FlightEvent>? events)
    {
        if (events is null)
            return null;
        // Devices send a note more than once, and in any order.
        var noted = BoardNotes.InOrder(events)!;
        var tasks = GivenTasks.Of(drill, noted);
        var checks = CheckTimes.Of(drill, noted);
        var loaded = LoadedTimes(tasks, saturation);
        var minutes = drill.FlownS / 60;
        var perMin = minutes > 0 ? (tasks.Count + checks.Count(c => c.DoneUtc is not null)) / minutes : 0;
        return new(
            tasks,
            checks,
            loaded,
            LoadChanges.Of(drill, tasks, checks),
            [.. saturation.Select(e => EpisodeDetails.Of(drill, e, tasks, noted))],
            Math.Round(perMin, 2),
            Level(perMin)
        )
        {
            Ratings = Ratings(drill, noted),
        };
    }

    private static List<LoadRatingNote> Ratings(FlownDrill drill, IReadOnlyList<FlightEvent> noted)
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        return
        [
            .. from note in noted
            where note.Kind == EventKinds.LoadRating
            let atS = (note.AtUtc - epochUtc).TotalSeconds
            where atS >= drill.Alignment.StartS && atS <= drill.Alignment.EndS + WorkloadModel.RatingS
            let rating = int.TryParse(note.Detail?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var given) ? given : 0
            where rating is >= 1 and <= 5
            select new LoadRatingNote(note.AtUtc, rating),
        ];
    }

    private static int Level(double perMin) =>
        perMin switch
        {
            >= WorkloadModel.Level5PerMin => 5,
            >= WorkloadModel.Level4PerMin => 4,
            >= WorkloadModel.Level3PerMin => 3,
            >= WorkloadModel.Level2PerMin => 2,
            _ => 1,
        };

    /// <summary>
    /// From the task to its answer; where none was noted, for the usual time, and on through an episode of saturation that it brought on.
    /// </summary>
    private static List<LoadedTime> LoadedTimes(IReadOnlyList<LoadTaskResult> tasks, IReadOnlyList<SaturationEpisode> saturation)
    {
        var apart = new List<LoadedTime>();
        foreach (var task in tasks)
        {
            var endUtc = GivenTasks.EndUtc(task);
            if (task.AnsweredUtc is null)
                endUtc = saturation.Where(e => GivenTasks.BroughtOn(task, e)).Select(e => e.EndUtc).Append(endUtc).Max();
            if (apart is [.., var last] && task.GivenUtc <= last.EndUtc)
                apart[^1] = new(last.StartUtc, endUtc > last.EndUtc ? endUtc : last.EndUtc, [.. last.Tasks, task.Name]);
            else
                apart.Add(new(task.GivenUtc, endUtc, [task.Name]));
        }

        return apart;
    }
}
