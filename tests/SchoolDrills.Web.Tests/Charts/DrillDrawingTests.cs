using System.Globalization;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Tests.Charts;

public sealed class DrillDrawingTests : BunitContext
{
    private static readonly DrillTimeline Timeline = BoxDrill.Timeline();
    private static readonly DrillPicture Picture = BoxDrill.Picture(Timeline);

    [Theory]
    [InlineData(160)]
    [InlineData(360)]
    [InlineData(640)]
    public void The_whole_path_lies_within_the_drawing_with_one_scale_both_ways(int height)
    {
        var sketch = new DrillSketch(Picture, Timeline, height);

        var spots = sketch.Strokes.SelectMany(s => Spots(s.Path)).ToList();
        Assert.All(spots, s => Assert.InRange(s.X, 0, sketch.WidthPx));
        Assert.All(spots, s => Assert.InRange(s.Y, 0, sketch.PlanHeightPx));
        // The first half minute runs due north: 30 s at 46 m/s.
        Assert.Equal(30 * 46 * sketch.PixelsPerMetre, sketch.Start.Y - Spots(sketch.Strokes[0].Path)[30].Y, 0.3);
    }

    [Fact]
    public void Higher_is_drawn_heavier_and_climbs_are_told_apart()
    {
        var sketch = new DrillSketch(Picture, Timeline, 360);

        Assert.Equal(sketch.Strokes.Max(s => s.WeightPx), sketch.Strokes.Where(s => !s.Slanted).Max(s => s.WeightPx));
        Assert.Contains(sketch.Strokes, s => s.Slanted);
        Assert.True(sketch.Strokes[0].WeightPx < sketch.Strokes.Max(s => s.WeightPx));
    }

    /// <summary>The path rounds off each level-off, so that it stays a little short of what is planned.</summary>
    [Fact]
    public void The_profile_names_the_altitudes_that_are_planned()
    {
        var shy = Picture with { AltitudeFt = [.. Picture.AltitudeFt.Select(a => Math.Clamp(a, 3021, 3979))] };
        Assert.Equal(["4,000 ft", "3,000 ft"], new DrillSketch(shy, Timeline, 480).Profile!.Levels.Select(l => l.Text));
    }

    [Fact]
    public void A_drill_that_never_turns_is_drawn_small_from_the_side()
    {
        double[] climbFt = [3000, 3500, 3500, 3000];
        DrillPicture straight = new([0, 60, 120, 180], [0, 0, 0, 0], [0, 2800, 5600, 8400], climbFt, [0, 1, 1, 2]);
        var sketch = new DrillSketch(straight, null, 168);
        Assert.True(sketch.End.X - sketch.Start.X > 50);
        Assert.Contains(sketch.Strokes.SelectMany(s => Spots(s.Path)), s => s.Y < sketch.Start.Y - 15);
    }

    [Fact]
    public void Labels_of_gates_do_not_cover_each_other()
    {
        var labels = new DrillSketch(Picture, Timeline, 480).Ticks.Select(t => t.Label).OfType<Spot>().ToList();

        Assert.True(labels.Count >= 8, $"only {labels.Count} labels found room");
        for (var i = 0; i < labels.Count; i++)
        {
            for (var j = 0; j < i; j++)
                Assert.False(Math.Abs(labels[i].X - labels[j].X) < 20 && Math.Abs(labels[i].Y - labels[j].Y) < 12);
        }
    }

    [Fact]
    public void A_circle_flown_twice_is_drawn_beside_itself()
    {
        Spot[] twice =
        [
            .. Enumerable
                .Range(0, 240)
                .Select(i => new Spot(100 + (50 * Math.Cos(i * Math.PI / 60)), 100 + (50 * Math.Sin(i * Math.PI / 60)))),
        ];

        var drawn = PathOffsets.Apart(twice, 6);

        Assert.Equal(twice[60], drawn[60]);
        Assert.Equal(6, drawn[180].DistanceTo(twice[180]), 0.01);
    }

    [Fact]
    public void A_path_that_crosses_itself_stays_where_it_is()
    {
        Spot[] cross =
        [
            .. Enumerable.Range(0, 100).Select(i => new Spot(i, 50)),
            .. Enumerable.Range(0, 100).Select(i => new Spot(50, 100 - i)),
        ];

        Assert.Equal(cross, PathOffsets.Apart(cross, 6));
    }

    [Fact]
    public void A_large_drawing_has_north_scale_clock_times_and_a_profile()
    {
        var texts = Render<DrillDrawing>(p => p.Add(d => d.Picture, Picture).Add(d => d.Timeline, Timeline).Add(d => d.Height, 420))
            .FindAll("text")
            .Select(t => t.TextContent)
            .ToList();

        Assert.Contains("N", texts);
        Assert.Contains(texts, t => t.EndsWith(" NM", StringComparison.Ordinal));
        Assert.Contains("2:30", texts);
        Assert.Contains("4,000 ft", texts);
    }

    [Fact]
    public void A_thumbnail_has_no_words() =>
        Assert.Empty(Render<DrillDrawing>(p => p.Add(d => d.Picture, Picture).Add(d => d.Height, 160)).FindAll("text"));

    [Fact]
    public void What_repeats_is_said_once() =>
        Assert.Equal(
            "Box, 14:00 from heading 360° at 3,000 ft. Four similar parts, each: straight, 0:30; turn of 360° "
                + "with 1,000 ft of climb or descent, 2:00; straight, 0:30; turn of 90°, 0:30.",
            DrillDescription.Describe("Box", Timeline)
        );

    [Fact]
    public void Without_a_picture_there_are_words() =>
        Assert.Equal("No drawing for this drill.", Render<DrillDrawing>(p => p.Add(d => d.Picture, null)).Find("p").TextContent);

    private static List<Spot> Spots(string path) =>
        [.. path.Split('M', 'L').Where(p => p.Length > 0).Select(p => p.Split(' ')).Select(p => new Spot(Number(p[0]), Number(p[1])))];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
