using System.Text.Json;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class TimelineGoldenTests
{
    [Fact]
    public void The_timeline_of_the_box_keeps_its_form_on_the_wire()
    {
        using var golden = typeof(TimelineGoldenTests).Assembly.GetManifestResourceStream("box-circles-timeline.golden.json")!;
        var box = Catalogue.Templates.Single(t => t.Slug == "box-circles");
        var timeline = JsonSerializer.SerializeToElement(DrillTimeline.Resolve(box, box.Entry), EngineJson.Default.DrillTimeline);

        Assert.True(JsonElement.DeepEquals(JsonDocument.Parse(golden).RootElement, timeline), timeline.GetRawText());
    }
}
