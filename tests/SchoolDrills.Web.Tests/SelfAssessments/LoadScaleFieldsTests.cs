using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.LoadScales;
using SchoolDrills.Web.SelfAssessments;

namespace SchoolDrills.Web.Tests.SelfAssessments;

public sealed class LoadScaleFieldsTests : PageTest
{
    [Fact]
    public void The_task_load_counts_once_all_six_are_set()
    {
        TaskLoad? given = null;
        var field = Open<TaskLoadField>(new SchoolApi(), Roles.Student, p => p.Add(x => x.ValueChanged, v => given = v));
        Assert.Equal("not set", field.Find("input").GetAttribute("aria-valuetext"));
        foreach (var (i, rating) in new[] { 80, 20, 70, 40, 60 }.Index())
            field.FindAll("input[type=range]")[i].Change(rating.ToString(System.Globalization.CultureInfo.InvariantCulture));
        Assert.Null(given);
        Assert.Contains("1 scale is not set", field.Find("[role=status]").TextContent, StringComparison.Ordinal);
        // Clicked in the middle, where it stands.
        field.FindAll("input[type=range]")[5].Click();
        Assert.Equal(new TaskLoad(80, 20, 70, 40, 60, 50), given);
        Assert.Equal("All six are set.", field.Find("[role=status]").TextContent.Trim());
    }

    /// <summary>The earlier of each pair is picked throughout: 5, 4, 3, 2, 1, 0; (5·80 + 4·20 + 3·70 + 2·40 + 1·60) / 15 = 55.33.</summary>
    [Fact]
    public void The_scales_are_weighted_once_all_fifteen_pairs_are_set()
    {
        TaskLoad? given = null;
        var field = Open<TaskLoadField>(new SchoolApi(), Roles.Student, p => p.Add(x => x.ValueChanged, v => given = v));
        foreach (var (i, rating) in new[] { 80, 20, 70, 40, 60, 50 }.Index())
            field.FindAll("input[type=range]")[i].Change(rating.ToString(System.Globalization.CultureInfo.InvariantCulture));
        for (var pair = 0; pair < 15; pair++)
        {
            Assert.Null(given!.Weights);
            field.FindAll($"[name=pair-{pair}]")[0].Change("on");
        }

        Assert.Equal(new TaskLoadWeights(5, 4, 3, 2, 1, 0), given!.Weights);
        Assert.Equal(55.33, given.Weighted()!.Value, 0.01);
    }

    [Fact]
    public void Three_questions_lead_to_three_ratings_of_spare_capacity_and_giving_up_to_one()
    {
        int? given = null;
        var field = Open<BedfordField>(new SchoolApi(), Roles.Student, p => p.Add(x => x.ValueChanged, v => given = v));
        Assert.Empty(field.FindAll("[name=bedford]"));
        field.FindAll("[name=bedford-done]")[0].Change("on");
        field.FindAll("[name=bedford-tolerable]")[0].Change("on");
        field.FindAll("[name=bedford-fine]")[1].Change("on");
        field.FindAll("[name=bedford]")[2].Change("on");
        Assert.Equal(6, given);
        // Another answer takes the rating back.
        field.FindAll("[name=bedford-tolerable]")[1].Change("on");
        Assert.Null(given);
        Assert.Equal(3, field.FindAll("[name=bedford]").Count);
        Assert.Empty(field.FindAll("[name=bedford-fine]"));
        field.FindAll("[name=bedford-done]")[1].Change("on");
        Assert.Equal(10, given);
    }
}
