using System.Globalization;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Engine.Scoring;

/// <summary>Names what went wrong in an instructor's words, the most telling first and no more than he would say.</summary>
public static class Findings
{
    /// <summary>Most findings told.</summary>
    private const int Most = 10;

    /// <summary>A straight held longer or shorter than asked by this much is worth a word, seconds.</summary>
    private const double TimingS = 8;

    /// <summary>Heading past or short of the roll-out heading worth a word, degrees.</summary>
    private const double RollOutDeg = 12;

    /// <summary>Altitude past or short at the level-off worth a word, feet.</summary>
    private const double LevelOffFt = 110;

    /// <summary>Mean rates off by this much are worth a word.</summary>
    private const double VerticalSpeedFpm = 200, TurnRateDegPerS = 0.8;

    /// <summary>Heading turned the wrong way worth a word, degrees.</summary>
    private const double WrongWayDeg = 10;

    /// <summary>Time outside that makes a drift, seconds.</summary>
    private const double DriftS = 8;

    /// <summary>Time after a segment in which its roll-out and level-off are looked at, seconds.</summary>
    private const double RollOutLookS = 12, LevelOffLookS = 20;

    /// <summary>Looks over a scored drill.</summary>
    /// <param name="drill">The drill as flown.</param>
    public static IReadOnlyList<Finding> Of(FlownDrill drill)
    {
        var (state, alignment, timeline, flown, deviations) = (drill.State, drill.Alignment, drill.Timeline, drill.Segments, drill.Deviations);
        var told = new List<(double Weight, Finding Finding)>();
        var epoch = state.Track.Source.EpochUtc;
        for (var k = 0; k < flown.Count; k++)
        {
            if (flown[k] is not { } segment)
            {
                if (!alignment.OutsideRecording(k) && (!alignment.Aborted || k < LastFlown(flown))) Tell(6, k, FindingKind.SkippedSegment, Parameter.Timing, timeline.Segments[k].DurationS, StartOfNext(k), $"{timeline.Segments[k].Name} was not flown.");
                continue;
            }

            Timing(k, segment);
            RollOut(k, segment);
            LevelOff(k, segment);
            Rates(k, segment);
            WrongWay(k, segment);
            Drifts(k, segment);
        }

        if (drill.Exchanged)
        {
            var turn = timeline.Segments.First(s => s.TurnDeg != 0);
            told.Add((10, new Finding(null, FindingKind.WrongDirection, Parameter.Heading, Math.Abs(turn.TurnDeg), Judge.Unit(Parameter.Heading), epoch.AddSeconds(alignment.StartS), $"Flown with left and right exchanged: the first turn was to the {(turn.TurnDeg > 0 ? "right" : "left")}, the drill asks the {(turn.TurnDeg > 0 ? "left" : "right")}.")));
        }

        if (alignment.Aborted)
        {
            var last = LastFlown(flown);
            var left = timeline.DurationS - timeline.Segments[last].EndS + (alignment.Matches[last].Status == SegmentStatus.Partial ? Math.Max(0, timeline.Segments[last].DurationS - alignment.Matches[last].DurationS) : 0);
            Tell(9, last, FindingKind.Aborted, Parameter.Timing, left, flown[last]!.Match.EndS, $"The drill was given up in {Lower(timeline.Segments[last].Name)}, with {Clock(left)} to go.");
        }

        return [.. told.OrderByDescending(t => t.Weight).Take(Most).Select(t => t.Finding)];

        void Tell(double weight, int index, FindingKind kind, Parameter parameter, double magnitude, double? atS, string text) =>
            told.Add((weight, new Finding(index, kind, parameter, Math.Round(magnitude, 1), Judge.Unit(parameter), atS is { } s ? epoch.AddSeconds(s) : null, text)));

        double? StartOfNext(int k) => flown.Skip(k + 1).FirstOrDefault(f => f is not null)?.Match.StartS;

        void Timing(int k, FlownSegment segment)
        {
            // Straights are ended by the clock, turns by heading: only a straight's length tells of the clock.
            if (k == 0 || flown[k - 1] is not { } before || before.Segment.Kind != SegmentKind.LevelStraight) return;
            var lateS = before.Match.DurationS - before.Segment.DurationS;
            var clockS = drill.ClockErrorS[k];
            if (double.IsNaN(clockS)) return;
            // A straight cut short to win back time lost before it is good clock work, and one begun late is not held too long by that.
            if (Math.Abs(clockS) < Math.Abs(lateS)) lateS = clockS;
            if (Math.Abs(lateS) < TimingS) return;
            Tell(
                Math.Abs(lateS) / TimingS, k, lateS > 0 ? FindingKind.LateStart : FindingKind.EarlyStart, Parameter.Timing, Math.Abs(lateS), segment.Match.StartS,
                $"{Manoeuvre(segment.Segment)} started {Math.Abs(lateS):0} s {(lateS > 0 ? "late" : "early")}.");
        }

        void RollOut(int k, FlownSegment segment)
        {
            if (segment.Segment.TurnDeg == 0 || Next(k) is not { } next || next.Segment.TurnDeg != 0) return;
            var sense = Math.Sign(segment.Segment.TurnDeg);
            var worstDeg = 0.0;
            var atS = next.Match.StartS;
            var lastDeg = double.NaN;
            foreach (var i in SamplesUntil(next, next.Match.StartS + RollOutLookS))
            {
                lastDeg = sense * next.Deviation(Parameter.Heading, i);
                if (lastDeg > worstDeg) (worstDeg, atS) = (lastDeg, state.TimeS[i]);
            }

            if (worstDeg > RollOutDeg)
            {
                Tell(worstDeg / RollOutDeg * 1.5, k, FindingKind.OvershotHeading, Parameter.Heading, worstDeg, atS, $"Rolled out {worstDeg:0}° past {Heading(next.Segment.StartHeadingMagDeg)}.");
            }
            else if (-lastDeg > RollOutDeg)
            {
                Tell(-lastDeg / RollOutDeg, k, FindingKind.UndershotHeading, Parameter.Heading, -lastDeg, atS, $"Rolled out {-lastDeg:0}° short of {Heading(next.Segment.StartHeadingMagDeg)}.");
            }
        }

        void LevelOff(int k, FlownSegment segment)
        {
            if (segment.Segment.VerticalSpeedFpm == 0) return;
            var sense = Math.Sign(segment.Segment.VerticalSpeedFpm);
            var targetFt = segment.Segment.EndAltitudeFt;
            double past = double.NegativeInfinity, last = double.NaN, atS = segment.Match.EndS;
            var levelNext = Next(k) is { } next && next.Segment.VerticalSpeedFpm == 0 ? next : null;
            foreach (var i in Enumerable.Range(segment.First, segment.End - segment.First).Concat(levelNext is null ? [] : SamplesUntil(levelNext, levelNext.Match.StartS + LevelOffLookS)).Where(segment.Counts))
            {
                last = sense * (segment.AltitudeFt(i) - targetFt);
                if (last > past) (past, atS) = (last, state.TimeS[i]);
            }

            if (past > LevelOffFt)
            {
                Tell(past / LevelOffFt * 1.3, k, FindingKind.AltitudeOvershoot, Parameter.Altitude, past, atS, $"Went {Judge.Text(past, Parameter.Altitude)} {(sense > 0 ? "above" : "below")} {Altitude(targetFt)} at the level-off.");
            }
            else if (levelNext is not null && past < -LevelOffFt)
            {
                Tell(-past / LevelOffFt, k, FindingKind.AltitudeUndershoot, Parameter.Altitude, -past, atS, $"Levelled off {Judge.Text(-past, Parameter.Altitude)} short of {Altitude(targetFt)}.");
            }
        }

        void Rates(int k, FlownSegment segment)
        {
            foreach (var deviation in deviations[k])
            {
                var (limit, target) = deviation.Parameter switch
                {
                    Parameter.VerticalSpeed => (VerticalSpeedFpm, segment.Segment.VerticalSpeedFpm),
                    Parameter.TurnRate => (TurnRateDegPerS, segment.Segment.TurnRateDegPerS),
                    _ => (double.PositiveInfinity, 0),
                };
                if (target == 0 || deviation.MeasuredS < 12) continue;
                var over = deviation.Mean * Math.Sign(target);
                if (Math.Abs(over) < limit) continue;
                Tell(
                    Math.Abs(over) / limit, k, over > 0 ? FindingKind.RateHigh : FindingKind.RateLow, deviation.Parameter, Math.Abs(over), segment.Match.StartS,
                    deviation.Parameter == Parameter.VerticalSpeed
                        ? $"{(target > 0 ? "Climbed" : "Descended")} at {Judge.Text(Math.Abs(target) + over, Parameter.VerticalSpeed)} instead of {Judge.Text(Math.Abs(target), Parameter.VerticalSpeed)}."
                        : $"Turned at {Judge.Text(Math.Abs(target) + over, Parameter.TurnRate)} instead of {Judge.Text(Math.Abs(target), Parameter.TurnRate)}.");
            }
        }

        void WrongWay(int k, FlownSegment segment)
        {
            if (segment.Segment.TurnDeg == 0) return;
            var sense = Math.Sign(segment.Segment.TurnDeg);
            var counted = Enumerable.Range(segment.First, segment.End - segment.First).Where(segment.Counts).ToList();
            if (counted.Count == 0) return;
            var wrongDeg = sense * (state.HeadingMagDeg[counted[0]] - state.HeadingMagDeg[counted.MinBy(i => sense * state.HeadingMagDeg[i])]);
            // Rolling out of the turn before carries the heading on a little in the old sense.
            var carryDeg = k > 0 && flown[k - 1] is { } before && before.Segment.TurnDeg * sense < 0 ? 10 : 0;
            if (wrongDeg - carryDeg < WrongWayDeg) return;
            Tell(5, k, FindingKind.WrongDirection, Parameter.Heading, wrongDeg, segment.Match.StartS, $"Turned {wrongDeg:0}° the wrong way before turning {(sense > 0 ? "right" : "left")}.");
        }

        void Drifts(int k, FlownSegment segment)
        {
            foreach (var deviation in deviations[k])
            {
                if (deviation.Exceedances.Count == 0 || deviation.Sigma > deviation.Within / 2) continue;
                var worst = deviation.Exceedances.MaxBy(e => Math.Abs(e.Worst));
                if (worst.DurationS < DriftS) continue;
                var size = Math.Abs(worst.Worst);
                var weight = size / deviation.Within * Math.Min(2, worst.DurationS / 15);
                switch (deviation.Parameter)
                {
                    case Parameter.Altitude when segment.Segment.VerticalSpeedFpm == 0:
                        Tell(weight, k, FindingKind.AltitudeDrift, Parameter.Altitude, size, worst.WorstAtS, $"Altitude drifted {Judge.Text(size, Parameter.Altitude)} {(worst.Worst > 0 ? "high" : "low")} and stayed outside for {worst.DurationS:0} s.");
                        break;
                    case Parameter.Heading when segment.Segment.TurnDeg == 0 && worst.StartS > segment.Match.StartS + RollOutLookS:
                        Tell(weight, k, FindingKind.HeadingDrift, Parameter.Heading, size, worst.WorstAtS, $"Heading drifted {size:0}° {(worst.Worst > 0 ? "right" : "left")} of {Heading(segment.Segment.StartHeadingMagDeg)} and stayed outside for {worst.DurationS:0} s.");
                        break;
                    case Parameter.Airspeed:
                        Tell(weight * 0.8, k, FindingKind.AirspeedDrift, Parameter.Airspeed, size, worst.WorstAtS, $"Airspeed {(worst.Worst > 0 ? "rose" : "fell")} to {segment.Segment.AirspeedKtAt(segment.Match.DurationS) + worst.Worst:0} kt and stayed outside for {worst.DurationS:0} s.");
                        break;
                }
            }
        }

        FlownSegment? Next(int k) => k + 1 < flown.Count ? flown[k + 1] : null;
    }

    private static IEnumerable<int> SamplesUntil(FlownSegment segment, double untilS) =>
        Enumerable.Range(segment.First, segment.End - segment.First).TakeWhile(i => segment.ElapsedS(i) + segment.Match.StartS <= untilS);

    private static int LastFlown(IReadOnlyList<FlownSegment?> flown) => Enumerable.Range(0, flown.Count).Last(k => flown[k] is not null);

    private static string Manoeuvre(TimelineSegment segment) => segment.Kind switch
    {
        SegmentKind.LevelTurn or SegmentKind.ClimbTurn or SegmentKind.DescendTurn => "Turn",
        SegmentKind.ClimbStraight => "Climb",
        SegmentKind.DescendStraight => "Descent",
        SegmentKind.SpeedChange => "Speed change",
        _ => "Straight",
    };

    private static string Lower(string name) => name.Length > 1 && char.IsLower(name[1]) ? char.ToLowerInvariant(name[0]) + name[1..] : name;

    private static string Heading(double deg) => ((int)Math.Round(deg)).ToString("000", CultureInfo.InvariantCulture);

    private static string Altitude(double ft) => Math.Round(ft).ToString("#,0", CultureInfo.InvariantCulture) + " ft";

    private static string Clock(double s) => $"{(int)s / 60}:{(int)s % 60:00}";
}
