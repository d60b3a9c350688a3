using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Drills as they are taught: repeated, broken off, talked about in between.</summary>
public sealed class TrainingTests
{
    private const double SteepDegPerS = 10.5;

    /// <summary>One circle, talk for a minute, the other side, talk, the first again: a pair, and which pair is left to a person.</summary>
    [Theory]
    [InlineData(1, 1)]
    [InlineData(2, -1)]
    [InlineData(3, 1)]
    [InlineData(4, -1)]
    public void Steep_turns_with_talk_between_them_are_found(int seed, int side)
    {
        var lesson = new Lesson(seed, skill: 0.6).Transit();
        List<double> turnsS = [];
        foreach (var sense in new[] { 1, -1, 1 })
        {
            turnsS.Add(lesson.NowS);
            lesson.Turn(360 * side * sense, SteepDegPerS).Straight(70);
        }

        var report = lesson.Home().Report("steep-turns");
        Assert.True(report.Found, $"confidence {report.Confidence:0.00}");
        // Right and left as planned, or left and right mirrored.
        var first = report.Segments[1].TurnDeg > 0 == side > 0 ? 0 : 1;
        Assert.InRange((report.Segments[1].StartUtc!.Value - lesson.Utc(turnsS[first])).TotalSeconds, -4, 4);
        Assert.InRange((report.Segments[3].StartUtc!.Value - lesson.Utc(turnsS[first + 1])).TotalSeconds, -4, 4);
    }

    [Theory]
    [InlineData("timed-turns", 1)]
    [InlineData("box-circles", 2)]
    [InlineData("vertical-s-turning", 3)]
    [InlineData("rate-climbs", 4)]
    public void A_drill_broken_off_and_flown_anew_is_scored_where_it_was_flown_whole(string slug, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.7).Transit().Drill(slug, count: 4);
        var brokenOff = lesson.Drilled.Count;
        lesson.Straight(60).Turn(-70).Straight(80).Drill(slug).Home();
        var report = lesson.Report(slug);
        lesson.AssertToldAsFlown(report, worstS: 15, brokenOff);
        Assert.False(report.Runs.Single(r => r.Scored).GivenUp);
        Assert.All(report.Runs.Where(r => !r.Scored), r => Assert.True(r.GivenUp));
    }

    /// <summary>The turns of timed turns, each talked about for a minute or so before the next.</summary>
    [Theory]
    [InlineData(1, 40)]
    [InlineData(2, 60)]
    [InlineData(3, 90)]
    public void Turns_flown_one_by_one_with_talk_between_them_are_each_measured(int seed, double talkS)
    {
        var lesson = new Lesson(seed, skill: 0.7).Transit().Straight(60);
        List<double> turnsS = [];
        foreach (var degrees in new[] { 90.0, -180, 360 })
        {
            turnsS.Add(lesson.NowS);
            lesson.Turn(degrees).Straight(talkS);
        }

        var report = lesson.Home().Report("timed-turns");
        Assert.True(report.Found, $"confidence {report.Confidence:0.00}");
        Assert.False(report.Runs.Single(r => r.Scored).GivenUp);
        foreach (var (startS, index) in turnsS.Zip([1, 3, 5]))
        {
            Assert.InRange((report.Segments[index].StartUtc!.Value - lesson.Utc(startS)).TotalSeconds, -4, 4);
            Assert.NotEqual(Verdict.NotMeasured, report.Segments[index].Verdict);
        }
    }

    /// <summary>Drills of two turns, flown to the hand that was not asked.</summary>
    [Theory]
    [InlineData("steep-turns", 1)]
    [InlineData("procedure-turn-45", 2)]
    [InlineData("teardrop-30", 3)]
    [InlineData("eight-climbing", 4)]
    public void A_drill_of_two_turns_is_found_to_the_other_hand(string slug, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.8).Transit().Drill(slug, mirrored: true).Home();
        var report = lesson.Report(slug);
        lesson.AssertToldAsFlown(report, worstS: 8, halfS: 4);
        Assert.True(report.Runs.Single(r => r.Scored).Mirrored);
    }
}
