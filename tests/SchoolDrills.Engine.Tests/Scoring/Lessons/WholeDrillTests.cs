using SchoolDrills.Engine.Reconstruction;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Drills flown to their end that have been, or could be, taken for half of themselves.</summary>
public sealed class WholeDrillTests
{
    /// <summary>The second half of a box resembles its first: four sides, of which the third and fourth are the first and second.</summary>
    [Theory]
    [InlineData("box-circles", 1)]
    [InlineData("box-circles", 2)]
    [InlineData("box-circles", 3)]
    [InlineData("box-step-2-circles", 4)]
    [InlineData("box-step-1-square", 5)]
    public void A_weak_pilots_drill_is_not_begun_at_half_time_and_given_up(string slug, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.08).Transit().Drill(slug).Home();
        var report = lesson.Report(slug);
        lesson.AssertToldAsFlown(report, worstS: 20);
        Assert.False(Assert.Single(report.Runs).GivenUp);
    }

    [Theory]
    [InlineData("box-circles", 1)]
    [InlineData("vertical-s-turning", 2)]
    [InlineData("timed-turns", 3)]
    [InlineData("racetrack", 4)]
    public void Headings_recorded_in_turbulence_show_the_whole_drill(string slug, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.4, turbulence: 2).Transit().Drill(slug).Home();
        var report = lesson.Report(slug, lesson.AirData());
        Assert.Equal(HeadingSource.Recorded, report.Sources.Heading);
        Assert.False(Assert.Single(report.Runs).GivenUp);
        lesson.AssertToldAsFlown(report, worstS: 20, halfS: 4);
    }

    /// <summary>
    /// Going over from the climbing half of a circle to its descending half shows in the altitude alone; pilots do it where the heading
    /// passes the half.
    /// </summary>
    [Fact]
    public void A_climbing_half_circle_goes_over_into_a_descending_one_when_the_pilot_did()
    {
        var offS = Enumerable
            .Range(1, 6)
            .SelectMany(seed =>
            {
                var lesson = new Lesson(seed, skill: 0.9).Transit().Drill("vertical-s-turning").Home();
                var report = lesson.Report("vertical-s-turning");
                return new[] { 4, 6 }.Select(half =>
                    Math.Abs((report.Segments[half].StartUtc!.Value - lesson.Utc(lesson.Drilled[half].StartS)).TotalSeconds)
                );
            })
            .Order()
            .ToArray();
        Assert.InRange(offS[offS.Length / 2], 0, 2);
        Assert.InRange(offS[^1], 0, 6);
    }
}
