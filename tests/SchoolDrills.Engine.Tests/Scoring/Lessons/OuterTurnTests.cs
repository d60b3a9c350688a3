using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>A drill that opens or closes with a turn is not part of a longer turn, whichever hand is asked.</summary>
public sealed class OuterTurnTests
{
    private static readonly string[] CourseReversals =
    [
        "teardrop-10",
        "teardrop-20",
        "teardrop-30",
        "procedure-turn-45",
        "procedure-turn-45-minute",
        "turn-80-260",
    ];

    private static readonly Dictionary<string, Func<Lesson, Lesson>> Flown = new()
    {
        ["a turn of 264 degrees a minute after one of 20"] = l => l.Turn(-20).Straight(62).Turn(264),
        ["two turns of 264 degrees"] = l => l.Turn(264).Straight(62).Turn(264),
        ["two orbits a minute after a turn of 30 degrees"] = l => l.Turn(-30).Straight(60).Turn(720),
        ["an orbit to either side, a minute apart"] = l => l.Turn(-360).Straight(60).Turn(360),
        ["an orbit to either side, two minutes apart"] = l => l.Turn(-360).Straight(120).Turn(360),
        ["an orbit after turning off by 80 degrees"] = l => l.Straight(120).Turn(-80).Turn(360),
        ["a turn of 320 degrees after turning off by 45"] = l => l.Straight(120).Turn(-45).Straight(40).Turn(320),
    };

    public static TheoryData<string, int> Longer() => [.. Flown.Keys.SelectMany(f => new[] { (f, 1), (f, 2) })];

    [Theory]
    [MemberData(nameof(Longer))]
    public void A_course_reversal_is_not_found_inside_a_longer_turn(string flown, int seed)
    {
        var lesson = Flown[flown](new Lesson(seed, skill: 0.7).Straight(150)).Straight(60);
        var flight = ReconstructedFlight.Of(lesson.Satellites(), new ScoringOptions())!;
        var found =
            from slug in CourseReversals
            from mirrored in new[] { false, true }
            let drill = DrillFinder.Find(flight, Scored.Drill(slug), new ScoringOptions { Mirrored = mirrored })
            where drill.IsFound
            select $"{slug}{(mirrored ? " mirrored" : "")} {drill.Confidence:0.00}";
        Assert.Empty(found);
    }

    /// <summary>The same flown as planned.</summary>
    [Theory]
    [InlineData("teardrop-20", 1)]
    [InlineData("teardrop-30", 2)]
    [InlineData("procedure-turn-45", 3)]
    [InlineData("procedure-turn-45-minute", 4)]
    [InlineData("turn-80-260", 5)]
    public void A_course_reversal_is_found_where_it_was_flown(string slug, int seed)
    {
        var lesson = new Lesson(seed, skill: 0.7).Straight(150).Drill(slug).Straight(60);
        lesson.AssertToldAsFlown(lesson.Report(slug), worstS: 6, halfS: 3);
    }
}
