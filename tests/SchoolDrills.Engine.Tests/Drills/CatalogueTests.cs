using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class CatalogueTests
{
    /// <summary>Skills that no drill of the catalogue trains.</summary>
    private static readonly string[] Skills = ["Straight and level by instruments", "Standard-rate turns", "Flow checks from memory"];

    public static TheoryData<string> Slugs => [.. Catalogue.Templates.Select(t => t.Slug)];

    [Fact]
    public void A_fresh_school_has_at_least_fourteen_drills_and_six_standards()
    {
        Assert.True(Catalogue.Templates.Count >= 14);
        Assert.True(Catalogue.Standards.Count >= 6);
        Assert.Equal(Catalogue.Templates.Count, Catalogue.Templates.Select(t => t.Slug).Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Slugs))]
    public void Every_drill_resolves_as_published_mirrored_and_at_half_rate(string slug)
    {
        var template = Template(slug);

        Assert.Empty(TemplateProblems.Of(template));
        foreach (
            var entry in new[]
            {
                template.Entry,
                template.Entry with
                {
                    Mirrored = true,
                },
                template.Entry with
                {
                    HalfRate = true,
                },
                template.Entry with
                {
                    Mirrored = true,
                    HalfRate = true,
                },
            }
        )
        {
            Timelines.AssertConsistent(DrillTimeline.Resolve(template, entry));
        }
    }

    [Theory]
    [MemberData(nameof(Slugs))]
    public void Mirrored_a_drill_has_the_same_clock_and_altitudes_and_the_turns_the_other_way(string slug)
    {
        var template = Template(slug);
        var (asIs, mirrored) = (
            DrillTimeline.Resolve(template, template.Entry),
            DrillTimeline.Resolve(template, template.Entry with { Mirrored = true })
        );

        Assert.Equal(
            asIs.Segments.Select(s => (s.StartS, s.EndS, s.EndAltitudeFt, -s.TurnDeg)),
            mirrored.Segments.Select(s => (s.StartS, s.EndS, s.EndAltitudeFt, s.TurnDeg))
        );
    }

    [Theory]
    [MemberData(nameof(Slugs))]
    public void Names_say_neither_left_nor_right_because_a_drill_may_be_mirrored(string slug)
    {
        var words = FlatNames(Template(slug).Segments).SelectMany(n => n.ToLowerInvariant().Split(' ', ',', ':'));

        Assert.DoesNotContain(words, w => w is "left" or "right");
    }

    [Theory]
    [MemberData(nameof(Slugs))]
    public void Every_drill_says_what_it_trains_its_prerequisites_and_its_source(string slug)
    {
        var template = Template(slug);

        Assert.NotNull(template.Trains);
        Assert.NotEmpty(template.CommonErrors);
        Assert.NotEmpty(template.Sources);
        Assert.NotEmpty(template.Prerequisites);
        Assert.All(
            template.Prerequisites,
            p => Assert.True(Skills.Contains(p) || Catalogue.Templates.Any(t => t.Title == p && t.Slug != slug), p)
        );
        Assert.Contains(Catalogue.Standards, s => s.Slug == template.StandardSlug);
        Assert.Equal(1, template.Version);
    }

    [Theory]
    // Total time and end heading from an entry on 360: FAA-H-8083-15B chapter 7, figures 7-41 to 7-46; times of the small turns by
    // arithmetic.
    [InlineData("racetrack", 420, 360)]
    [InlineData("procedure-turn-45", 250, 180)]
    [InlineData("procedure-turn-45-minute", 270, 180)]
    [InlineData("turn-80-260", 233.3, 180)]
    [InlineData("teardrop-30", 140, 180)]
    [InlineData("teardrop-20", 193.3, 180)]
    [InlineData("teardrop-10", 246.7, 180)]
    // Legs of 60, 60, 48, 48, 36, 36, 24 and 24 s, by arithmetic from 500, 400, 300 and 200 ft at 500 fpm.
    [InlineData("vertical-s", 336, 360)]
    [InlineData("vertical-s-2", 336, 360)]
    // 180° + 180° one way, 144° twice the other, 108° twice, 72° twice: 360 − 288 + 216 − 144 = 144, by arithmetic.
    [InlineData("vertical-s-1", 336, 144)]
    public void A_drill_of_the_trade_takes_its_published_time_and_ends_on_its_heading(string slug, double durationS, double endHeading)
    {
        var timeline = DrillTimeline.Resolve(Template(slug), new DrillEntry(360, 3000, 90));

        Assert.Equal(durationS, timeline.DurationS, 0.05);
        Assert.Equal(endHeading, timeline.Segments[^1].EndHeadingMagDeg, 1e-6);
        Assert.Equal(3000, timeline.Segments[^1].EndAltitudeFt, 1e-6);
    }

    [Fact]
    public void The_steps_toward_the_box_rise_in_level_and_the_box_is_the_top()
    {
        var scores = new[] { "box-step-1-square", "box-step-2-circles", "box-step-3-climbs", "box-step-4-half", "box-circles" }
            .Select(slug => DrillLevel.Of(DrillTimeline.Resolve(Template(slug), Template(slug).Entry)))
            .ToArray();

        Assert.Equal(scores.OrderBy(s => s.Score), scores);
        Assert.Equal(1, scores[0].Level);
        Assert.Equal(5, scores[^1].Level);
    }

    [Fact]
    public void The_instrument_rating_standard_has_the_figures_of_the_certification_standards()
    {
        var standard = Catalogue.Standards.Single(s => s.Slug == "instrument-rating");
        var box = DrillTimeline.Resolve(Template("box-circles"), Template("box-circles").Entry);
        var (straight, turn) = (box.Segments[0], box.Segments[1]);

        // FAA-S-ACS-8C (November 2023), IR.IV.A, in a transcription: 100 ft, 10°, 10 kt, bank within 5° in turns.
        Assert.Equal(100, standard.WithinFor(Parameter.Altitude, straight));
        Assert.Equal(10, standard.WithinFor(Parameter.Heading, straight));
        Assert.Equal(10, standard.WithinFor(Parameter.Airspeed, turn));
        Assert.Equal(5, standard.WithinFor(Parameter.Bank, turn));
        Assert.Null(standard.WithinFor(Parameter.Bank, straight));
        Assert.Null(standard.WithinFor(Parameter.Heading, turn));
        Assert.Equal("transcription", standard.Basis);
    }

    [Fact]
    public void Every_standard_says_how_its_figures_were_confirmed()
    {
        Assert.All(Catalogue.Standards, s => Assert.Contains(s.Basis, new[] { "published", "transcription", "common practice" }));
        Assert.All(
            Catalogue.Standards.SelectMany(s => s.Tolerances).Where(t => t.Parameter is Parameter.Timing or Parameter.TurnRate),
            t => Assert.Equal("common practice", t.Basis)
        );
        Assert.All(Catalogue.Standards, s => Assert.True(s.RequiredShare > s.CloseShare && s.CloseShare > 0 && s.PromptCorrectionS > 0));
    }

    private static DrillTemplate Template(string slug) => Catalogue.Templates.Single(t => t.Slug == slug);

    private static IEnumerable<string> FlatNames(IEnumerable<Segment> segments) =>
        segments.SelectMany(s => FlatNames(s.Segments).Prepend(s.Name));
}
