using System.Globalization;

namespace SchoolDrills.Api.Demo;

/// <summary>
/// Drills that students of the demo flew again and again, in recordings flown by program: one who learns, one who is stuck, some who are
/// ready, one of whom too little is known.
/// </summary>
internal static class DemoCourses
{
    public static IEnumerable<DemoFlight> Flights =>
        [
            .. Course(
                "student",
                "box-circles.csv",
                "instructor",
                "09-17 995, 09-25 1007, 10-02 1020, 10-09 1032, 10-20 1002, 10-29 1015, 11-07 1027, 11-17 997",
                ungraded: 1,
                self: true
            ),
            .. Course(
                "wiremu",
                "box-circles.gpx",
                "instructor",
                "09-15 1009, 09-24 1022, 10-06 992, 10-16 1004, 10-27 1017, 11-05 1029, 11-14 999",
                ungraded: 1,
                self: true
            ),
            .. Course("jess", "box-step-4-half.csv", "callum", "10-23 1024, 11-03 994, 11-12 1006"),
            .. Course("sione", "racetrack.csv", "priya", "11-13 996, 11-19 1008, 11-23 1021", ungraded: 1),
            .. Course("sione", "partial-panel-timed-turns.csv", "priya", "11-10 1011, 11-18 1023"),
            .. Course(
                "hana",
                "timed-turns.csv",
                "priya",
                "09-30 1025, 10-08 995, 10-19 1008, 11-02 1020, 11-12 1032, 11-20 1002",
                self: true
            ),
            .. Course("hana", "vertical-s-turning.csv", "priya", "10-13 997, 10-26 1010, 11-09 1022"),
            .. Course("ben", "vertical-s-turning.gpx", "callum", "09-18 1012, 09-29 1024, 10-14 994, 10-30 1007", self: true),
            .. Course("ruby", "racetrack.gpx", "priya", "06-18 1026, 07-02 996, 08-11 1009"),
            .. Course("ruby", "steep-turns.gpx", "priya", "09-22 998, 10-12 1011, 11-11 1023"),
            .. Course("finn", "box-step-1-square.gpx", "callum", "11-04 1013, 11-16 1025", ungraded: 1),
        ];

    /// <summary>Days with their altimeter settings; the last few not graded yet.</summary>
    private static IEnumerable<DemoFlight> Course(
        string student,
        string recording,
        string instructor,
        string days,
        int ungraded = 0,
        bool self = false
    )
    {
        var flown = days.Split(", ");
        for (var i = 0; i < flown.Length; i++)
        {
            var day = flown[i].Split(' ');
            var grade =
                i >= flown.Length - ungraded ? DemoGrade.None
                : i == flown.Length - ungraded - 1 ? DemoGrade.Signed
                : DemoGrade.Acknowledged;
            yield return new(
                student,
                recording.Split('.')[0],
                $"2026-{day[0]}-{recording}",
                int.Parse(day[1], CultureInfo.InvariantCulture),
                [Math.Max(2, 5 - i), 3],
                instructor,
                grade
            )
            {
                SelfAssessed = self,
                SecondLook = instructor == "instructor",
            };
        }
    }
}
