using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// What must not matter to a score: which way the aeroplane flew, to which hand, on which day, when the recorder was switched on, what
/// else was flown, and how often it wrote. Lessons of several drills, skills and days, each changed in one respect.
/// </summary>
public sealed class SameFlightAgainTests
{
    private static readonly (string Slug, double Skill, int Turbulence)[] Flown =
    [
        ("box-circles", 0.3, 0),
        ("vertical-s-turning", 0.8, 1),
        ("racetrack", 0.5, 2),
        ("timed-turns", 0.15, 0),
        ("rate-climbs", 0.7, 1),
        ("bank-pairs", 0.6, 0),
        ("procedure-turn-45", 0.9, 0),
        ("eight-climbing", 0.4, 0),
        ("steep-turns", 0.7, 0),
        ("vertical-s-2", 0.95, 0),
    ];

    private static readonly Lazy<(string Slug, Track Fine, ScoreReport Own)[]> Lessons = new(() =>
        [
            .. Flown.Select(
                (f, i) =>
                {
                    var lesson = new Lesson(seed: 40 + i, f.Skill, f.Turbulence).Transit().Drill(f.Slug).Home();
                    var fine = lesson.RecordFine();
                    return (f.Slug, fine, Scored.Report(fine.Every(1), f.Slug));
                }
            ),
        ]
    );

    [Theory]
    [InlineData(10)]
    [InlineData(130)]
    public void Flown_on_other_headings_it_scores_the_same(double deg) => Compare(l => l.Every(1).Turned(deg), allS: 0.6);

    [Fact]
    public void Flown_to_the_other_hand_it_scores_the_same() => Compare(l => l.Every(1).MirroredPath(), allS: 0.6, mirrored: true);

    [Fact]
    public void Flown_three_days_later_it_scores_the_same() => Compare(l => l.Every(1).Later(3 * 86_400), allS: 0.1, laterS: 3 * 86_400);

    [Theory]
    [InlineData(0.4)]
    [InlineData(1)]
    public void Recorded_from_a_moment_later_it_scores_the_same(double laterS) =>
        Compare(l => l.Between(l.TimeS[0] + laterS, l.TimeS[^1]).Every(1), allS: 2);

    [Theory]
    [InlineData(0.2, 1, 3)]
    [InlineData(2, 1, 6)]
    public void Recorded_more_or_less_often_it_scores_the_same(double everyS, double mostS, double allS) =>
        Compare(l => l.Every(everyS), mostS, allS);

    /// <summary>Each format rounds in its own way, tenths of a metre at most.</summary>
    [Theory]
    [InlineData("gpx")]
    [InlineData("kml")]
    [InlineData("tcx")]
    [InlineData("nmea among binary")]
    [InlineData("pair of letters")]
    [InlineData("panel of UTC")]
    public void Written_in_any_format_it_scores_the_same(string layout) =>
        Compare(l => Recording.Good(Recording.ReadBytes(Layouts.Write(layout, l.Every(1)))), mostS: 0.3, allS: 1);

    /// <summary>General flying of an hour, moved to where the lesson begins or ends.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void An_hour_of_other_flight_moves_no_boundary(bool before)
    {
        const double pauseS = 3;
        var general = Enumerable.Range(0, 7).Aggregate(new Lesson(seed: 60), (l, _) => l.Transit()).Satellites();
        Compare(
            fine =>
            {
                var own = fine.Every(1);
                return before ? general.MovedTo(own, -1, 0).Then(own, pauseS) : own.Then(general.MovedTo(own, 0, -1), pauseS);
            },
            allS: 0.5,
            laterS: before ? general.TimeS[^1] + pauseS : 0
        );
    }

    private static void Compare(Func<Track, Track> change, double mostS = 0.6, double allS = 0.6, double laterS = 0, bool mirrored = false)
    {
        List<(double OffS, string What)> boundaries = [];
        List<string> verdicts = [];
        foreach (var (slug, fine, own) in Lessons.Value)
        {
            var report = Scored.Report(change(fine), slug, new ScoringOptions { Mirrored = mirrored ? true : null });
            Assert.True(own.Found && report.Found, $"{slug}: confidence {own.Confidence:0.00}, then {report.Confidence:0.00}");
            foreach (var (a, b) in own.Segments.Zip(report.Segments))
            {
                Assert.Equal(a.Status, b.Status);
                boundaries.Add((Math.Abs((b.StartUtc!.Value - a.StartUtc!.Value).TotalSeconds - laterS), $"{slug} {a.Index}"));
                // What is said to be doubtful may come out otherwise.
                if (a.Verdict != b.Verdict && a.Probability >= 0.9 && b.Probability >= 0.9)
                    verdicts.Add($"{slug} {a.Index} {a.Verdict} {b.Verdict}");
            }
        }

        boundaries.Sort((a, b) => b.OffS.CompareTo(a.OffS));
        var worst = string.Join(", ", boundaries.Take(8).Select(b => $"{b.What} {b.OffS:0.0} s"));
        Assert.True(boundaries[0].OffS <= allS, worst);
        Assert.True(boundaries[boundaries.Count / 10].OffS <= mostS, worst);
        Assert.True(verdicts.Count <= boundaries.Count / 30, string.Join(", ", verdicts));
    }
}
