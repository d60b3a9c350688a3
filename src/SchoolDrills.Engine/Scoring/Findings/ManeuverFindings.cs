using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What a segment's maneuver shows: its start, roll-out, level-off, rates and direction.</summary>
internal sealed class ManeuverFindings(FlownDrill drill, FindingNotes notes)
{
    private readonly FlightState state = drill.State;
    private readonly IReadOnlyList<FlownSegment?> flown = drill.Segments;

    /// <summary>Notes the findings on one flown segment.</summary>
    public void Of(int k, FlownSegment segment)
    {
        Timing(k, segment);
        RollOut(k, segment);
        LevelOff(k, segment);
        Rates(k, segment);
        WrongWay(k, segment);
    }

    private void Timing(int k, FlownSegment segment)
    {
        // The start of a speed change is known to some ten seconds only.
        if (segment.Segment.Kind == SegmentKind.SpeedChange)
            return;
        // Straights are ended by the clock, turns by heading: only the length of a straight says how the clock was used.
        if (k == 0 || flown[k - 1] is not { } before || !IsStraight(before))
            return;
        var lateS = before.Match.DurationS - before.Segment.DurationS;
        var clockS = drill.ClockErrorS[k];
        if (double.IsNaN(clockS))
            return;
        var others = Enumerable.Range(1, Math.Max(0, flown.Count - 2)).Count(i => i != k - 1 && IsStraight(flown[i]));
        // Nothing shows when the straight that opens a drill was begun: its end is late or early only by a clock that two others tell.
        if (k == 1 && others < 2 && !IsStartSet(before))
            return;
        // A clock that this straight alone tells says nothing of it; its length does.
        if (k > 1 && others == 0)
            clockS = lateS;
        // A straight cut short to win back lost time is good clock work. One begun late is not thereby held too long, though some seconds
        // could have been made good in it.
        if (lateS * clockS < 0)
            return;
        lateS = Math.Sign(clockS) * Math.Min(Math.Abs(clockS), Math.Abs(lateS) + FindingThresholds.MadeGoodS);
        if (Math.Abs(lateS) < FindingThresholds.TimingS)
            return;
        notes.Add(
            Math.Abs(lateS) / FindingThresholds.TimingS,
            k,
            lateS > 0 ? FindingKind.LateStart : FindingKind.EarlyStart,
            Parameter.Timing,
            Math.Abs(lateS),
            segment.Match.StartS,
            $"{FindingNotes.Maneuver(segment.Segment)} started {Math.Abs(lateS):0} s {(lateS > 0 ? "late" : "early")}.",
            FindingNotes.Beyond(
                Math.Abs(lateS),
                Tolerance(Parameter.Timing, segment, FindingThresholds.TimingS),
                double.Hypot(before.Match.StartSigmaS, segment.Match.StartSigmaS)
            )
        );
    }

    private static bool IsStraight(FlownSegment? segment) => segment?.Segment.Kind == SegmentKind.LevelStraight;

    /// <summary>An instructor put the start of the segment that opens the drill.</summary>
    private bool IsStartSet(FlownSegment opening) => opening.Match.StartSigmaS == 0 && !drill.Alignment.CutBefore;

    private void RollOut(int k, FlownSegment segment)
    {
        if (segment.Segment.TurnDeg == 0 || Next(k) is not { } next || next.Segment.TurnDeg != 0)
            return;
        var sense = Math.Sign(segment.Segment.TurnDeg);
        var worstDeg = 0.0;
        var atS = next.Match.StartS;
        var lastDeg = double.NaN;
        foreach (var i in SamplesUntil(next, next.Match.StartS + FindingThresholds.RollOutLookS))
        {
            lastDeg = sense * next.Deviation(Parameter.Heading, i);
            if (lastDeg > worstDeg)
                (worstDeg, atS) = (lastDeg, state.TimeS[i]);
        }

        if (worstDeg > FindingThresholds.RollOutDeg)
        {
            notes.Add(
                worstDeg / FindingThresholds.RollOutDeg * FindingThresholds.RollOutOvershootWeight,
                k,
                FindingKind.OvershotHeading,
                Parameter.Heading,
                worstDeg,
                atS,
                $"Rolled out {worstDeg:0}° past {TimelineCalls.Heading(next.Segment.StartHeadingMagDeg)}.",
                Beyond(worstDeg)
            );
        }
        else if (-lastDeg > FindingThresholds.RollOutDeg)
        {
            notes.Add(
                -lastDeg / FindingThresholds.RollOutDeg,
                k,
                FindingKind.UndershotHeading,
                Parameter.Heading,
                -lastDeg,
                atS,
                $"Rolled out {-lastDeg:0}° short of {TimelineCalls.Heading(next.Segment.StartHeadingMagDeg)}.",
                Beyond(-lastDeg)
            );
        }

        double Beyond(double deg) =>
            FindingNotes.Beyond(deg, Tolerance(Parameter.Heading, next, FindingThresholds.RollOutDeg), state.HeadingSigmaDeg);
    }

    private void LevelOff(int k, FlownSegment segment)
    {
        if (segment.Segment.VerticalSpeedFpm == 0)
            return;
        var sense = Math.Sign(segment.Segment.VerticalSpeedFpm);
        var targetFt = segment.Segment.EndAltitudeFt;
        double past = double.NegativeInfinity,
            last = double.NaN,
            atS = segment.Match.EndS;
        var levelNext = Next(k) is { } next && next.Segment.VerticalSpeedFpm == 0 ? next : null;
        foreach (
            var i in Enumerable
                .Range(segment.First, segment.End - segment.First)
                .Concat(levelNext is null ? [] : SamplesUntil(levelNext, levelNext.Match.StartS + FindingThresholds.LevelOffLookS))
                .Where(segment.Counts)
        )
        {
            last = sense * (segment.AltitudeFt(i) - targetFt);
            if (last > past)
                (past, atS) = (last, state.TimeS[i]);
        }

        if (past > FindingThresholds.LevelOffFt)
        {
            notes.Add(
                past / FindingThresholds.LevelOffFt * FindingThresholds.LevelOffOvershootWeight,
                k,
                FindingKind.AltitudeOvershoot,
                Parameter.Altitude,
                past,
                atS,
                $"Went {ParameterFormat.Text(past, Parameter.Altitude)} {(sense > 0 ? "above" : "below")} "
                    + $"{ParameterFormat.Altitude(targetFt)} at the level-off.",
                Beyond(past)
            );
        }
        else if (levelNext is not null && past < -FindingThresholds.LevelOffFt)
        {
            notes.Add(
                -past / FindingThresholds.LevelOffFt,
                k,
                FindingKind.AltitudeUndershoot,
                Parameter.Altitude,
                -past,
                atS,
                $"Levelled off {ParameterFormat.Text(-past, Parameter.Altitude)} short of {ParameterFormat.Altitude(targetFt)}.",
                Beyond(-past)
            );
        }

        double Beyond(double ft) =>
            FindingNotes.Beyond(ft, Tolerance(Parameter.Altitude, segment, FindingThresholds.LevelOffFt), drill.AltitudeSigmaFt);
    }

    private void Rates(int k, FlownSegment segment)
    {
        foreach (var deviation in drill.Deviations[k])
        {
            var (limit, target) = deviation.Parameter switch
            {
                Parameter.VerticalSpeed => (FindingThresholds.MeanVerticalSpeedFpm, segment.Segment.VerticalSpeedFpm),
                Parameter.TurnRate => (FindingThresholds.MeanTurnRateDegPerS, segment.Segment.TurnRateDegPerS),
                _ => (double.PositiveInfinity, 0),
            };
            if (target == 0 || deviation.MeasuredS < FindingThresholds.LeastRateS)
                continue;
            var over = deviation.Mean * Math.Sign(target);
            if (Math.Abs(over) < limit)
                continue;
            if (deviation.Parameter == Parameter.TurnRate && over < -(1 + FindingThresholds.TurnedShare) * Math.Abs(target))
            {
                WhollyWrongWay(k, segment);
                continue;
            }

            notes.Add(
                Math.Abs(over) / limit,
                k,
                over > 0 ? FindingKind.RateHigh : FindingKind.RateLow,
                deviation.Parameter,
                Math.Abs(over),
                segment.Match.StartS,
                deviation.Parameter == Parameter.VerticalSpeed
                    ? $"{(target > 0 ? "Climbed" : "Descended")} at {Instead(target, over, Parameter.VerticalSpeed)}."
                    : $"Turned at {Instead(target, over, Parameter.TurnRate)}.",
                FindingNotes.Beyond(
                    Math.Abs(over),
                    Math.Min(limit, deviation.Within),
                    deviation.Sigma / Math.Sqrt(Math.Max(1, deviation.MeasuredS / FindingThresholds.RateErrorLastsS))
                )
            );
        }
    }

    private void WhollyWrongWay(int k, FlownSegment segment)
    {
        var (flownTo, planned) = segment.Segment.TurnDeg > 0 ? ("left", "right") : ("right", "left");
        notes.Add(
            FindingThresholds.WrongWayWeight,
            k,
            FindingKind.WrongDirection,
            Parameter.Heading,
            Math.Abs(segment.Segment.TurnDeg),
            segment.Match.StartS,
            $"Turned {flownTo} instead of {planned}."
        );
    }

    private static string Instead(double target, double over, Parameter parameter) =>
        $"{ParameterFormat.Text(Math.Abs(target) + over, parameter)} instead of {ParameterFormat.Text(Math.Abs(target), parameter)}";

    private void WrongWay(int k, FlownSegment segment)
    {
        // A turn broken off by a pause may have been gone back from and begun again.
        if (segment.Segment.TurnDeg == 0 || drill.Excluded.PausedIn(segment.Match.StartS, segment.Match.EndS))
            return;
        var sense = Math.Sign(segment.Segment.TurnDeg);
        var counted = Enumerable.Range(segment.First, segment.End - segment.First).Where(segment.Counts).ToList();
        if (counted.Count == 0)
            return;
        var farthest = counted.MinBy(i => sense * state.HeadingMagDeg[i]);
        var wrongDeg = sense * (state.HeadingMagDeg[counted[0]] - state.HeadingMagDeg[farthest]);
        // Weaving about the old heading is not a turn, and coming back to it is not a turn away from it.
        if (!WrongTurn.IsIn(state, counted[0], farthest, segment.Segment.TurnRateDegPerS))
            return;
        if (
            -sense * Angles.DifferenceDeg(state.HeadingMagDeg[farthest], segment.Segment.StartHeadingMagDeg)
            is > -FindingThresholds.MostPastDeg
                and < FindingThresholds.WrongWayDeg
        )
        {
            return;
        }
        // Rolling out of the turn before carries the heading on a little in the old sense.
        var carryDeg = k > 0 && flown[k - 1] is { } before && before.Segment.TurnDeg * sense < 0 ? FindingThresholds.CarryDeg : 0;
        if (wrongDeg - carryDeg < FindingThresholds.WrongWayDeg)
            return;
        notes.Add(
            FindingThresholds.WrongWayWeight,
            k,
            FindingKind.WrongDirection,
            Parameter.Heading,
            wrongDeg,
            segment.Match.StartS,
            $"Turned {wrongDeg:0}° the wrong way before turning {(sense > 0 ? "right" : "left")}.",
            FindingNotes.Beyond(wrongDeg - carryDeg, 0, state.HeadingSigmaDeg)
        );
    }

    /// <summary>What the standard allows, at most what is worth mentioning.</summary>
    private double Tolerance(Parameter parameter, FlownSegment segment, double worthMentioning) =>
        Math.Min(worthMentioning, drill.Standard.WithinFor(parameter, segment.Segment) ?? worthMentioning);

    private FlownSegment? Next(int k) => k + 1 < flown.Count ? flown[k + 1] : null;

    private static IEnumerable<int> SamplesUntil(FlownSegment segment, double untilS) =>
        Enumerable.Range(segment.First, segment.End - segment.First).TakeWhile(i => segment.ElapsedS(i) + segment.Match.AnchorS <= untilS);
}
