using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Planning;

namespace SchoolDrills.Web.Tests.Planning;

public sealed class AreasPageTests : PageTest
{
    private const string Feature =
        """{"type":"Feature","properties":{"name":"Block"},"geometry":{"type":"Polygon","coordinates":[[[1,2],[3,4],[5,2],[1,2]]]}}""";

    [Theory]
    [InlineData(Roles.Student, 0)]
    [InlineData(Roles.Instructor, 0)]
    [InlineData(Roles.Chief, 1)]
    public void Everybody_sees_the_areas_and_the_chief_alone_may_change_them(string role, int forms)
    {
        var page = Open<AreasPage>(PlanSchool.For(role, PlanSchool.Plains), role);

        Assert.Contains("from 2,500 ft to 6,500 ft", page.Find(".lines").TextContent);
        Assert.Contains("Plains West", page.Find("svg.map").GetAttribute("aria-label"));
        Assert.Equal(forms, page.FindAll("form").Count);
        Assert.Equal(forms, page.FindAll("button[aria-label='Remove Plains West']").Count);
    }

    [Fact]
    public void Without_areas_the_page_says_who_adds_them()
    {
        var page = Open<AreasPage>(PlanSchool.For(Roles.Student), Roles.Student);

        Assert.Contains("The chief instructor adds them.", page.Find(".empty").TextContent);
    }

    [Fact]
    public void What_is_no_JSON_is_told_with_its_line_and_what_the_school_refuses_with_its_sentence()
    {
        var api = PlanSchool.For(Roles.Chief);
        var page = Open<AreasPage>(api, Roles.Chief);
        page.Find("textarea").Input("{\n\"type\": }");
        page.Find("form").Submit();
        Assert.Contains("Line 2: this is not well-formed JSON.", page.Find("[role=alert]").TextContent);

        api.Refuse("school/areas", HttpStatusCode.UnprocessableEntity, "Block has no floor: give floorFt.");
        page.Find("textarea").Input(Feature);
        page.Find("form").Submit();
        Assert.Contains("Block has no floor", page.Find("[role=alert]").TextContent);
        Assert.Equal(Feature, page.Find("textarea").GetAttribute("value"));
    }
}
