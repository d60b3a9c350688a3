using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Benchmarks;

/// <summary>
/// Dynamic time warping as textbooks have it (Sakoe and Chiba, 1978, without a window): every second of the flight against every second
/// of the drill, by turn rate and vertical speed. It finds no drill in a longer flight; it is here as the usual way to align two
/// series and for what that costs.
/// </summary>
internal static class TextbookWarping
{
    public static double Distance(FlightState state, DrillTimeline timeline)
    {
        var seconds = (int)(state.TimeS[^1] - state.TimeS[0]);
        var flown = new (double Turn, double Vertical)[seconds];
        for (int s = 0, i = 0; s < seconds; s++)
        {
            while (state.TimeS[i] - state.TimeS[0] < s)
                i++;
            flown[s] = (state.TurnRateDegPerS[i] / 0.9, state.VerticalSpeedFpm[i] / 260);
        }

        var asked = timeline
            .Segments.SelectMany(s =>
                Enumerable.Repeat((Turn: s.TurnRateDegPerS / 0.9, Vertical: s.VerticalSpeedFpm / 260), (int)s.DurationS)
            )
            .ToArray();
        var cost = new double[flown.Length + 1, asked.Length + 1];
        for (var i = 0; i <= flown.Length; i++)
            cost[i, 0] = double.PositiveInfinity;
        for (var j = 0; j <= asked.Length; j++)
            cost[0, j] = double.PositiveInfinity;
        cost[0, 0] = 0;
        for (var i = 1; i <= flown.Length; i++)
        {
            for (var j = 1; j <= asked.Length; j++)
            {
                var (turn, vertical) = (flown[i - 1].Turn - asked[j - 1].Turn, flown[i - 1].Vertical - asked[j - 1].Vertical);
                cost[i, j] = (turn * turn) + (vertical * vertical) + Math.Min(cost[i - 1, j - 1], Math.Min(cost[i - 1, j], cost[i, j - 1]));
            }
        }

        return cost[flown.Length, asked.Length];
    }
}
