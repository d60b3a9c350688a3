using Bunit;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Tests.Charts;

public sealed class MarksTests : BunitContext
{
    [Theory]
    [InlineData(Verdict.Met, "met")]
    [InlineData(Verdict.Close, "close")]
    [InlineData(Verdict.NotMet, "not met")]
    [InlineData(Verdict.NotMeasured, "not measured")]
    public void A_mark_always_carries_its_word(Verdict verdict, string word)
    {
        Assert.Equal(word, Render<VerdictMark>(p => p.Add(m => m.Verdict, verdict)).Find(".visually-hidden").TextContent);
        Assert.Equal(word, Render<VerdictMark>(p => p.Add(m => m.Verdict, verdict).Add(m => m.Word, true)).Find(".word").TextContent);
    }

    [Fact]
    public void The_four_marks_differ_in_shape_and_not_in_colour_alone()
    {
        var shapes = Enum.GetValues<Verdict>().Select(v => Render<VerdictMark>(p => p.Add(m => m.Verdict, v)).Find("svg").InnerHtml);

        Assert.Equal(4, shapes.Distinct().Count());
    }

    [Fact]
    public void A_left_turn_is_a_right_turn_mirrored_and_an_unknown_side_shows_none()
    {
        string? Side(double? turnDeg) =>
            Render<KindGlyph>(p => p.Add(g => g.Kind, SegmentKind.LevelTurn).Add(g => g.TurnDeg, turnDeg)).Find("svg").InnerHtml;

        Assert.Contains("matrix(-1", Side(-90), StringComparison.Ordinal);
        Assert.DoesNotContain("matrix", Side(90), StringComparison.Ordinal);
        Assert.NotEqual(Side(90), Side(null));
    }
}
