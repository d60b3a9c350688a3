using System.Globalization;

namespace SchoolDrills.Api.Demo;

internal enum DemoGrade
{
    None,
    Draft,
    Signed,
    Acknowledged,
}

/// <summary>A drill that was flown, and how far its grading has come.</summary>
/// <param name="File">Recording; its name begins with the day at the school, which <see cref="DemoCalendar"/> moves.</param>
/// <param name="QnhHpa">Altimeter setting of the day.</param>
/// <param name="Load">The student's own load ratings.</param>
internal sealed record DemoFlight(
    string Student,
    string Drill,
    string File,
    double QnhHpa,
    int[] Load,
    string Instructor,
    DemoGrade Grade,
    string Comment = "",
    string? Reply = null
)
{
    public DateOnly RecordedOn => DateOnly.ParseExact(File[..10], "yyyy-MM-dd", CultureInfo.InvariantCulture);

    public Guid AssignmentId => DemoPeople.Fixed($"flown {Student} {File}");

    /// <summary>Aircraft flown: each student has one.</summary>
    public string Aircraft => Student is "ben" or "finn" or "jess" ? "tussock-two" : "tussock-four";

    /// <summary>The student said how it went before seeing the score.</summary>
    public bool SelfAssessed { get; init; }

    /// <summary>The chief graded it as well.</summary>
    public bool SecondLook { get; init; }
}

/// <summary>A drill that is still to be flown, due so many days from the school's first start.</summary>
internal sealed record DemoTask(
    string Student,
    string Drill,
    int DueInDays,
    string Instructor,
    string? Notes = null,
    bool Cancelled = false
)
{
    public Guid AssignmentId => DemoPeople.Fixed($"open {Student} {Drill} {DueInDays}");
}

/// <summary>The demo school's work: three students on their way through the box, others beside them.</summary>
internal static class DemoWork
{
    private const string Box = "box-circles",
        Racetrack = "racetrack",
        VerticalS = "vertical-s-turning",
        TimedTurns = "timed-turns";

    /// <summary>In the order of days, so that the newest is uploaded last.</summary>
    public static readonly IReadOnlyList<DemoFlight> Flights = [.. FirstYear.Concat(DemoCourses.Flights).OrderBy(f => f.RecordedOn)];

    private static IEnumerable<DemoFlight> FirstYear =>
        [
            new(
                "sione",
                Box,
                "2026-02-12-box-circles.csv",
                1019,
                [2, 2, 2],
                "priya",
                DemoGrade.Acknowledged,
                "Nothing to add. Next time with questions on top.",
                "Thanks! Ready for more."
            ),
            new("jess", Box, "2026-03-19-box-circles.igc", 1009, [2, 3, 3], "callum", DemoGrade.Acknowledged, "A steady first box."),
            new(
                "sione",
                Box,
                "2026-03-19-box-circles.csv",
                1009,
                [2, 3, 2],
                "priya",
                DemoGrade.Signed,
                "Held everything through two sets of questions."
            ),
            new(
                "jess",
                Box,
                "2026-04-08-box-circles.gpx",
                1021,
                [3, 4, 5],
                "callum",
                DemoGrade.Signed,
                "Stopped after side three: right to say so, and we go on from there."
            ),
            new(
                "student",
                Box,
                "2026-04-08-box-circles.csv",
                1021,
                [3, 4, 5],
                "instructor",
                DemoGrade.Acknowledged,
                "The last side was one too many. Heights were good until then.",
                "I lost the count in the descent. Will say the next cue aloud."
            ),
            new(
                "student",
                Box,
                "2026-05-07-box-circles.csv",
                1023,
                [3, 3, 4],
                "instructor",
                DemoGrade.Acknowledged,
                "Turn on side two started late while answering. Fly first, answer second.",
                "Understood."
            ),
            new(
                "wiremu",
                Box,
                "2026-05-07-box-circles.gpx",
                1023,
                [4, 4, 5],
                "instructor",
                DemoGrade.Acknowledged,
                "Late into the turn, then chasing the altitude. Smaller corrections.",
                "Fair."
            ),
            new(
                "ruby",
                Racetrack,
                "2026-05-26-racetrack.gpx",
                1011.85,
                [1, 2, 2],
                "priya",
                DemoGrade.Acknowledged,
                "By the clock from start to end."
            ),
            new(
                "student",
                Box,
                "2026-07-31-box-circles.csv",
                1002,
                [3, 4, 4],
                "instructor",
                DemoGrade.Signed,
                "You saw it run away after the question and brought it back: that is the drill."
            ),
            new(
                "wiremu",
                Box,
                "2026-07-31-box-circles.gpx",
                1002,
                [3, 4, 4],
                "instructor",
                DemoGrade.Signed,
                "Better. The scan stops when you talk; keep the eyes moving."
            ),
            new("jess", Box, "2026-07-31-box-circles.igc", 1002, [4, 4, 4], "callum", DemoGrade.Draft, "Airspeed in the climbs"),
            new(
                "hana",
                VerticalS,
                "2026-08-18-vertical-s-turning.csv",
                1025,
                [3, 3],
                "priya",
                DemoGrade.Signed,
                "Second turn went the wrong way for a moment: say the direction before you roll."
            ),
            new("ben", VerticalS, "2026-08-18-vertical-s-turning.gpx", 1025, [2, 3], "callum", DemoGrade.None),
            new("student", Box, "2026-09-03-box-circles.csv", 1021.29, [2, 3, 3], "instructor", DemoGrade.None),
            new("wiremu", Box, "2026-09-03-box-circles.gpx", 1021.29, [3, 3, 4], "instructor", DemoGrade.None),
            new("hana", TimedTurns, "2026-09-23-timed-turns.csv", 999, [2, 3], "priya", DemoGrade.None),
            new(
                "ben",
                TimedTurns,
                "2026-09-23-timed-turns.gpx",
                999,
                [3, 4],
                "callum",
                DemoGrade.Signed,
                "Lead the roll-out by half the bank."
            ),
            new("jess", Box, "2026-10-15-box-circles.csv", 1012, [5, 5, 5], "callum", DemoGrade.None),
            new("sione", Racetrack, "2026-11-06-racetrack.csv", 1014, [2, 2], "priya", DemoGrade.None),
        ];

    public static readonly IReadOnlyList<DemoTask> Tasks =
    [
        new("student", Box, 4, "instructor", "Same as last time, now with a position report on each straight."),
        new("student", VerticalS, 12, "instructor"),
        new("wiremu", Box, 2, "instructor", "Talk yourself through the scan."),
        new("wiremu", TimedTurns, -6, "instructor"),
        new("jess", "box-step-4-half", 5, "callum", "Half the box, without questions. We build up again from here."),
        new("sione", "partial-panel-timed-turns", 9, "priya"),
        new("hana", Box, 7, "priya", "Your first whole box."),
        new("ben", VerticalS, -3, "callum", "Again, with the direction said aloud."),
        new("ruby", "steep-turns", 10, "priya"),
        new("finn", "box-step-1-square", -1, "callum"),
        new("finn", "half-rate-timed-turns", 3, "callum", "Bring your own stopwatch."),
        new("finn", "saw-tooth", 20, "callum", Cancelled: true),
    ];
}
