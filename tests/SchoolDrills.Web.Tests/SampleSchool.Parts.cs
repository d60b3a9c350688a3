using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Progress;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Tests;

/// <summary>Parts of the sample school.</summary>
internal static partial class SampleSchool
{
    public static DrillPicture Picture { get; } = Circle();

    /// <summary>One kind that keeps failing, one of which there is too little to say.</summary>
    public static IReadOnlyList<WeakSegmentSummary> Weak { get; } =
    [
        WeakSegment(SegmentKind.ClimbTurn, 6, 0.62, recurring: true, null),
        WeakSegment(SegmentKind.LevelTurn, 2, 0.4, recurring: false, "too little data: 2 of 3 attempts"),
    ];

    /// <summary>One flight to grade, and whatever else is given.</summary>
    public static DeskWork Desk(
        IReadOnlyList<DeskRow>? toGrade = null,
        IReadOnlyList<DeskRow>? overdue = null,
        IReadOnlyList<DeskRow>? dueSoon = null,
        int more = 0,
        bool mine = true
    )
    {
        toGrade ??= [new(Attempt(), null, "Ilse Farrow", null)];
        return new(mine, List(toGrade), List([]), List(overdue), List(dueSoon), List([]), [], 3, null);

        DeskList List(IReadOnlyList<DeskRow>? rows) => new(rows ?? [], rows is { Count: > 0 } ? rows.Count + more : 0);
    }

    private static WeakSegmentSummary WeakSegment(SegmentKind kind, int attempts, double share, bool recurring, string? reason) =>
        new(kind, Parameter.Altitude, 2, attempts, share, share - 0.2, share + 0.2, recurring, Now, new SegmentExample(AttemptId, 1))
        {
            DrillSlugs = ["two-turns"],
            HasAirData = false,
            Prior = SchoolPrior.Jeffreys,
            Reason = reason,
        };

    private static ParameterProgress Trend(Parameter parameter, string unit, double[] shares, double? trend, string? reason) =>
        new(
            parameter,
            unit,
            [
                .. shares.Select(
                    (s, i) => new ProgressPoint(AttemptId, "two-turns", Now.AddDays(i - shares.Length), s, s - 0.08, Math.Min(1, s + 0.08))
                ),
            ],
            0.9,
            trend,
            reason
        )
        {
            Group = new AttemptGroup("two-turns", 2, null, HasAirData: false),
            TrendInterval = trend is { } t ? new Interval(t - 0.04, t + 0.04) : null,
        };

    private static TimelineSegment Segment(
        int index,
        string name,
        SegmentKind kind,
        double start,
        double end,
        double fromHeading,
        double toHeading,
        double turn,
        double fromFt,
        double toFt
    ) =>
        new()
        {
            Index = index,
            Name = name,
            Kind = kind,
            StartS = start,
            EndS = end,
            StartHeadingMagDeg = fromHeading,
            EndHeadingMagDeg = toHeading,
            TurnDeg = turn,
            StartAltitudeFt = fromFt,
            EndAltitudeFt = toFt,
            TurnRateDegPerS = turn / (end - start),
            VerticalSpeedFpm = (toFt - fromFt) / (end - start) * 60,
            StartAirspeedKt = 100,
            AirspeedKt = 100,
        };

    private static SegmentReport Flown(int index, Verdict verdict, double startErrorS, params DeviationReport[] deviations)
    {
        var segment = Timeline.Segments[index];
        return new SegmentReport
        {
            Index = index,
            Name = segment.Name,
            Kind = segment.Kind,
            NominalStartS = segment.StartS,
            NominalEndS = segment.EndS,
            Status = SegmentStatus.Flown,
            StartUtc = Now.AddHours(-4.5).AddSeconds(segment.StartS + startErrorS),
            EndUtc = Now.AddHours(-4.5).AddSeconds(segment.EndS),
            StartErrorS = startErrorS,
            EndErrorS = 1,
            Deviations = deviations,
            Verdict = verdict,
        };
    }

    private static DeviationReport Deviation(
        Parameter parameter,
        string unit,
        double tolerance,
        double? worst,
        double? share,
        Verdict verdict
    ) =>
        new()
        {
            Parameter = parameter,
            Unit = unit,
            Tolerance = tolerance,
            MaxAbs = worst is { } w ? Math.Abs(w) : null,
            Worst = worst,
            WithinShare = share,
            OutsideS = 60 * (1 - share),
            Verdict = verdict,
            Why = $"within {tolerance} {unit} for {share:P0} of the time",
        };
}
