using System.Text.Json;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills.Editing;

public sealed class QuickLineTests
{
    private static DrillTemplate Typed(DrillTemplate template, params string[] lines)
    {
        foreach (var line in lines)
        {
            var read = QuickLine.Read(line, template, DraftPreview.Of(template).StartOf(template, null));
            Assert.Null(read.Problem);
            template = read.Edit!.Template;
        }

        return template;
    }

    [Fact]
    public void The_box_with_circles_typed_line_by_line_is_the_catalogues()
    {
        var catalogue = Catalogue.Templates.Single(t => t.Slug == "box-circles");

        var typed = Typed(
            Drill(),
            "straight and level: 30",
            "climbing circle: right circle, climb 1000",
            "clean-up: 30",
            "corner: right 90",
            "straight and level: 30",
            "descending circle: left circle, descend 1000",
            "clean-up: 30",
            "corner: right 90",
            "group 5 to 8 as Side",
            "group 1 to 4 as Side",
            "repeat 1 to 2 twice"
        );

        Assert.Equal(
            JsonSerializer.Serialize(DrillTimeline.Resolve(catalogue, catalogue.Entry).Segments.Select(Plain)),
            JsonSerializer.Serialize(DrillTimeline.Resolve(typed, typed.Entry).Segments.Select(Plain))
        );

        static object Plain(TimelineSegment s) =>
            new
            {
                s.Name,
                s.Kind,
                s.StartS,
                s.EndS,
                s.EndHeadingMagDeg,
                s.EndAltitudeFt,
                s.TurnDeg,
                s.VerticalSpeedFpm,
            };
    }

    [Theory]
    [InlineData("repeat 3 twice", "There is no segment 3 to repeat.")]
    [InlineData("repeat 0 to 1 twice", "There is no segment 0 to repeat.")]
    [InlineData("repeat 1 to 2.1 4 times", "Segments 1 and 2.1 do not stand in one group, so they cannot be repeated together.")]
    public void Rows_that_are_not_there_or_not_together_are_not_repeated(string text, string problem)
    {
        var template = Typed(Drill(), "30", "right 90", "repeat 2 twice");

        Assert.Equal(problem, QuickLine.Read(text, template, default).Problem);
    }

    [Fact]
    public void Rows_inside_a_group_can_be_repeated_too()
    {
        var template = Typed(Drill(), "30", "right 90", "left 90", "repeat 1-3, 2 times as Part", "repeat 1.2 to 1.3 3 times");

        Assert.Equal((1, 3), (template.Segments.Count, template.Segments[0].Segments[1].Repeat));
        Assert.Equal(14, DraftPreview.Of(template).Timeline!.Segments.Count);
    }
}
