using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

public sealed class MissingDataTests
{
    /// <summary>A minute is missing about the start of a segment; the others begin where they do without the gap.</summary>
    [Theory]
    [InlineData("racetrack", 1, 2)]
    [InlineData("racetrack", 2, 4)]
    [InlineData("timed-turns", 3, 1)]
    [InlineData("timed-turns", 4, 3)]
    [InlineData("timed-turns", 5, 5)]
    [InlineData("box-circles", 6, 6)]
    public void A_drill_with_a_minute_missing_is_still_found(string slug, int seed, int segment)
    {
        var lesson = new Lesson(seed, skill: 0.6).Transit().Drill(slug).Home();
        var fromS = lesson.Drilled[segment].StartS - 25;
        var (whole, holed) = (lesson.Report(slug), lesson.Report(slug, lesson.Satellites().Without(fromS, fromS + 60)));
        Assert.True(holed.Found, $"confidence {holed.Confidence:0.00}");
        var elsewhere = lesson.Drilled.Where(l => l.Leg.Segment > 0 && (l.StartS < fromS - 15 || l.StartS > fromS + 75));
        Assert.All(
            elsewhere.Select(l => l.Leg.Segment),
            k => Assert.Equal(whole.Segments[k].StartUtc!.Value, holed.Segments[k].StartUtc!.Value, TimeSpan.FromSeconds(2))
        );
    }
}
