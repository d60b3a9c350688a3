using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Tests;

/// <summary>An invented school as the API would answer about it, on Tuesday 3 March 2026, 10:00 in its own zone.</summary>
internal static partial class SampleSchool
{
    public static readonly DateTimeOffset Now = new(2026, 3, 2, 21, 0, 0, TimeSpan.Zero);

    public static readonly Guid StudentId = new("11111111-0000-0000-0000-000000000001");
    public static readonly Guid InstructorId = new("22222222-0000-0000-0000-000000000001");
    public static readonly Guid AssignmentId = new("33333333-0000-0000-0000-000000000001");
    public static readonly Guid AttemptId = new("44444444-0000-0000-0000-000000000001");

    private static readonly SchoolSummary School = new(
        new Guid("55555555-0000-0000-0000-000000000001"),
        "Tussock Plains Flying School",
        "Pacific/Auckland",
        [
            new("not-yet", "Not yet", 1),
            new("developing", "Developing", 2),
            new("competent", "Competent", 3),
            new("confident", "Confident", 4),
        ]
    )
    {
        Grading = new GradingSettings(["Lead the roll-out."], Suggestions: new GradeSuggestions("competent", "developing", "not-yet")),
    };

    public static Me Person(string role) =>
        role == Roles.Student
            ? new(StudentId, "Rewi Marsh", "student@tussockplains.example", [Roles.Student], School)
            : new(InstructorId, "Ilse Farrow", $"{role}@tussockplains.example", [role], School);

    public static DrillTimeline Timeline { get; } =
        new(
            240,
            [
                Segment(0, "Straight", SegmentKind.LevelStraight, 0, 60, 360, 360, 0, 4500, 4500),
                Segment(1, "Climbing turn", SegmentKind.ClimbTurn, 60, 120, 360, 180, 180, 4500, 5000),
                Segment(2, "Straight", SegmentKind.LevelStraight, 120, 180, 180, 180, 0, 5000, 5000),
                Segment(3, "Descending turn", SegmentKind.DescendTurn, 180, 240, 180, 360, 180, 5000, 4500),
            ],
            [
                new(0, 360, 4500, "start"),
                new(60, 360, 4500, "turn right, climb"),
                new(90, 90, 4750, "half-way"),
                new(120, 180, 5000, "roll out, level"),
                new(180, 180, 5000, "turn right, descend"),
                new(240, 360, 4500, "end"),
            ],
            [new(50, "Ready to turn right and climb"), new(170, "Ready to turn right and descend")],
            [new("Cruise flow", "flow", ["fuel", "engine", "heading indicator"], 125, 155, 2)],
            [new("Radio call", "Report your position to the tower.", "position, altitude, intentions", 140, 2)]
        );

    public static DrillTemplate Template { get; } =
        new()
        {
            Slug = "two-turns",
            Version = 1,
            Title = "Two climbing turns",
            Purpose = "Divide attention between rate of turn, rate of climb and the clock.",
            StandardSlug = "instrument-rating",
            Entry = new DrillEntry(360, 4500, 100),
            Segments = [new Segment { Name = "Straight", DurationS = 60 }],
            Trains = "Cross-check rhythm through two changing targets.",
            CommonErrors = ["Fixing on the altimeter in the turn", "Late roll-out"],
            Sources = ["FAA-H-8083-15B, chapter 7"],
        };

    public static ToleranceStandard Standard { get; } =
        new()
        {
            Slug = "instrument-rating",
            Title = "Instrument rating, basic instrument flight",
            Source = "FAA-S-ACS-8C, IR.IV.A",
            Edition = "November 2023",
            Basis = "transcription",
            Tolerances = [new(Parameter.Altitude, 100), new(Parameter.Heading, 10), new(Parameter.Airspeed, 10), new(Parameter.Bank, 5)],
        };

    public static AssignmentSummary Assignment(
        string state = "open",
        DateOnly? due = null,
        Guid? id = null,
        AttemptSummary? latest = null
    ) =>
        new(
            id ?? AssignmentId,
            StudentId,
            "Rewi Marsh",
            "two-turns",
            1,
            "Two climbing turns",
            due ?? new DateOnly(2026, 3, 6),
            "Lead the roll-outs.",
            null,
            state,
            "Ilse Farrow",
            Now.AddDays(-3),
            latest
        );

    public static AttemptSummary Attempt(
        AttemptStatus status = AttemptStatus.Scored,
        string gradeState = "none",
        Guid? id = null,
        Guid? assignmentId = null,
        double hoursAgo = 3
    ) =>
        new(
            id ?? AttemptId,
            assignmentId ?? AssignmentId,
            StudentId,
            "Rewi Marsh",
            new DrillReference("two-turns", 1),
            "Two climbing turns",
            status,
            status == AttemptStatus.Unscorable ? "The recording ends before the drill begins." : null,
            Now.AddHours(-hoursAgo),
            Now.AddHours(-hoursAgo - 1),
            status == AttemptStatus.Scored ? 0.78 : null,
            status == AttemptStatus.Scored ? Verdict.NotMet : null,
            gradeState,
            status == AttemptStatus.Scored ? Ribbon.Of(Report) : []
        );

    public static ScoreReport Report { get; } =
        new()
        {
            EngineVersion = "1.0.0",
            Drill = new DrillReference("two-turns", 1),
            Recording = new RecordingSummary
            {
                Format = "gpx",
                Samples = 2412,
                Dropped = 3,
                Gaps = 1,
                StartUtc = Now.AddHours(-5),
                EndUtc = Now.AddHours(-4),
                MedianIntervalS = 1,
                Columns = new Dictionary<string, string> { ["altitudeFt"] = "ele" },
            },
            Found = true,
            Confidence = 0.97,
            StartUtc = Now.AddHours(-4.5),
            EndUtc = Now.AddHours(-4.5).AddSeconds(243),
            Entry = new DrillEntry(360, 4500, 100),
            StandardSlug = "instrument-rating",
            Wind = new WindReport(250, 18, 1.2, WindSource.Turns),
            DeclinationDeg = 24.1,
            Sources = new SourcesReport(HeadingSource.WindCorrected, AltitudeSource.Gps, AirspeedSource.Derived),
            Segments =
            [
                Flown(
                    0,
                    Verdict.Met,
                    0.4,
                    Deviation(Parameter.Altitude, "ft", 100, 42, 1, Verdict.Met),
                    Deviation(Parameter.Heading, "deg", 10, -4, 1, Verdict.Met)
                ),
                Flown(
                    1,
                    Verdict.NotMet,
                    12.2,
                    Deviation(Parameter.Altitude, "ft", 100, -236, 0.41, Verdict.NotMet),
                    Deviation(Parameter.Heading, "deg", 10, 14, 0.86, Verdict.Close)
                ),
                Flown(
                    2,
                    Verdict.Close,
                    2.4,
                    Deviation(Parameter.Altitude, "ft", 100, -118, 0.83, Verdict.Close),
                    Deviation(Parameter.Heading, "deg", 10, 6, 1, Verdict.Met)
                ),
                Flown(
                    3,
                    Verdict.Met,
                    -1.8,
                    Deviation(Parameter.Altitude, "ft", 100, 61, 1, Verdict.Met),
                    Deviation(Parameter.Heading, "deg", 10, null, null, Verdict.NotMeasured)
                ),
            ],
            Findings =
            [
                new(1, FindingKind.LateStart, Parameter.Timing, 12.2, "s", Now.AddHours(-4.5).AddSeconds(72), "Turn started 12 s late."),
                new(
                    1,
                    FindingKind.AltitudeDrift,
                    Parameter.Altitude,
                    -236,
                    "ft",
                    Now.AddHours(-4.5).AddSeconds(110),
                    "Climb fell 236 ft behind and was not brought back."
                ),
                new(
                    1,
                    FindingKind.OvershotHeading,
                    Parameter.Heading,
                    14,
                    "deg",
                    Now.AddHours(-4.5).AddSeconds(131),
                    "Rolled out 14° past the heading."
                ),
                new(
                    2,
                    FindingKind.AltitudeDrift,
                    Parameter.Altitude,
                    -118,
                    "ft",
                    Now.AddHours(-4.5).AddSeconds(150),
                    "Altitude stayed 118 ft low for 9 s."
                ),
            ],
            Saturation =
            [
                new(Now.AddHours(-4.5).AddSeconds(95), Now.AddHours(-4.5).AddSeconds(121), [Parameter.Altitude, Parameter.Heading], 0.8),
            ],
            Overall = new OverallReport(
                0.78,
                Verdict.NotMet,
                "78% of the time in tolerance; the standard asks for 90%, and one segment was not met."
            ),
            NotMeasured = ["Heading on the last leg: the wind could not be told apart from drift."],
        };

    public static AttemptDetail Detail(GradeView? grade = null, AttemptStatus status = AttemptStatus.Scored) =>
        new(
            AttemptId,
            AssignmentId,
            StudentId,
            "Rewi Marsh",
            Report.Drill,
            "Two climbing turns",
            status,
            status == AttemptStatus.Unscorable ? "The recording ends before the drill begins." : null,
            status == AttemptStatus.Queued ? 2 : null,
            Now.AddHours(-3),
            "Rewi Marsh",
            "flight.gpx",
            2_412_000,
            "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
            new AttemptMeta(),
            status == AttemptStatus.Scored ? Report : null,
            grade,
            [],
            []
        );

    public static StudentProgress Progress { get; } =
        new(
            StudentId,
            "Rewi Marsh",
            [
                Trend(Parameter.Altitude, "ft", [0.47, 0.52, 0.61, 0.66, 0.78], 0.08, "too soon to say"),
                Trend(Parameter.Heading, "deg", [0.6, 0.7, 0.72, 0.86, 0.91], 0.07, "two attempts are at the standard already"),
                Trend(Parameter.Airspeed, "kt", [0.8, 0.84], null, "too little data: four attempts are needed"),
            ]
        );

    private static DrillPicture Circle()
    {
        double[] t = [.. Enumerable.Range(0, 241).Select(i => (double)i)];
        double x = 0,
            y = 0;
        List<double> east = [],
            north = [],
            altitude = [];
        List<int> index = [];
        foreach (var at in t)
        {
            var segment = Timeline.Segments.Last(s => s.StartS <= at);
            var heading = (segment.StartHeadingMagDeg + segment.TurnedDegAt(at - segment.StartS)) * Math.PI / 180;
            (x, y) = (x + (51 * Math.Sin(heading)), y + (51 * Math.Cos(heading)));
            east.Add(x);
            north.Add(y);
            altitude.Add(segment.AltitudeFtAt(at - segment.StartS));
            index.Add(segment.Index);
        }

        return new DrillPicture(t, [.. east], [.. north], [.. altitude], [.. index]);
    }
}
