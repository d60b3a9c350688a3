using System.Globalization;
using System.IO.Compression;
using System.Text;
using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Accuracy.Demo;

/// <summary>
/// Recordings of the demo school that are flown by program. Each student has a skill that rises, or does not, and an error that he keeps
/// making, or does not; so the pages over many attempts have something true to show.
/// </summary>
internal static class DemoFlights
{
    private static readonly AeroplaneType Trainer = AeroplaneType.All.Single(t => t.Name == "four-seat trainer");

    private static readonly PilotHabits Ordinary = new(OneClock: true, 1, CorrectionStyle.All[0], Fixates: false, Tunnels: false, default);

    private static readonly Course[] Courses =
    [
        // Learns steadily; the descending circles stay behind.
        new(
            "box-circles",
            "csv",
            "09-17 09-25 10-02 10-09 10-20 10-29 11-07 11-17",
            -0.5,
            0.75,
            [new("wrong_vertical_speed", 5, 820, 1), new("level_off_error", 13, 220, 1)]
        )
        {
            WithErrors = 6,
        },
        // Flies a good deal and does not get better: climbs go through the altitude each time.
        new(
            "box-circles",
            "gpx",
            "09-15 09-24 10-06 10-16 10-27 11-05 11-14",
            0,
            0,
            [new("level_off_error", 1, 230, 1), new("level_off_error", 9, 260, 1), new("airspeed_decay", 7, 18, -1)]
        )
        {
            WithErrors = 7,
        },
        new("box-step-4-half", "csv", "10-23 11-03 11-12", -0.2, 0.4, []),
        // Ready for the next stage.
        new("racetrack", "csv", "11-13 11-19 11-23", 0.9, 0.95, []),
        new("partial-panel-timed-turns", "csv", "11-10 11-18", 0.8, 0.9, []),
        new("timed-turns", "csv", "09-30 10-08 10-19 11-02 11-12 11-20", -0.3, 0.4, [new("heading_overshoot", 3, 24, 1)])
        {
            WithErrors = 3,
        },
        new("vertical-s-turning", "csv", "10-13 10-26 11-09", -0.2, 0.5, [new("late_start", 1, 11, 1)]) { WithErrors = 2 },
        new("vertical-s-turning", "gpx", "09-18 09-29 10-14 10-30", 0.15, 0.55, []),
        new("racetrack", "gpx", "06-18 07-02 08-11", 0.5, 0.85, []),
        new("steep-turns", "gpx", "09-22 10-12 11-11", 0.4, 0.85, []),
        new("box-step-1-square", "gpx", "11-04 11-16", 0.1, 0.2, []),
    ];

    /// <summary>Writes every recording into a folder, and prints what the engine finds in it.</summary>
    public static int Write(string folder, ToleranceStandard standard)
    {
        Directory.CreateDirectory(folder);
        foreach (var (number, course) in Courses.Index())
        {
            var days = course.Days.Split(' ');
            for (var i = 0; i < days.Length; i++)
            {
                var share = days.Length > 1 ? i / (days.Length - 1.0) : 0;
                var skill = course.FirstSkill + (share * (course.LastSkill - course.FirstSkill));
                var file = $"2026-{days[i]}-{course.Drill}.{course.Format}";
                Write(folder, file, course, skill, i < course.WithErrors ? course.Errors : [], 3000 + (100 * number) + i, standard);
            }
        }

        return 0;
    }

    private static void Write(
        string folder,
        string file,
        Course course,
        double skill,
        IReadOnlyList<Mistake> errors,
        int seed,
        ToleranceStandard standard
    )
    {
        // Mid-morning at the school is the evening before by UTC.
        var day = DateTimeOffset.Parse(file[..10] + "T00:00:00Z", CultureInfo.InvariantCulture);
        var template = Catalogue.Templates.Single(t => t.Slug == course.Drill);
        var random = new Random(seed);
        var air = new Day(random, -43.67, 171.96, 1040, day.AddHours(-2.5).AddMinutes(random.Next(0, 240)));
        var flight = FlownFlight.Fly(seed, new BookedFlight(air, Trainer, skill, Ordinary, template, errors));
        var recorder = new Recorder(flight, random);
        var isCsv = course.Format == "csv";
        var track = isCsv ? recorder.AirData() : recorder.Satellites(new Receiver(2, 4, 60, 0, 1, 0, 1, DropsOut: false));
        var bytes = Encoding.UTF8.GetBytes(isCsv ? TrackText.Csv(track) : TrackText.Gpx(track));
        using (var packed = new GZipStream(File.Create(Path.Combine(folder, file + ".gz")), CompressionLevel.SmallestSize))
            packed.Write(bytes);
        Console.WriteLine($"{file} {bytes.Length} bytes, QNH {air.SettingHpa:0}: {Scored(bytes, template, standard, air.SettingHpa)}");
    }

    private static string Scored(byte[] bytes, DrillTemplate template, ToleranceStandard standard, double qnhHpa)
    {
        if (TrackReader.Read(new MemoryStream(bytes)).Track is not { } track)
            return "not readable";
        var report = AttemptScorer.Score(track, template, standard, new ScoringOptions { QnhHpa = qnhHpa }).Report;
        var verdicts = string.Concat(report.Segments.Select(s => s.Verdict.ToString()[0]));
        var findings = string.Join("; ", report.Findings.Select(f => $"{f.SegmentIndex} {f.Kind}"));
        return $"{report.Confidence:0.00} {report.Overall?.Verdict} {report.Overall?.WithinShare:0.00} {verdicts} [{findings}]";
    }

    /// <summary>What one student flies of one drill.</summary>
    /// <param name="Days">Days at the school, month and day.</param>
    /// <param name="FirstSkill">Skill on the first day; 1 is faultless, 0 a beginner, less is worse.</param>
    /// <param name="LastSkill">Skill on the last.</param>
    /// <param name="Errors">Errors that he keeps making.</param>
    private sealed record Course(
        string Drill,
        string Format,
        string Days,
        double FirstSkill,
        double LastSkill,
        IReadOnlyList<Mistake> Errors
    )
    {
        /// <summary>Errors are made on so many of the first days.</summary>
        public int WithErrors { get; init; }
    }
}
