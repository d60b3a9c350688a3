using System.Text.Json;
using System.Text.Json.Nodes;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>
/// What really happened in a flown flight, in the form of the flights' truth, so that both are compared by the same code.
/// </summary>
internal sealed class FlownTruth(FlownFlight flight)
{
    /// <summary>Of what was asked an error must have come to this share, or it was not made.</summary>
    private const double MadeShare = 0.65;

    /// <summary>Time of a prompt correction by the standard, seconds.</summary>
    private const double PromptS = 8;

    private readonly List<Moment> moments = flight.Moments;

    /// <summary>The truth of a flight.</summary>
    public static TruthFlight Of(FlownFlight flight)
    {
        var truth = new FlownTruth(flight).Write();
        return new TruthFlight(
            "",
            JsonSerializer.SerializeToElement(truth),
            [.. Enumerable.Range(0, ((flight.Moments.Count - 1) / 10) + 1).Select(i => Second(flight, flight.Moments[i * 10]))]
        );
    }

    private static TruthSecond Second(FlownFlight flight, Moment m)
    {
        var (lat, lon, _) = new LocalFrame(flight.Day.LatDeg, flight.Day.LonDeg, 0).ToGeodetic(m.EastM, m.NorthM, 0);
        var (windEast, windNorth) = flight.Day.WindAt(m.MslFt, m.TimeS);
        return new TruthSecond(
            flight.Day.StartUtc.AddSeconds(m.TimeS),
            m.AltitudeFt,
            m.AirspeedKt,
            Angles.NormalizeDeg(m.HeadingDeg),
            m.VerticalSpeedFpm,
            m.TurnRateDegPerS,
            Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(-windEast, -windNorth))),
            Math.Sqrt((windEast * windEast) + (windNorth * windNorth)),
            lat,
            lon,
            m.MslFt,
            m.TrueAirspeedKt,
            m.BankDeg
        );
    }

    private JsonObject Write()
    {
        var truth = new JsonObject
        {
            ["id"] = $"seed {flight.Seed}",
            ["drill"] = flight.Template?.Slug ?? "none",
            ["pilot"] = new JsonObject { ["skill_0_to_1"] = flight.Skill },
        };
        if (flight.Timeline is not { } timeline)
            return truth;
        truth["recording"] = new JsonObject { ["extent"] = flight.WholeFlight ? "whole flight" : "drill only" };
        truth["recognizable"] = Recognition.IsRecognizable(flight);
        truth["drill_start_utc"] = Utc(flight.ClockZeroS);
        truth["drill_end_utc"] = Utc(flight.Legs[^1].EndS);
        truth["base_altitude_ft"] = timeline.Segments[0].StartAltitudeFt;
        truth["entry_heading_mag_deg"] = timeline.Segments[0].StartHeadingMagDeg;
        truth["segments"] = new JsonArray([.. timeline.Segments.Select(Segment)]);
        truth["injected_errors"] = new JsonArray([.. flight.Mistakes.Select(Made).OfType<JsonNode>()]);
        truth["workload_events"] = new JsonArray([
            .. flight
                .Loads.Where(t => t.Saturates && TogetherOutS(t) >= 15)
                .Select(t => new JsonObject
                {
                    ["kind"] = "saturation",
                    ["given_at_utc"] = Utc(t.FromS),
                    ["until_utc"] = Utc(t.UntilS),
                }),
        ]);
        return truth;
    }

    private JsonObject Segment(TimelineSegment segment)
    {
        var node = new JsonObject
        {
            ["index"] = segment.Index,
            ["kind"] = JsonSerializer.SerializeToNode(segment.Kind),
            ["nominal_start_s"] = segment.StartS,
            ["flown"] = false,
        };
        var legs = flight.Legs.FindAll(l => l.Leg.Segment == segment.Index);
        if (legs.Count == 0)
            return node;
        var leg = legs[0];
        node["flown"] = true;
        node["complete"] = double.IsInfinity(leg.Leg.GivenUpS);
        // Flown again: either may be taken for the segment.
        node["repeated"] = legs.Count > 1;
        node["start_s"] = leg.StartS - leg.ClockZeroS;
        node["start_utc"] = Utc(BegunS(leg));
        node["end_utc"] = Utc(leg.LeftS);
        node["stats"] = Stats(segment, leg);
        return node;
    }

    /// <summary>The first movement toward a leg: that which ended the leg before, where one follows the other.</summary>
    private double BegunS(LegFlown leg)
    {
        var index = flight.Legs.IndexOf(leg);
        return index > 0 && flight.Legs[index - 1] is var before && leg.StartS - before.EndS < FlownFlight.StepS
            ? before.LeftS
            : leg.StartS;
    }

    private JsonObject Stats(TimelineSegment segment, LegFlown leg)
    {
        var within = Within(leg.StartS, leg.EndS).ToList();
        double Elapsed(Moment m) => m.TimeS - leg.StartS;
        double Altitude(Moment m) => m.AltitudeFt - segment.AltitudeFtAt(Elapsed(m));
        double Heading(Moment m) => Angles.DifferenceDeg(m.HeadingDeg, segment.StartHeadingMagDeg + segment.TurnedDegAt(Elapsed(m)));
        double Airspeed(Moment m) => m.AirspeedKt - segment.AirspeedKtAt(Elapsed(m));
        double Largest(Func<Moment, double> deviation) => within.Select(deviation).Select(Math.Abs).DefaultIfEmpty(0).Max();
        double OutsideS(Func<Moment, double> deviation, double limit) =>
            within.Count(m => Math.Abs(deviation(m)) > limit) * FlownFlight.StepS;
        JsonObject MaxAbs(Func<Moment, double> deviation) => new() { ["max_abs"] = Largest(deviation) };
        return new JsonObject
        {
            ["duration_s"] = within.Count * FlownFlight.StepS,
            ["s_outside_100ft"] = OutsideS(Altitude, 100),
            ["s_outside_10deg"] = segment.TurnDeg == 0 ? OutsideS(Heading, 10) : null,
            ["s_outside_10kt"] = OutsideS(Airspeed, 10),
            ["altitude_ft"] = MaxAbs(Altitude),
            ["heading_mag_deg"] = MaxAbs(Heading),
            ["ias_kt"] = MaxAbs(Airspeed),
            ["vertical_speed_fpm"] = MaxAbs(m => m.VerticalSpeedFpm - segment.VerticalSpeedFpm),
        };
    }

    /// <summary>An error with its size as it came out; null where it came to too little or did not happen.</summary>
    private JsonObject? Made(Mistake mistake)
    {
        var leg = flight.Legs.Find(l => l.Leg.Segment == mistake.Segment);
        var segment = flight.Timeline!.Segments[mistake.Segment];
        if (leg is null && mistake.Kind != "skipped_segment")
            return null;
        var (turn, climb) = (Math.Sign(segment.TurnDeg), Math.Sign(segment.VerticalSpeedFpm));
        var (asked, measured) = mistake.Kind switch
        {
            "late_start" or "early_start" => (mistake.Size, mistake.Sense * OffPlanS(leg!)),
            "heading_overshoot" => (
                mistake.Size,
                Within(leg!.RollOutS, leg.RollOutS + 25).Max(m => turn * (m.HeadingDeg - leg.Leg.HeadingDeg))
            ),
            "heading_undershoot" => (
                mistake.Size,
                Within(leg!.RollOutS + 5, leg.RollOutS + 12).Max(m => turn * (leg.Leg.HeadingDeg - m.HeadingDeg))
            ),
            "level_off_error" => (
                mistake.Size,
                Mean(Within(leg!.LevelOffS + 5, leg.LevelOffS + 15), m => m.AltitudeFt - leg.Leg.AltitudeFt)
            ),
            "wrong_vertical_speed" => (
                300,
                Mean(
                    Within(leg!.StartS + 7, double.IsNaN(leg.LevelOffS) ? leg.EndS : leg.LevelOffS),
                    m => m.VerticalSpeedFpm - segment.VerticalSpeedFpm
                )
            ),
            "turn_rate" => (
                Math.Abs(1 - mistake.Size) * Math.Abs(segment.TurnRateDegPerS),
                Mean(
                    Within(leg!.StartS + 7, double.IsNaN(leg.RollOutS) ? leg.EndS : leg.RollOutS),
                    m => m.TurnRateDegPerS - segment.TurnRateDegPerS
                )
            ),
            "altitude_drift" => (
                mistake.Size,
                Within(leg!.StartS + 5, leg.EndS + 20).Max(m => Math.Abs(m.AltitudeFt - leg.Leg.AltitudeFt))
            ),
            "heading_drift" => (
                mistake.Size,
                Within(leg!.StartS + 12, leg.EndS).Select(m => Math.Abs(m.HeadingDeg - leg.Leg.HeadingDeg)).DefaultIfEmpty(0).Max()
            ),
            "airspeed_decay" => (mistake.Size, Within(leg!.StartS, leg.EndS + 15).Max(m => leg.Leg.Airspeed.ToKt - m.AirspeedKt)),
            _ => (mistake.Size, mistake.Size),
        };
        // A deviation that was asked but is drowned by ordinary flying is not one that must be told.
        return measured < MadeShare * asked
            ? null
            : new JsonObject
            {
                ["segment_index"] = mistake.Segment,
                ["kind"] = mistake.Kind,
                ["requested"] = double.IsInfinity(asked) ? "whole turn" : asked * mistake.Sense,
                ["measured"] = double.IsInfinity(measured) ? "whole turn" : measured,
                ["shows"] = Shows(mistake, leg),
            };
    }

    /// <summary>
    /// A debriefing could hold the error against the pilot. Not one of when the straight that opens the drill was ended, unless its clock
    /// shows in two other straights: nothing marks when it was begun. Nor a drift below twice the tolerance that was back within the time
    /// of a prompt correction.
    /// </summary>
    private bool Shows(Mistake mistake, LegFlown? leg)
    {
        var (parameter, within) = mistake.Kind switch
        {
            "altitude_drift" => ((Func<Moment, double>)(m => m.AltitudeFt - leg!.Leg.AltitudeFt), 100),
            "heading_drift" => (m => m.HeadingDeg - leg!.Leg.HeadingDeg, 10),
            "airspeed_decay" => (m => m.AirspeedKt - leg!.Leg.Airspeed.ToKt, 10),
            _ => (m => double.NaN, 0),
        };
        if (within > 0)
        {
            var until = mistake.Kind == "heading_drift" ? leg!.EndS : leg!.EndS + 15;
            var outside = Within(leg.StartS + 5, until).Select(m => Math.Abs(parameter(m))).Where(off => off > within).ToList();
            return outside.Count * FlownFlight.StepS >= PromptS || outside.Exists(off => off >= 2 * within);
        }

        var segments = flight.Timeline!.Segments;
        return mistake.Kind is not ("late_start" or "early_start")
            || mistake.Segment > 1
            || (
                flight.Habits.OneClock
                && flight
                    .Legs.Select(l => l.Leg.Segment)
                    .Distinct()
                    .Count(k => k > 1 && k < segments.Count - 1 && segments[k].Kind == SegmentKind.LevelStraight) >= 2
            );
    }

    /// <summary>Mean error without sign; none where the maneuver was given up before it could be seen.</summary>
    private static double Mean(IEnumerable<Moment> moments, Func<Moment, double> error) =>
        Math.Abs(moments.Select(error).DefaultIfEmpty(0).Average());

    /// <summary>How much later than he meant to the pilot ended the straight before a leg, seconds.</summary>
    private double OffPlanS(LegFlown leg)
    {
        var before = flight.Legs[flight.Legs.IndexOf(leg) - 1];
        return leg.StartS
            - (
                double.IsFinite(before.Leg.ClockEndS)
                    ? Math.Max(before.ClockZeroS + before.Leg.ClockEndS, before.StartS + (Pilot.LeastShare * before.Leg.DurationS))
                    : before.StartS + before.Leg.DurationS
            );
    }

    /// <summary>Time in which two or more of altitude, heading and airspeed were outside together, seconds.</summary>
    private double TogetherOutS(Load load)
    {
        var outS = 0.0;
        foreach (var leg in flight.Legs)
        {
            var segment = flight.Timeline!.Segments[leg.Leg.Segment];
            foreach (var m in Within(Math.Max(leg.StartS, load.FromS), Math.Min(leg.EndS, load.UntilS + 20)))
            {
                var elapsedS = m.TimeS - leg.StartS;
                var outside = Math.Abs(m.AltitudeFt - segment.AltitudeFtAt(elapsedS)) > 100 ? 1 : 0;
                outside += Math.Abs(m.AirspeedKt - segment.AirspeedKtAt(elapsedS)) > 10 ? 1 : 0;
                outside +=
                    segment.TurnDeg != 0 ? (Math.Abs(m.TurnRateDegPerS - segment.TurnRateDegPerS) > 1 ? 1 : 0)
                    : Math.Abs(Angles.DifferenceDeg(m.HeadingDeg, segment.StartHeadingMagDeg)) > 10 ? 1
                    : 0;
                outS += outside >= 2 ? FlownFlight.StepS : 0;
            }
        }

        return outS;
    }

    private IEnumerable<Moment> Within(double fromS, double toS)
    {
        // Moments are a step apart from zero on.
        for (var i = Math.Max(0, (int)Math.Ceiling(fromS / FlownFlight.StepS)); i < moments.Count && moments[i].TimeS < toS; i++)
            yield return moments[i];
    }

    private DateTimeOffset Utc(double timeS) => flight.Day.StartUtc.AddSeconds(timeS);
}
