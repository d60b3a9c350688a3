using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Api.Tests.Uploads;

/// <summary>Columns of a CSV set by hand, and remembered by the school for the same header.</summary>
public sealed class ColumnTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static Dictionary<string, ColumnChoice> Map(params (string Quantity, string Column)[] choices) =>
        choices.ToDictionary(c => c.Quantity, c => new ColumnChoice(c.Column));

    [Fact]
    public async Task The_columns_of_a_CSV_are_told_with_samples_and_what_they_were_taken_as()
    {
        var attemptId = await UploadAsync(await FlightAsync("told_"));
        var columns = await (await app.AsAsync(SchoolsFixture.Student)).ColumnsAsync(attemptId, Cancel);
        Assert.Equal("timeS", columns.Columns.Single(c => c.Name == "utc").TakenAs);
        Assert.Equal(3, columns.Columns[0].Samples.Count);
        Assert.Null(columns.Columns.Single(c => c.Name == "told_").TakenAs);
        Assert.Equal((0, false, true), (columns.Mapping.Count, columns.Remembered, columns.MayChange));
        var gpx = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.gpx");
        Assert.Empty((await (await app.AsAsync(SchoolsFixture.Student)).ColumnsAsync(gpx, Cancel)).Columns);
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.OtherStudent)).ColumnsAsync(attemptId, Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.FarChief)).ColumnsAsync(attemptId, Cancel)
        );
    }

    [Fact]
    public async Task A_CSV_without_known_columns_is_refused_with_its_columns_and_read_once_they_are_said()
    {
        var flight = await FlightAsync("", "t,", "y,", "x,");
        var assignment = await app.AssignAsync("timed-turns");
        var student = await app.AsAsync(SchoolsFixture.Student);
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.UploadAsync(assignment.Id, Stream(flight), "f13.csv", new AttemptMeta(), Cancel)
        );
        Assert.Equal(["t", "y", "x"], refusal.Columns.Take(3).Select(c => c.Name));
        Assert.Contains("t, y, x", refusal.Message, StringComparison.Ordinal);
        var meta = new AttemptMeta { Columns = Map(("timeS", "t"), ("latDeg", "y"), ("lonDeg", "x")) };
        var accepted = await student.UploadAsync(assignment.Id, Stream(flight), "f13.csv", meta, Cancel);
        await app.ScoreAsync(accepted.AttemptId);
        var attempt = await student.AttemptAsync(accepted.AttemptId, Cancel);
        Assert.Equal(AttemptStatus.Scored, attempt.Status);
        Assert.Equal("y", attempt.Score!.Recording.Columns["latDeg"]);
        Assert.Contains(attempt.Score.Warnings, w => w.Contains("set by hand", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Setting_columns_scores_anew_and_the_school_remembers_them_for_the_same_header()
    {
        var first = await UploadAsync(await FlightAsync("kept_"));
        await app.ScoreAsync(first);
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var before = (await instructor.AttemptAsync(first, Cancel)).Score!;
        var set = await instructor.SetColumnsAsync(
            first,
            new SetColumns(Map(("indicatedAltitudeFt", "none"), ("bankDeg", "none")), Remember: true),
            Cancel
        );
        Assert.Equal(AttemptStatus.Queued, set.Status);
        await app.ScoreAsync(first);
        var after = (await instructor.AttemptAsync(first, Cancel)).Score!;
        Assert.Equal(AltitudeSource.Indicated, before.Sources.Altitude);
        Assert.NotEqual(AltitudeSource.Indicated, after.Sources.Altitude);
        Assert.DoesNotContain("bankDeg", after.Recording.Columns.Keys);
        Assert.Equal(
            1,
            await app.QueryAsync(db => db.AuditEntries.CountAsync(a => a.SubjectId == first && a.Action == "columns-set", Cancel))
        );

        // Another flight under the same header, with nothing said.
        var second = await UploadAsync(await FlightAsync("kept_", skip: 1));
        await app.ScoreAsync(second);
        var remembered = await instructor.ColumnsAsync(second, Cancel);
        Assert.True(remembered.Remembered);
        Assert.Equal("none", remembered.Mapping["bankDeg"].Column);
        var score = (await instructor.AttemptAsync(second, Cancel)).Score!;
        Assert.DoesNotContain("bankDeg", score.Recording.Columns.Keys);
        Assert.Contains(score.Warnings, w => w.Contains("the school has set", StringComparison.Ordinal));

        // What is said with an upload goes before, and an empty mapping forgets.
        var said = await UploadAsync(await FlightAsync("kept_", skip: 2), new AttemptMeta { Columns = Map(("pitchDeg", "none")) });
        Assert.Equal(["pitchDeg"], (await instructor.ColumnsAsync(said, Cancel)).Mapping.Keys);
        await instructor.SetColumnsAsync(first, new SetColumns(Map(), Remember: true), Cancel);
        Assert.Empty((await instructor.ColumnsAsync(await UploadAsync(await FlightAsync("kept_", skip: 3)), Cancel)).Mapping);
    }

    [Fact]
    public async Task What_a_student_says_is_remembered_unless_the_staff_has_said_otherwise()
    {
        var student = await app.AsAsync(SchoolsFixture.Student);
        await UploadAsync(await FlightAsync("by_"), new AttemptMeta { Columns = Map(("pitchDeg", "none")), RememberColumns = true });
        Assert.True(
            (await student.ColumnsAsync(await UploadAsync(await FlightAsync("by_", skip: 1)), Cancel)).Mapping.ContainsKey("pitchDeg")
        );
        var third = await UploadAsync(await FlightAsync("by_", skip: 2));
        await (await app.AsAsync(SchoolsFixture.Chief)).SetColumnsAsync(
            third,
            new SetColumns(Map(("bankDeg", "none")), Remember: true),
            Cancel
        );
        await student.SetColumnsAsync(third, new SetColumns(Map(("pitchDeg", "none")), Remember: true), Cancel);
        Assert.Equal(["bankDeg"], (await student.ColumnsAsync(await UploadAsync(await FlightAsync("by_", skip: 3)), Cancel)).Mapping.Keys);
    }

    [Fact]
    public async Task What_one_school_remembers_is_nothing_to_another()
    {
        var first = await UploadAsync(await FlightAsync("wall_"));
        await (await app.AsAsync(SchoolsFixture.Instructor)).SetColumnsAsync(
            first,
            new SetColumns(Map(("bankDeg", "none")), Remember: true),
            Cancel
        );
        var far = await app.AsAsync(SchoolsFixture.FarStudent);
        var theirs = await far.UploadAsync(
            null,
            Stream(await FlightAsync("wall_")),
            "f13.csv",
            new AttemptMeta { Drill = "timed-turns" },
            Cancel
        );
        Assert.Empty((await far.ColumnsAsync(theirs.AttemptId, Cancel)).Mapping);
    }

    [Fact]
    public async Task A_mapping_that_does_not_fit_changes_nothing()
    {
        var attemptId = await UploadAsync(await FlightAsync("fit_"));
        var student = await app.AsAsync(SchoolsFixture.Student);
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.SetColumnsAsync(attemptId, new SetColumns(Map(("latDeg", "northing"))), Cancel)
        );
        Assert.Contains("northing", refusal.Message, StringComparison.Ordinal);
        Assert.NotEmpty(refusal.Columns);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.SetColumnsAsync(attemptId, new SetColumns(Map(("latDeg", ""))), Cancel)
        );
        Assert.Empty((await student.ColumnsAsync(attemptId, Cancel)).Mapping);
        var gpx = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.gpx");
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => student.SetColumnsAsync(gpx, new SetColumns(Map(("latDeg", "y"))), Cancel)
        );
        Assert.DoesNotContain(
            await app.QueryAsync(db => db.ColumnMappings.Select(m => m.Mapping).ToListAsync(Cancel)),
            m => m.Values.Any(c => c.Column == "northing")
        );
    }

    [Fact]
    public async Task A_student_sets_the_columns_of_an_attempt_until_its_grade_is_signed()
    {
        var attemptId = await UploadAsync(await FlightAsync("signed_"));
        await app.ScoreAsync(attemptId);
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("above-standard", [], null, Sign: true), Cancel);
        var student = await app.AsAsync(SchoolsFixture.Student);
        Assert.False((await student.ColumnsAsync(attemptId, Cancel)).MayChange);
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => student.SetColumnsAsync(attemptId, new SetColumns(Map(("bankDeg", "none"))), Cancel)
        );
        await instructor.SetColumnsAsync(attemptId, new SetColumns(Map(("bankDeg", "none"))), Cancel);
    }

    /// <summary>
    /// A recording with one column more, whose name makes its header its own, and with other names for its first columns.
    /// </summary>
    private static async Task<byte[]> FlightAsync(
        string extra,
        string time = "utc,",
        string lat = "lat_deg,",
        string lon = "lon_deg,",
        int skip = 0
    )
    {
        await using var file = SchoolsFixture.Recording("f13.csv");
        using var reader = new StreamReader(file);
        var lines = (await reader.ReadToEndAsync(Cancel)).TrimEnd().Split('\n');
        var header = time + lat + lon + lines[0].TrimEnd('\r').Split(',', 4)[3] + (extra.Length > 0 ? "," + extra : "");
        return Encoding.UTF8.GetBytes(
            string.Join('\n', lines.Skip(1 + skip).Select(l => l.TrimEnd('\r') + (extra.Length > 0 ? ",7" : "")).Prepend(header)) + "\n"
        );
    }

    private async Task<Guid> UploadAsync(byte[] flight, AttemptMeta? meta = null)
    {
        var assignment = await app.AssignAsync("timed-turns");
        return (
            await (await app.AsAsync(SchoolsFixture.Student)).UploadAsync(
                assignment.Id,
                Stream(flight),
                "f13.csv",
                meta ?? new AttemptMeta(),
                Cancel
            )
        ).AttemptId;
    }

    private static MemoryStream Stream(byte[] bytes) => new(bytes, writable: false);
}
