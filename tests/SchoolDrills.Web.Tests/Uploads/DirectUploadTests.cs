using System.Text.Json;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Uploads;

namespace SchoolDrills.Web.Tests.Uploads;

public sealed class DirectUploadTests : PageTest
{
    private const string Drill = "two-turns";

    [Fact]
    public void A_preview_sends_the_drill_and_the_conditions_and_takes_the_report()
    {
        PreviewedReport? taken = null;
        var module = Choose("flight.gpx", new UploadResponse(200, Json(SampleSchool.Report, WireJson.Default.ScoreReport), "preview-1"));
        var upload = Open<DirectUpload>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(u => u.Title, "Score").Add(u => u.DrillSlug, Drill).Add(u => u.OnReport, report => taken = report)
        );
        upload.Find("input[type=file]").Change("");
        upload.FindAll("input[type=number]")[0].Change("270");
        upload.FindAll("input[type=number]")[^1].Change("12.5");
        upload.Find("button.primary").Click();

        upload.WaitForAssertion(() => Assert.Equal("preview-1", taken?.KeptAs));
        var sent = Assert.Single(module.Invocations["send"]).Arguments;
        Assert.Equal("/api/v1/score-preview?columns=true", sent[1]);
        var fields = Assert.IsType<Dictionary<string, string>>(sent[2]);
        Assert.Equal(Drill, fields["drill"]);
        var options = JsonSerializer.Deserialize(fields["options"], WireJson.Default.AttemptMeta)!;
        Assert.Equal((270.0, 12.5, null), (options.HeadingMagDeg, options.WindKt, options.Drill));
    }

    [Fact]
    public void An_attempt_without_an_assignment_names_its_drill_and_its_student()
    {
        AttemptAccepted? taken = null;
        var accepted = new AttemptAccepted(SampleSchool.AttemptId, AttemptStatus.Queued);
        var module = Choose("flight.gpx", new UploadResponse(202, Json(accepted, WireJson.Default.AttemptAccepted)));
        var upload = Open<DirectUpload>(
            SchoolApi.For(Roles.Instructor),
            Roles.Instructor,
            p =>
                p.Add(u => u.Title, "Upload")
                    .Add(u => u.DrillSlug, Drill)
                    .Add(u => u.StudentId, SampleSchool.StudentId)
                    .Add(u => u.OnAccepted, attempt => taken = attempt)
        );
        upload.Find("input[type=file]").Change("");
        upload.Find("button.primary").Click();

        upload.WaitForAssertion(() => Assert.Equal(SampleSchool.AttemptId, taken?.AttemptId));
        var sent = Assert.Single(module.Invocations["send"]).Arguments;
        Assert.Equal("/api/v1/attempts", sent[1]);
        var fields = Assert.IsType<Dictionary<string, string>>(sent[2]);
        var meta = JsonSerializer.Deserialize(fields["meta"], WireJson.Default.AttemptMeta)!;
        Assert.Equal((Drill, SampleSchool.StudentId), (meta.Drill, meta.StudentId));
    }

    [Fact]
    public void A_csv_without_a_header_asks_for_its_columns_and_is_sent_again_with_them()
    {
        var refusal = """
            {"status":422,"detail":"No latitude.","columns":[
              {"name":"t","samples":[],"takenAs":"timeS"},{"name":"x","samples":["4.5"],"takenAs":"lonDeg"},
              {"name":"y","samples":["41.5"]}]}
            """;
        var module = Choose("flight.csv", new UploadResponse(422, refusal));
        var upload = Open<DirectUpload>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(u => u.Title, "Score").Add(u => u.DrillSlug, Drill).Add(u => u.OnReport, _ => { })
        );
        upload.Find("input[type=file]").Change("");
        Button(upload, "Score").Click();
        upload.WaitForElement("table.columns");
        Assert.Contains("No latitude.", upload.Find("[role=alert]").TextContent);
        upload.Find("select[aria-label='y is taken as']").Change("latDeg");
        Button(upload, "Read again").Click();

        upload.WaitForAssertion(() => Assert.Equal(2, module.Invocations["send"].Count));
        var fields = Assert.IsType<Dictionary<string, string>>(module.Invocations["send"][1].Arguments[2]);
        var options = JsonSerializer.Deserialize(fields["options"], WireJson.Default.AttemptMeta)!;
        Assert.Equal("y", options.Columns!["latDeg"].Column);
    }

    [Theory]
    [InlineData(0, "is empty")]
    [InlineData((64L << 20) + 1, "the limit is 64 MiB")]
    public void A_file_that_the_server_would_refuse_for_its_size_is_not_sent(long bytes, string why)
    {
        var module = Choose("flight.gpx", new UploadResponse(500, ""), bytes);
        var upload = Open<DirectUpload>(
            SchoolApi.For(Roles.Student),
            Roles.Student,
            p => p.Add(u => u.Title, "Score").Add(u => u.DrillSlug, Drill)
        );
        upload.Find("input[type=file]").Change("");
        Assert.Contains(why, upload.Find("[role=alert]").TextContent);
        Assert.True(upload.Find("button.primary").HasAttribute("disabled"));
        Assert.Empty(module.Invocations["send"]);
    }

    /// <summary>The browser's side: a file is chosen, and the server answers it so.</summary>
    private BunitJSModuleInterop Choose(string name, UploadResponse response, long bytes = 2_000)
    {
        var module = JSInterop.SetupModule("./js/uploads.js");
        module.Mode = JSRuntimeMode.Loose;
        module.Setup<ChosenFile[]>("take", _ => true).SetResult([new ChosenFile(1, name, bytes)]);
        module.Setup<UploadResponse>("send", _ => true).SetResult(response);
        return module;
    }

    private static string Json<T>(T value, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type) =>
        JsonSerializer.Serialize(value, type);
}
