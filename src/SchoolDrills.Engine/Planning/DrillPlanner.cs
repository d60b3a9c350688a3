using System.Globalization;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>Calculates a plan, one question after the other.</summary>
internal sealed class DrillPlanner(DrillTimeline timeline, AircraftProfile aircraft, PlanConditions conditions)
{
    private readonly IReadOnlyList<TimelineSegment> segments = timeline.Segments;
    private readonly WindsAloft winds = new(conditions.Winds ?? []);
    private readonly DayAir air = new(timeline.Segments[0].StartAltitudeFt, conditions);

    public DrillPlan Plan()
    {
        var (entryFt, entryKt) = (segments[0].StartAltitudeFt, segments[0].StartAirspeedKt);
        var trueKt = air.TrueAirspeedKt(entryKt, entryFt);
        var airPath = NominalPath.Of(timeline, trueKt, conditions.DeclinationDeg);
        var groundPath = NominalPath.Of(timeline, trueKt, conditions.DeclinationDeg, winds.At);
        var fit = conditions.Area is { Count: > 0 } ring
            ? new AreaFit(PracticeArea.From(ring).Area!, airPath, groundPath, conditions)
            : null;
        var (turns, climb) = (Turns(), Climb());
        var (lowestFt, highestFt) = (
            segments.Min(s => Math.Min(s.StartAltitudeFt, s.EndAltitudeFt)),
            segments.Max(s => Math.Max(s.StartAltitudeFt, s.EndAltitudeFt))
        );
        return new DrillPlan
        {
            TrueAirspeedKt = trueKt,
            PressureAltitudeFt = air.PressureAltitudeFt(entryFt),
            DensityAltitudeFt = air.DensityAltitudeFt(entryFt),
            Turns = turns,
            VerticalSpeeds =
            [
                .. segments
                    .Select(s => s.VerticalSpeedFpm)
                    .Where(v => v != 0)
                    .Distinct()
                    .Order()
                    .Select(v => new PlannedVerticalSpeed(v, TurnGeometry.Rules.LevelOffTenthFt(v))),
            ],
            Climb = climb,
            LowestAltitudeFt = lowestFt,
            HighestAltitudeFt = highestFt,
            FloorMargin = conditions.FloorFt is { } floor
                ? new(floor, lowestFt - floor, FirstAtS(s => s.StartAltitudeFt == lowestFt, s => s.EndAltitudeFt == lowestFt))
                : null,
            CeilingMargin = conditions.CeilingFt is { } ceiling
                ? new(ceiling, ceiling - highestFt, FirstAtS(s => s.StartAltitudeFt == highestFt, s => s.EndAltitudeFt == highestFt))
                : null,
            Tightest = fit?.Tightest,
            AboveFloor = conditions.FloorFt is { } floorFt ? lowestFt >= floorFt : null,
            Drift = Drift(airPath, groundPath),
            AirPath = airPath,
            GroundPath = groundPath,
            GroundPlaces = fit?.Places ?? (conditions.Start is { } start ? AreaFit.PlacesFrom(start, groundPath) : null),
            Area = fit?.Answer,
            Cautions = [.. Cautions(turns, climb, lowestFt, highestFt, fit?.Answer)],
        };
    }

    private double FirstAtS(Func<TimelineSegment, bool> atStart, Func<TimelineSegment, bool> atEnd) =>
        segments.Where(s => atStart(s) || atEnd(s)).Select(s => atStart(s) ? s.StartS : s.EndS).First();

    private List<PlannedTurn> Turns() =>
        [
            .. segments
                .Where(s => s.TurnDeg != 0)
                .Select(s =>
                    (
                        Rate: Math.Round(Math.Abs(s.TurnRateDegPerS), 2),
                        Indicated: Math.Round(Math.Max(s.StartAirspeedKt, s.AirspeedKt)),
                        TrueKt: air.TrueAirspeedKt(Math.Max(s.StartAirspeedKt, s.AirspeedKt), Math.Max(s.StartAltitudeFt, s.EndAltitudeFt))
                    )
                )
                .GroupBy(t => (t.Rate, t.Indicated))
                .OrderBy(g => g.Key)
                .Select(g =>
                {
                    var trueKt = g.Max(t => t.TrueKt);
                    var bankDeg = TurnGeometry.BankDeg(g.Key.Rate, trueKt);
                    return new PlannedTurn(
                        g.Key.Rate,
                        g.Key.Indicated,
                        bankDeg,
                        TurnGeometry.RadiusM(g.Key.Rate, trueKt) / Units.MPerNm,
                        TurnGeometry.LoadFactor(bankDeg),
                        TurnGeometry.Rules.RollOutHalfBankDeg(bankDeg)
                    );
                }),
        ];

    private PlannedClimb Climb()
    {
        var worst = segments
            .Where(s => s.VerticalSpeedFpm > 0)
            .Select(s => (Segment: s, DensityFt: air.DensityAltitudeFt(s.EndAltitudeFt)))
            .Select(c => (c.Segment, c.DensityFt, AvailableFpm: aircraft.ClimbFpmAt(c.DensityFt)))
            .OrderBy(c => (c.AvailableFpm * (1 - PlanModel.ClimbReserveShare)) - c.Segment.VerticalSpeedFpm)
            .FirstOrDefault();
        if (worst.Segment is null)
            return new(true, null, null, null, "The drill does not climb.");
        var neededFpm = worst.Segment.VerticalSpeedFpm;
        var feasible = neededFpm <= worst.AvailableFpm * (1 - PlanModel.ClimbReserveShare);
        var comparison =
            $"The drill climbs at {Text(neededFpm)} fpm up to {Text(worst.Segment.EndAltitudeFt)} ft (density altitude "
            + $"{Text(worst.DensityFt)} ft); the {aircraft.Title} climbs "
            + (worst.AvailableFpm > 0 ? $"{Text(worst.AvailableFpm)} fpm at best" : "no more");
        return new(
            feasible,
            neededFpm,
            worst.AvailableFpm,
            worst.DensityFt,
            feasible ? $"{comparison}." : $"{comparison}, and a tenth of that is kept in reserve."
        );
    }

    private PlannedDrift Drift(NominalPath airPath, NominalPath groundPath)
    {
        var levels = segments
            .SelectMany(s => new[] { s.StartAltitudeFt, s.EndAltitudeFt })
            .Select(ft => Math.Round(ft, 3))
            .Distinct()
            .Order()
            .Select(ft =>
            {
                var (eastKt, northKt) = winds.At(ft);
                var speedKt = Math.Sqrt((eastKt * eastKt) + (northKt * northKt));
                return new DriftLevel(ft, Direction(-eastKt, -northKt), speedKt, speedKt / 60);
            });
        var (eastM, northM) = (groundPath.EastM[^1] - airPath.EastM[^1], groundPath.NorthM[^1] - airPath.NorthM[^1]);
        return new([.. levels], Math.Sqrt((eastM * eastM) + (northM * northM)) / Units.MPerNm, Direction(eastM, northM));

        static double Direction(double east, double north) => Angles.NormalizeDeg(Units.RadToDeg(Math.Atan2(east, north)));
    }

    private IEnumerable<string> Cautions(List<PlannedTurn> turns, PlannedClimb climb, double lowestFt, double highestFt, PlannedArea? area)
    {
        var (slowestKt, fastestKt) = (
            segments.Min(s => Math.Min(s.StartAirspeedKt, s.AirspeedKt)),
            segments.Max(s => Math.Max(s.StartAirspeedKt, s.AirspeedKt))
        );
        if (slowestKt < aircraft.LowestAirspeedKt)
        {
            yield return $"{Text(slowestKt)} kt is below the {Text(aircraft.LowestAirspeedKt)} kt that the "
                + $"{aircraft.Title} is flown at in drills.";
        }

        if (fastestKt > aircraft.HighestAirspeedKt)
        {
            yield return $"{Text(fastestKt)} kt is above the {Text(aircraft.HighestAirspeedKt)} kt that the "
                + $"{aircraft.Title} is flown at in drills.";
        }

        foreach (var turn in turns.Where(t => t.BankDeg > aircraft.SteepestBankDeg))
        {
            yield return $"{Text(turn.TurnRateDegPerS, "0.##")}°/s at {Text(turn.AirspeedKt)} kt needs "
                + $"{Text(turn.BankDeg)}° of bank; the limit for the "
                + $"{aircraft.Title} is {Text(aircraft.SteepestBankDeg!.Value)}°.";
        }

        if (!climb.Feasible)
            yield return climb.Why;
        if (conditions.FloorFt is { } floorFt && lowestFt < floorFt)
            yield return $"The drill goes down to {Text(lowestFt)} ft, below the floor of {Text(floorFt)} ft.";
        if (conditions.CeilingFt is { } ceilingFt && highestFt > ceilingFt)
            yield return $"The drill goes up to {Text(highestFt)} ft, above the ceiling of {Text(ceilingFt)} ft.";
        if (area is not null && (area.GivenStartMarginNm < 0 || (area.SuggestedStart is null && conditions.Suggest)))
            yield return area.Text;
    }

    private static string Text(double value, string format = "0") => value.ToString(format, CultureInfo.InvariantCulture);
}
