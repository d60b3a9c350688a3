using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>
/// Finds times when the pilot was overloaded: two or more of altitude, heading (turn rate in a turn) and airspeed outside tolerance
/// together for some seconds. One parameter outside alone is a drift, not saturation.
/// </summary>
public static class Saturation
{
    /// <summary>Finds the episodes of a drill.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="flown">The flown segments, null where skipped.</param>
    /// <param name="standard">Tolerances.</param>
    public static IReadOnlyList<SaturationEpisode> Of(FlightState state, IEnumerable<FlownSegment?> flown, ToleranceStandard standard)
    {
        var episodes = new List<(double StartS, double EndS, HashSet<Parameter> Parameters, double Peak, double TogetherS)>();
        foreach (var segment in flown.OfType<FlownSegment>())
        {
            for (var i = segment.First; i < segment.End; i++)
            {
                var outside = Outside(segment, standard, i, out var measured);
                if (outside.Count < FindingThresholds.SaturatedParameters)
                    continue;
                var atS = state.TimeS[i];
                var untilS = i + 1 < state.Count ? Math.Min(state.TimeS[i + 1], atS + state.Track.GapS) : atS;
                var peak = (double)outside.Count / measured;
                if (episodes.Count > 0 && atS - episodes[^1].EndS <= FindingThresholds.EpisodePauseS)
                {
                    episodes[^1].Parameters.UnionWith(outside);
                    episodes[^1] = (
                        episodes[^1].StartS,
                        untilS,
                        episodes[^1].Parameters,
                        Math.Max(episodes[^1].Peak, peak),
                        episodes[^1].TogetherS + untilS - atS
                    );
                }
                else
                {
                    episodes.Add((atS, untilS, [.. outside], peak, untilS - atS));
                }
            }
        }

        var epoch = state.Track.Source.EpochUtc;
        return
        [
            .. episodes
                .Where(e =>
                    e.EndS - e.StartS >= FindingThresholds.ShortestEpisodeS
                    && e.TogetherS >= FindingThresholds.TogetherShare * (e.EndS - e.StartS)
                )
                .Select(e => new SaturationEpisode(
                    epoch.AddSeconds(e.StartS),
                    epoch.AddSeconds(e.EndS),
                    [.. e.Parameters.Order()],
                    Math.Round(e.Peak, 2)
                )),
        ];
    }

    private static List<Parameter> Outside(FlownSegment segment, ToleranceStandard standard, int i, out int measured)
    {
        measured = 0;
        var outside = new List<Parameter>(3);
        foreach (
            var parameter in (ReadOnlySpan<Parameter>)
                [Parameter.Altitude, segment.Segment.TurnDeg == 0 ? Parameter.Heading : Parameter.TurnRate, Parameter.Airspeed]
        )
        {
            var deviation = segment.Deviation(parameter, i);
            if (!double.IsFinite(deviation) || standard.WithinFor(parameter, segment.Segment) is not { } within)
                continue;
            measured++;
            if (Math.Abs(deviation) > within)
                outside.Add(parameter);
        }

        return outside;
    }
}
