using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Tells a turn to the wrong side from weaving about a heading, or drifting off it, before a turn.</summary>
internal static class WrongTurn
{
    /// <summary>A stretch has a turn against the planned one in it.</summary>
    /// <param name="state">Reconstructed flight.</param>
    /// <param name="from">First sample.</param>
    /// <param name="to">Last sample.</param>
    /// <param name="turnRateDegPerS">The planned rate, degrees per second, right positive.</param>
    public static bool IsIn(FlightState state, int from, int to, double turnRateDegPerS)
    {
        var first = from;
        for (var i = from; i <= to && i < state.Count; i++)
        {
            while (first + 1 < i && state.TimeS[i] - state.TimeS[first + 1] >= HandlingModel.WrongTurnHeldS)
                first++;
            var heldS = state.TimeS[i] - state.TimeS[first];
            if (
                heldS >= HandlingModel.WrongTurnHeldS
                && (state.HeadingMagDeg[i] - state.HeadingMagDeg[first]) / (heldS * turnRateDegPerS) <= -HandlingModel.WrongTurnRateShare
            )
            {
                return true;
            }
        }

        return false;
    }
}
