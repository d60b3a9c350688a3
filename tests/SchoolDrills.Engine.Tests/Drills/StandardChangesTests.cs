using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

public class StandardChangesTests
{
    private static readonly SegmentKind[] Turns = [SegmentKind.LevelTurn, SegmentKind.ClimbTurn, SegmentKind.DescendTurn];

    private static ToleranceStandard Standard { get; } =
        new()
        {
            Slug = "school",
            Title = "School",
            Source = "The manual.",
            Basis = "school",
            Tolerances =
            [
                new(Parameter.Altitude, 100),
                new(Parameter.Heading, 10),
                new(Parameter.Bank, 5, Turns),
                new(Parameter.Timing, 5),
            ],
        };

    [Fact]
    public void What_changed_between_editions_is_told_in_words()
    {
        var later = Standard with
        {
            RequiredShare = 0.95,
            PromptCorrectionS = 10,
            Tolerances =
            [
                new(Parameter.Altitude, 75),
                new(Parameter.Heading, 10),
                new(Parameter.Heading, 5, [SegmentKind.LevelStraight]),
                new(Parameter.Airspeed, 10),
                new(Parameter.Bank, 5, Turns),
            ],
        };
        Assert.Equal(
            [
                "Altitude: ±75 ft instead of ±100 ft, stricter.",
                "Heading in straight and level: ±5° instead of ±10°, stricter.",
                "Airspeed: now ±10 kt, not judged before.",
                "Timing: no longer judged, ±5 s before.",
                "Time in tolerance for met: 95% instead of 90%, stricter.",
                "Prompt correction: within 10 s instead of 8 s, more lenient.",
            ],
            StandardChanges.InWords(Standard, later)
        );
        Assert.Empty(StandardChanges.InWords(Standard, Standard with { Slug = "other", Title = "Other", Edition = "2026" }));
    }

    [Fact]
    public void A_problem_names_the_field_that_it_stands_beside()
    {
        var wrong = Standard with
        {
            Title = " ",
            CloseShare = 0.95,
            PromptCorrectionS = 90,
            Tolerances =
            [
                new(Parameter.Altitude, -5),
                new(Parameter.Heading, 10, [SegmentKind.LevelTurn]),
                new(Parameter.Heading, 8, Turns),
            ],
        };
        Assert.Equal(
            ["title", "tolerances[0].within", "tolerances[2].phases", "closeShare", "promptCorrectionS"],
            StandardProblems.Of(wrong).Select(p => p.Field)
        );
        Assert.Empty(StandardProblems.Of(Standard));
        Assert.Equal(StandardProblems.Of(wrong).Select(p => p.Sentence), wrong.Problems());
    }

    [Fact]
    public void Examples_are_judged_as_attempts_are()
    {
        // By the rule: put right within 8 s below twice the tolerance is met; left standing is not, twice the tolerance never.
        var examples = JudgedExample.Of(Standard, Parameter.Altitude, 100);
        Assert.Equal([Verdict.Met, Verdict.Close, Verdict.NotMet], examples.Select(e => e.Verdict));
        Assert.All(examples, e => Assert.Equal(e.TimeS.Count, e.Tolerances.Count));
        // Drawn as judged: outside for as long as the sentence says, to within the half second between points.
        var outsideS = examples[1].Tolerances.Count(t => Math.Abs(t) > 1) / 2.0;
        Assert.InRange(outsideS, 15, 17);
        // A standard that forgives nothing fails the first as well.
        Assert.NotEqual(Verdict.Met, JudgedExample.Of(Standard with { PromptCorrectionS = 0 }, Parameter.Altitude, 100)[0].Verdict);
    }

    [Fact]
    public void A_climb_table_is_read_between_its_rows_and_carried_on_beyond_them()
    {
        // Invented figures; between rows by proportion.
        var profile = Catalogue.Aircraft[0] with
        {
            ClimbTable = [new(0, 800), new(4_000, 500), new(10_000, 50)],
        };
        Assert.Equal(
            [875, 800, 650, 500, 275, 50, -25],
            ((double[])[-1_000, 0, 2_000, 4_000, 7_000, 10_000, 11_000]).Select(profile.ClimbFpmAt)
        );
        Assert.Empty(AircraftProblems.Of(profile));
        Assert.Equal(
            ["climbTable[1].densityAltitudeFt", "climbTable[1].climbFpm"],
            AircraftProblems.Of(profile with { ClimbTable = [new(4_000, 500), new(4_000, 500)] }).Select(p => p.Field)
        );
    }
}
