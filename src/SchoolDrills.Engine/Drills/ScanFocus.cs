namespace SchoolDrills.Engine.Drills;

/// <summary>An instrument of the basic panel, as the cross-check knows it.</summary>
public enum PanelInstrument
{
    /// <summary>Attitude indicator.</summary>
    Attitude,

    /// <summary>Altimeter.</summary>
    Altimeter,

    /// <summary>Vertical speed indicator.</summary>
    VerticalSpeed,

    /// <summary>Heading indicator.</summary>
    Heading,

    /// <summary>Turn coordinator or turn indicator.</summary>
    Turn,

    /// <summary>Airspeed indicator.</summary>
    Airspeed,

    /// <summary>Tachometer or manifold pressure gauge.</summary>
    Power,
}

/// <summary>What a segment asks of the pilot at a moment.</summary>
public enum ScanMoment
{
    /// <summary>A new attitude and power are being set.</summary>
    Entry,

    /// <summary>They hold, and are checked.</summary>
    Established,

    /// <summary>The target comes up, and the next change is led.</summary>
    Ending,
}

/// <summary>One axis of control with what tells best how it stands, and what supports it.</summary>
/// <param name="Primary">Gives the most pertinent information: what is to be constant, or what is being set.</param>
/// <param name="Supporting">Confirm it, and show the trend.</param>
public sealed record ScanAxis(PanelInstrument Primary, IReadOnlyList<PanelInstrument> Supporting);

/// <summary>
/// Which instrument is primary for pitch, bank and power at a moment of a segment, and what supports it. Basis: common practice, the
/// primary and supporting method of attitude instrument flying as the FAA Instrument Flying Handbook (FAA-H-8083-15B, chapter 7,
/// section I) teaches it: the attitude indicator while a new attitude is being set, then whatever is to stay constant.
/// </summary>
/// <param name="Moment">Entry, established or ending.</param>
/// <param name="Pitch">For pitch.</param>
/// <param name="Bank">For bank.</param>
/// <param name="Power">For power.</param>
/// <param name="Say">The cross-check at this moment in one sentence.</param>
public sealed record ScanFocus(ScanMoment Moment, ScanAxis Pitch, ScanAxis Bank, ScanAxis Power, string Say)
{
    /// <summary>How long a new attitude takes to set, seconds.</summary>
    /// <remarks>Basis: common practice: a roll to standard-rate bank or a pitch change is in within three to five seconds.</remarks>
    public const double EntryS = 4;

    /// <summary>How long before its end a turn, climb or descent is led, seconds.</summary>
    /// <remarks>
    /// Basis: common practice: half the bank angle in degrees of heading, a tenth of the vertical speed in feet; at standard rate and 500
    /// fpm that is 2 to 6 s.
    /// </remarks>
    public const double LeadS = 5;

    /// <summary>The focus of a segment at a time.</summary>
    /// <param name="segment">The segment.</param>
    /// <param name="previous">The segment before; null for the first, which is entered flying straight and level.</param>
    /// <param name="elapsedS">Seconds since the segment's start.</param>
    public static ScanFocus Of(TimelineSegment segment, TimelineSegment? previous, double elapsedS)
    {
        var (turns, slants, speeds) = Asks(segment);
        var (turned, slanted, sped) = previous is null ? (false, false, false) : Asks(previous);
        var enters = elapsedS < EntryS && (turns != turned || slants != slanted || speeds != sped || Reverses(segment, previous));
        var ends = !enters && (turns || slants) && segment.DurationS - elapsedS <= LeadS;
        var moment =
            enters ? ScanMoment.Entry
            : ends ? ScanMoment.Ending
            : ScanMoment.Established;
        return new ScanFocus(
            moment,
            PitchOf(moment, slants, entering: slants != slanted),
            BankOf(moment, turns, entering: turns != turned || Reverses(segment, previous)),
            PowerOf(moment, slants, speeds, entering: slants != slanted || speeds != sped),
            Words(moment, turns, slants, speeds)
        );
    }

    /// <summary>The foci of a drill in time: each holds until the next begins.</summary>
    /// <param name="timeline">The drill.</param>
    public static IReadOnlyList<(double FromS, int SegmentIndex, ScanFocus Focus)> Along(DrillTimeline timeline)
    {
        var along = new List<(double, int, ScanFocus)>();
        for (var i = 0; i < timeline.Segments.Count; i++)
        {
            var (segment, previous) = (timeline.Segments[i], i == 0 ? null : timeline.Segments[i - 1]);
            var moments = ((double[])[0, EntryS, segment.DurationS - LeadS]).Where(s => s >= 0 && s < segment.DurationS).Distinct().Order();
            ScanMoment? last = null;
            foreach (var elapsedS in moments)
            {
                var focus = Of(segment, previous, elapsedS);
                if (focus.Moment == last)
                    continue;
                last = focus.Moment;
                along.Add((segment.StartS + elapsedS, i, focus));
            }
        }

        return along;
    }

    private static (bool Turns, bool Slants, bool Speeds) Asks(TimelineSegment segment) =>
        (segment.TurnRateDegPerS != 0, segment.VerticalSpeedFpm != 0, segment.AirspeedKt != segment.StartAirspeedKt);

    private static bool Reverses(TimelineSegment segment, TimelineSegment? previous) =>
        previous is not null
        && (segment.TurnRateDegPerS * previous.TurnRateDegPerS < 0 || segment.VerticalSpeedFpm * previous.VerticalSpeedFpm < 0);

    private static ScanAxis PitchOf(ScanMoment moment, bool slants, bool entering) =>
        (moment, slants) switch
        {
            (ScanMoment.Entry, _) when entering => new(PanelInstrument.Attitude, [PanelInstrument.VerticalSpeed]),
            (ScanMoment.Ending, true) => new(PanelInstrument.Altimeter, [PanelInstrument.VerticalSpeed, PanelInstrument.Attitude]),
            (_, true) => new(PanelInstrument.VerticalSpeed, [PanelInstrument.Attitude, PanelInstrument.Altimeter]),
            _ => new(PanelInstrument.Altimeter, [PanelInstrument.Attitude, PanelInstrument.VerticalSpeed]),
        };

    private static ScanAxis BankOf(ScanMoment moment, bool turns, bool entering) =>
        (moment, turns) switch
        {
            (ScanMoment.Entry, _) when entering => new(PanelInstrument.Attitude, [PanelInstrument.Turn, PanelInstrument.Heading]),
            (ScanMoment.Ending, true) => new(PanelInstrument.Heading, [PanelInstrument.Turn, PanelInstrument.Attitude]),
            (_, true) => new(PanelInstrument.Turn, [PanelInstrument.Attitude, PanelInstrument.Heading]),
            _ => new(PanelInstrument.Heading, [PanelInstrument.Attitude, PanelInstrument.Turn]),
        };

    private static ScanAxis PowerOf(ScanMoment moment, bool slants, bool speeds, bool entering) =>
        speeds || (moment == ScanMoment.Entry && entering && slants)
            ? new(PanelInstrument.Power, [PanelInstrument.Airspeed])
            : new(PanelInstrument.Airspeed, [PanelInstrument.Power]);

    private static string Words(ScanMoment moment, bool turns, bool slants, bool speeds) =>
        (moment, turns, slants, speeds) switch
        {
            (ScanMoment.Entry, true, true, _) => "Set pitch, bank and power on attitude and power gauge; then let the rates confirm them.",
            (ScanMoment.Entry, true, false, _) =>
                "Roll in on the attitude indicator, then go to the turn indicator; the altimeter tells pitch.",
            (ScanMoment.Entry, false, true, _) =>
                "Set pitch on the attitude indicator and power on its gauge; then let vertical speed confirm.",
            (ScanMoment.Entry, false, false, true) => "Set power on its gauge and watch the altimeter: pitch changes as the speed does.",
            (ScanMoment.Entry, false, false, false) =>
                "Level the wings and the nose on the attitude indicator; trim, then read heading and altitude.",
            (ScanMoment.Ending, true, true, _) => "Heading and altitude come up together: lead both, one look at each between the others.",
            (ScanMoment.Ending, true, false, _) => "The heading comes up: lead the roll-out by half the bank.",
            (ScanMoment.Ending, false, true, _) => "The altitude comes up: lead the level-off by a tenth of the vertical speed.",
            (_, true, true, _) => "Vertical speed for pitch, turn indicator for bank, airspeed for power; attitude between each two.",
            (_, true, false, _) => "Altimeter for pitch, turn indicator for bank, airspeed for power; attitude between each two.",
            (_, false, true, _) => "Vertical speed for pitch, heading for bank, airspeed for power; attitude between each two.",
            (_, false, false, true) =>
                "Altimeter and heading stay put while the power brings the speed; airspeed takes over when it is there.",
            _ => "Altimeter for pitch, heading for bank, airspeed for power; attitude between each two.",
        };
}

/// <summary>Instruments of the panel in words.</summary>
public static class PanelInstrumentWords
{
    /// <summary>An instrument as an instructor says it.</summary>
    /// <param name="instrument">The instrument.</param>
    public static string Words(this PanelInstrument instrument) =>
        instrument switch
        {
            PanelInstrument.Attitude => "attitude indicator",
            PanelInstrument.Altimeter => "altimeter",
            PanelInstrument.VerticalSpeed => "vertical speed",
            PanelInstrument.Heading => "heading indicator",
            PanelInstrument.Turn => "turn indicator",
            PanelInstrument.Airspeed => "airspeed",
            _ => "power gauge",
        };
}
