using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What came before and after an episode of saturation.</summary>
internal static class EpisodeDetails
{
    public static EpisodeDetail Of(
        FlownDrill drill,
        SaturationEpisode episode,
        IReadOnlyList<LoadTaskResult> tasks,
        IReadOnlyList<FlightEvent> noted
    )
    {
        var epochUtc = drill.State.Track.Source.EpochUtc;
        var onsetS = (episode.StartUtc - epochUtc).TotalSeconds;
        var outSince = episode
            .Parameters.Select(p => (Parameter: p, SinceS: OutsideSince(drill, p, onsetS)))
            .Where(p => double.IsFinite(p.SinceS))
            .OrderBy(p => p.SinceS)
            .ToList();
        var isFirst = outSince.Count == 1 || (outSince.Count > 1 && outSince[1].SinceS > outSince[0].SinceS);
        var before = tasks.LastOrDefault(t => GivenTasks.BroughtOn(t, episode));
        var relief = noted.FirstOrDefault(e =>
            e.Kind == EventKinds.ReliefUsed
            && e.AtUtc >= episode.StartUtc - Seconds(WorkloadModel.ReliefBeforeS)
            && e.AtUtc <= episode.EndUtc
        );
        return new(
            episode.StartUtc,
            isFirst ? outSince[0].Parameter : null,
            isFirst ? epochUtc.AddSeconds(outSince[0].SinceS) : null,
            Math.Round((episode.EndUtc - episode.StartUtc).TotalSeconds, 1),
            before?.Name,
            relief?.AtUtc,
            relief?.Detail,
            relief is null ? null : episode.EndUtc - relief.AtUtc <= Seconds(WorkloadModel.ReliefHelpsS)
        );
    }

    private static TimeSpan Seconds(double s) => TimeSpan.FromSeconds(s);

    /// <summary>Since when a parameter was outside without a break, at the onset; NaN where it was not yet.</summary>
    private static double OutsideSince(FlownDrill drill, Parameter parameter, double onsetS)
    {
        var sinceS = double.NaN;
        foreach (var segment in drill.Segments.OfType<FlownSegment>())
        {
            var first = Math.Max(segment.First, SortedTimes.LowerBound(drill.State.TimeS, onsetS - WorkloadModel.LookBackS));
            for (var i = first; i < segment.End && drill.State.TimeS[i] <= onsetS; i++)
            {
                var isOutside =
                    drill.Standard.WithinFor(parameter, segment.Segment) is { } within
                    && Math.Abs(segment.Deviation(parameter, i)) > within;
                sinceS =
                    !isOutside ? double.NaN
                    : double.IsFinite(sinceS) ? sinceS
                    : drill.State.TimeS[i];
            }
        }

        return sinceS;
    }
}
