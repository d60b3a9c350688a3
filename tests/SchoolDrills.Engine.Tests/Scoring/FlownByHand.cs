using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Reconstruction;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// Flights put together second by second, so that the start of every segment is known by construction: turns roll in and out evenly
/// over <see cref="RollS"/>, with the heading change of the drill between the first movements.
/// </summary>
internal sealed class FlownByHand
{
    public const double RollS = 4;

    private const double StepS = 0.1,
        RateDegPerS = 3;

    private readonly SyntheticFlight flight = new(0, 0);

    /// <summary>When each piece was begun, seconds.</summary>
    public List<double> StartsS { get; } = [];

    public double NowS => flight.NowS;

    public FlownByHand Straight(double seconds, double verticalSpeedFpm = 0)
    {
        StartsS.Add(flight.NowS);
        flight.Fly(seconds, 0, verticalSpeedFpm);
        return this;
    }

    /// <summary>A turn at standard rate; the roll-out falls into what follows, as it does in flight.</summary>
    public FlownByHand Turn(double degrees)
    {
        StartsS.Add(flight.NowS);
        var sense = Math.Sign(degrees);
        Roll(0, sense * RateDegPerS);
        // Rolling in and out turn half as far as the full rate would.
        flight.Fly((Math.Abs(degrees) / RateDegPerS) - RollS, sense * RateDegPerS);
        return this;
    }

    /// <summary>Rolls wings level and flies on for the rest of the time.</summary>
    public FlownByHand RollOutAndStraight(double degrees, double seconds)
    {
        StartsS.Add(flight.NowS);
        Roll(Math.Sign(degrees) * RateDegPerS, 0);
        flight.Fly(seconds - RollS);
        return this;
    }

    /// <summary>The timed turns of the catalogue: right 90, left 180, right 360 between straights.</summary>
    public static FlownByHand TimedTurns(double firstStraightS = 60, double sense = 1, bool skipLeft = false, double lastTurnDeg = 360)
    {
        var flown = new FlownByHand().Straight(firstStraightS).Turn(90 * sense).RollOutAndStraight(sense, 30);
        if (!skipLeft)
            flown.Turn(-180 * sense).RollOutAndStraight(-sense, 30);
        return flown.Turn(lastTurnDeg * sense).RollOutAndStraight(sense, 60);
    }

    /// <summary>Another flight of pieces after this one.</summary>
    public FlownByHand Then(Func<FlownByHand, FlownByHand> more) => more(this);

    public ReconstructedFlight Reconstruct() => ReconstructedFlight.Of(flight.Record(airData: true), new ScoringOptions())!;

    public static DrillTimeline Timeline(string slug, bool mirrored = false)
    {
        var template = Scored.Drill(slug);
        return DrillTimeline.Resolve(template, template.Entry with { Mirrored = mirrored });
    }

    public static AlignmentGrid Grid(FlightState state) => new(state, state.TimeS[0], state.TimeS[^1]);

    private void Roll(double fromDegPerS, double toDegPerS)
    {
        var steps = (int)(RollS / StepS);
        for (var i = 0; i < steps; i++)
            flight.Fly(StepS, fromDegPerS + ((toDegPerS - fromDegPerS) * (i + 0.5) / steps));
    }
}
