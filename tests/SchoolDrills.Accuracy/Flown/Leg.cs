namespace SchoolDrills.Accuracy.Flown;

/// <summary>What the pilot goes wrong in for a while, believing that he is right.</summary>
internal enum Quantity
{
    Heading,
    Altitude,
    Airspeed,
}

/// <summary>
/// A time in which the pilot holds something else than he should: it creeps or jumps to its size, stays a while and is then noticed.
/// </summary>
/// <param name="Quantity">What.</param>
/// <param name="Size">How far off, in degrees, feet or knots.</param>
/// <param name="RatePerS">How fast it creeps, per second; infinite to be there at once.</param>
/// <param name="FromS">Begins this long after its leg, seconds.</param>
/// <param name="HoldS">
/// Stays this long at its size, seconds: after it got there, or with <paramref name="PastEnd"/> after the leg's end.
/// </param>
/// <param name="PastEnd">An error of how the leg is ended, noticed only in the next.</param>
internal sealed record Lapse(Quantity Quantity, double Size, double RatePerS, double FromS, double HoldS, bool PastEnd = false);

/// <summary>
/// One thing that the pilot sets out to do. A turn ends with its roll-out, a climb with its level-off, what is neither by time.
/// </summary>
internal sealed record Leg
{
    public string Name { get; init; } = "";

    /// <summary>Segment of the drill, -1 outside of it.</summary>
    public int Segment { get; init; } = -1;

    /// <summary>Heading to have at the end, not taken back to a circle, degrees magnetic.</summary>
    public required double HeadingDeg { get; init; }

    /// <summary>Signed turn rate, degrees per second; 0 to hold the heading.</summary>
    public double TurnRateDegPerS { get; init; }

    /// <summary>The next leg goes on turning the same way: no roll-out.</summary>
    public bool TurnGoesOn { get; init; }

    /// <summary>Altitude to have at the end, feet.</summary>
    public required double AltitudeFt { get; init; }

    /// <summary>Signed vertical speed, feet per minute; 0 to hold the altitude.</summary>
    public double VerticalSpeedFpm { get; init; }

    /// <summary>Airspeed at the start and at the end, knots indicated, changed over <see cref="DurationS"/>.</summary>
    public required (double FromKt, double ToKt) Airspeed { get; init; }

    /// <summary>Length of what ends by time, seconds.</summary>
    public double DurationS { get; init; }

    /// <summary>When on the drill's clock it should end, seconds; NaN where it is timed by itself.</summary>
    public double ClockEndS { get; init; } = double.NaN;

    /// <summary>Held longer (or shorter) than by the clock on purpose of the program, seconds.</summary>
    public double ExtraS { get; init; }

    /// <summary>Turned the wrong way first by this much, degrees.</summary>
    public double WrongWayDeg { get; init; }

    /// <summary>Given up after this long, seconds.</summary>
    public double GivenUpS { get; init; } = double.PositiveInfinity;

    public IReadOnlyList<Lapse> Lapses { get; init; } = [];
}

/// <summary>How a leg went, by the pilot's own decisions, seconds of the flight; NaN for what was not done.</summary>
internal sealed record LegFlown(Leg Leg, double StartS)
{
    public double EndS { get; set; }

    /// <summary>When the drill's clock, less its pauses, read zero.</summary>
    public double ClockZeroS { get; set; }

    public double RollOutS { get; set; } = double.NaN;

    public double LevelOffS { get; set; } = double.NaN;

    /// <summary>
    /// The first movement toward what comes next: the last of roll-out and level-off. Between it and <see cref="EndS"/> lies the time that
    /// the pilot takes to begin the next leg, in which nothing moves. Where the turn goes on, passing its heading is no movement.
    /// </summary>
    public double LeftS
    {
        get
        {
            if (EndS - StartS >= Leg.GivenUpS || (Leg.TurnGoesOn && !(LevelOffS > RollOutS)))
                return EndS;
            var movedS = Leg.TurnGoesOn ? LevelOffS : double.MaxNumber(RollOutS, LevelOffS);
            return double.IsFinite(movedS) ? movedS : EndS;
        }
    }
}

/// <summary>A time in which other work takes the pilot's eyes away; with much of it the flying comes apart.</summary>
internal sealed record Load(double FromS, double UntilS, double DwellMultiplier, double OffPanelShare)
{
    public bool Saturates => DwellMultiplier > 2;

    /// <summary>Draws the tasks of a drill that begins now.</summary>
    public static List<Load> Draw(Random random, double nowS, double durationS)
    {
        var loads = new List<Load>();
        if (random.Happens(Population.Task))
            loads.Add(new(nowS + (random.Between(0.15, 0.4) * durationS), 0, 1.6, 0.4));
        if (random.Happens(Population.Saturation))
            loads.Add(new(nowS + (random.Between(0.45, 0.7) * durationS), 0, 3, 0.45));
        return loads.ConvertAll(t => t with { UntilS = t.FromS + (t.Saturates ? 75 : 22) });
    }
}
