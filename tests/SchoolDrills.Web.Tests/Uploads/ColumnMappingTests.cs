using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;
using SchoolDrills.Web.Uploads;

namespace SchoolDrills.Web.Tests.Uploads;

public sealed class ColumnMappingTests : PageTest
{
    private static readonly string ColumnsPath = $"attempts/{SampleSchool.AttemptId}/columns";

    private static readonly IReadOnlyList<HeaderColumn> Header =
    [
        new("utc", ["17:30:00"], "timeS", null),
        new("lat", ["41.5"], "latDeg", null),
        new("lon", ["-99.5"], "lonDeg", null),
        new("Alt", ["3000", "3010"], "gpsAltitudeFt", "ft"),
        new("A2", ["900"], null, null),
    ];

    private static AttemptColumns Columns(bool mayChange = true) => new(Header, new Dictionary<string, ColumnChoice>(), false, mayChange);

    private IRenderedComponent<ColumnMapping> Open(SchoolApi api, string role = Roles.Instructor) =>
        Open<ColumnMapping>(api, role, p => p.Add(m => m.AttemptId, SampleSchool.AttemptId));

    [Fact]
    public void The_columns_are_fetched_when_asked_for_and_shown_with_samples_and_what_they_are_taken_as()
    {
        var api = SchoolApi.For(Roles.Instructor).Answer(ColumnsPath, Columns());
        var mapping = Open(api);
        Assert.DoesNotContain(api.Asked, a => a.Contains("columns"));
        mapping.Find("button").Click();
        mapping.WaitForElement("table.columns");
        Assert.Equal(5, mapping.FindAll("tbody tr").Count);
        Assert.Contains("3000, 3010", mapping.Markup);
        Assert.Equal("gpsAltitudeFt", mapping.Find("select[aria-label='Alt is taken as']").GetAttribute("value"));
        Assert.All(mapping.FindAll("select"), s => Assert.False(string.IsNullOrEmpty(s.GetAttribute("aria-label"))));
    }

    [Fact]
    public void A_position_in_one_column_needs_no_other_and_is_sent_as_both()
    {
        var draft = new ColumnDraft([
            new("utc", ["17:30:00"], "timeS", null),
            new("place", ["41.50000,-99.50000"], "latDeg", null),
            new("where", ["41.5 -99.5"], null, null),
        ]);
        Assert.Null(draft.Problem);
        Assert.Equal(ColumnDraft.Position, draft.Rows[1].Quantity);
        Assert.Empty(draft.Mapping);

        draft.Rows[1].Quantity = null;
        Assert.Equal("No column is taken as latitude; choose one.", draft.Problem);
        draft.Rows[2].Quantity = ColumnDraft.Position;
        Assert.Null(draft.Problem);
        Assert.Equal(new ColumnChoice("where"), draft.Mapping["latDeg"]);
        Assert.Equal(new ColumnChoice("where"), draft.Mapping["lonDeg"]);

        draft.Rows[1].Quantity = "lonDeg";
        Assert.Equal("Two columns are taken as longitude; choose one.", draft.Problem);
    }

    [Fact]
    public void Two_columns_of_one_quantity_cannot_be_sent_and_setting_them_asks_for_a_new_score()
    {
        var api = SchoolApi.For(Roles.Instructor).Answer(ColumnsPath, Columns());
        var told = false;
        var mapping = Open<ColumnMapping>(
            api,
            Roles.Instructor,
            p => p.Add(m => m.AttemptId, SampleSchool.AttemptId).Add(m => m.OnSet, () => told = true)
        );
        mapping.Find("button").Click();
        mapping.WaitForElement("table.columns");
        mapping.Find("select[aria-label='A2 is taken as']").Change("gpsAltitudeFt");
        Assert.Contains("Two columns are taken as GPS altitude", mapping.Markup);
        Assert.True(mapping.Find("button.primary").HasAttribute("disabled"));
        mapping.Find("select[aria-label='A2 is taken as']").Change("indicatedAltitudeFt");
        mapping.Find("select[aria-label='Unit of A2']").Change("m");
        api.Answer(ColumnsPath, new AttemptAccepted(SampleSchool.AttemptId, AttemptStatus.Queued));
        mapping.Find("button.primary").Click();
        mapping.WaitForAssertion(() => Assert.True(told));
        Assert.Contains($"PUT {ColumnsPath}", api.Asked);
    }

    [Fact]
    public void Who_may_not_change_them_sees_them_plainly()
    {
        var mapping = Open(SchoolApi.For(Roles.Student).Answer(ColumnsPath, Columns(mayChange: false)), Roles.Student);
        mapping.Find("button").Click();
        mapping.WaitForElement("table.columns");
        Assert.Empty(mapping.FindAll("select"));
        Assert.Contains("GPS altitude", mapping.Markup);
    }

    [Fact]
    public void A_refusal_is_told()
    {
        var mapping = Open(SchoolApi.For(Roles.Instructor).Refuse(ColumnsPath, HttpStatusCode.NotFound, "There is no such attempt."));
        mapping.Find("button").Click();
        mapping.WaitForElement(".problem");
    }

    [Fact]
    public void Only_what_was_changed_is_sent()
    {
        var draft = new ColumnDraft(Header, new Dictionary<string, ColumnChoice> { ["bankDeg"] = new("none") });
        Assert.Equal(["bankDeg"], draft.Mapping.Keys);
        draft.Rows[3].Quantity = "pressureAltitudeFt";
        draft.Rows[3].Unit = "m";
        Assert.Equal(
            [("bankDeg", "none", null), ("gpsAltitudeFt", "none", null), ("pressureAltitudeFt", "Alt", "m")],
            draft.Mapping.OrderBy(m => m.Key, StringComparer.Ordinal).Select(m => (m.Key, m.Value.Column, m.Value.Unit))
        );
        draft.Rows[3].Quantity = "bankDeg";
        Assert.Null(draft.Rows[3].Unit);
        draft.Rows[0].Quantity = "";
        Assert.Contains("time", draft.Problem);
    }

    [Fact]
    public void A_refused_upload_tells_its_columns()
    {
        var columns = new UploadResponse(
            422,
            """{"status":422,"detail":"No latitude.","columns":[{"name":"y","samples":["41.5"]},"""
                + """{"name":"t","samples":[],"takenAs":"timeS","unit":"s"}]}"""
        ).Columns;
        Assert.Equal(["y", "t"], columns.Select(c => c.Name));
        Assert.Equal("timeS", columns[1].TakenAs);
        Assert.Empty(new UploadResponse(422, """{"status":422,"detail":"No."}""").Columns);
        Assert.Empty(new UploadResponse(422, "<html>").Columns);
    }
}
