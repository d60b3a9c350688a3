using System.Globalization;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Demo;

/// <summary>
/// What instructors of the demo noted on board. In the flights of the first year the times of tasks are those at which the simulated pilot
/// was given something else to do; in the others they are where the drill has them.
/// </summary>
internal static class DemoNotes
{
    private const string FourFlows =
        "2:38 check Clean-up flow, side 1; 6:12 check Clean-up flow, side 2; "
        + "9:44 check Clean-up flow, side 3; 13:12 check Clean-up flow, side 4";

    private const string FourTasks =
        "8:00 load-task Reciprocal; 8:06 answered Reciprocal; 8:50 load-task Time and distance; 9:04 answered Time and distance; "
        + "10:40 load-task Frequency; 10:49 answered Frequency; 11:30 load-task Fuel left; 11:41 answered Fuel left";

    private const string PositionReports =
        "0:12 load-task Position report 1; 0:19 answered Position report 1; 3:34 load-task Position report 2; "
        + "3:42 answered Position report 2; 7:04 load-task Position report 3; 7:11 answered Position report 3; "
        + "10:32 load-task Position report 4; 10:37 answered Position report 4; 12:20 load-task Position; 12:29 answered Position";

    /// <summary>By recording: when the drill's clock was started, UTC, and the notes with their time on it.</summary>
    private static readonly Dictionary<string, (string StartUtc, string Notes)> ByFile = new()
    {
        ["2026-03-19-box-circles.csv"] = (
            "2026-03-19T02:48:10.7Z",
            $"{FourFlows}; 4:15 load-task radio call; 4:33 answered radio call; 7:00 load-rating 2; 10:00 load-task fuel check; "
                + "10:14 answered fuel check"
        ),
        ["2026-05-07-box-circles.csv"] = OfMay("2026-05-06T23:15:28.8Z"),
        ["2026-05-07-box-circles.gpx"] = OfMay("2026-05-06T22:23:28.8Z"),
        ["2026-07-31-box-circles.csv"] = OfJuly("2026-07-30T22:42:18.4Z"),
        ["2026-07-31-box-circles.gpx"] = OfJuly("2026-07-30T21:28:18.4Z"),
        ["2026-10-15-box-circles.csv"] = (
            "2026-10-14T23:50:38Z",
            "2:50 check Clean-up flow, side 1; 6:30 check Clean-up flow, side 2; 8:00 load-task Reciprocal; "
                + "8:25 answered-wrong Reciprocal; 8:40 relief no more questions; 9:10 load-rating 5; 13:12 abort airspeed"
        ),
        ["2026-10-20-box-circles.csv"] = (
            "2026-10-19T21:52:03.3Z",
            "2:40 check Clean-up flow, side 1; 8:00 load-task Reciprocal; 8:07 answered Reciprocal; 8:50 load-task Time and distance; "
                + "9:12 answered-wrong Time and distance; 9:47 check Clean-up flow, side 3; 13:20 check Clean-up flow, side 4"
        ),
        ["2026-10-29-box-circles.csv"] = ("2026-10-28T23:57:03.8Z", $"{FourFlows}; {FourTasks}; 12:05 load-rating 3"),
        ["2026-11-06-racetrack.csv"] = (
            "2026-11-05T20:10:08Z",
            "2:05 check Before the hold; 5:30 load-task heading change request to note down; "
                + "5:52 answered heading change request to note down"
        ),
        ["2026-11-07-box-circles.csv"] = (
            "2026-11-06T22:02:03.8Z",
            $"{FourFlows}; {FourTasks}; {PositionReports}; 7:14 traffic two o'clock, same level; 7:26 traffic-clear; 12:45 load-rating 3"
        ),
        ["2026-11-17-box-circles.csv"] = (
            "2026-11-17T00:08:03.7Z",
            $"{FourFlows}; {FourTasks}; {PositionReports}; 5:00 load-rating 2; 12:45 load-rating 3; 13:40 note Eyes moving all the time."
        ),
    };

    private static (string, string) OfMay(string startUtc) =>
        (
            startUtc,
            "2:41 check Clean-up flow, side 1; 5:30 load-task radio call; 5:53 answered radio call; 6:15 check Clean-up flow, side 2; "
                + "7:05 load-rating 3; 10:24 check Clean-up flow, side 3; 11:20 load-rating 4; 13:14 check Clean-up flow, side 4"
        );

    private static (string, string) OfJuly(string startUtc) =>
        (
            startUtc,
            "2:30 load-task radio call; 2:48 answered radio call; 2:56 check Clean-up flow, side 1; 3:40 load-rating 3; "
                + "6:20 check Clean-up flow, side 2; 6:40 load-task Time and distance; 7:50 answered-wrong Time and distance; "
                + "8:10 relief no more questions; 8:50 load-rating 5; 13:16 check Clean-up flow, side 4"
        );

    /// <summary>The notes of a flight, on the demo's days; null where nobody took any.</summary>
    public static IReadOnlyList<AttemptEvent>? Of(DemoFlight flight, DemoCalendar calendar)
    {
        if (!ByFile.TryGetValue(flight.File, out var noted))
            return null;
        var startUtc = DateTimeOffset.Parse(noted.StartUtc, CultureInfo.InvariantCulture).AddDays(calendar.Days);
        return
        [
            .. $"0:00 clock-start; {noted.Notes}"
                .Split("; ")
                .Select(
                    (line, i) =>
                    {
                        var words = line.Split(' ', 3);
                        var clock = words[0].Split(':');
                        var atS =
                            (60 * int.Parse(clock[0], CultureInfo.InvariantCulture)) + int.Parse(clock[1], CultureInfo.InvariantCulture);
                        return new AttemptEvent(
                            DemoPeople.Fixed($"noted {flight.Student} {flight.File} {i}"),
                            words[1],
                            startUtc.AddSeconds(atS),
                            words.Length > 2 ? words[2] : null
                        );
                    }
                ),
        ];
    }
}
