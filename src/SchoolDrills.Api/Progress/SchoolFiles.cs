using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Progress;

namespace SchoolDrills.Api.Progress;

/// <summary>The tables of the overview, and the attempts of a period with their results, as files for a spreadsheet or a program.</summary>
internal static class SchoolFiles
{
    private static readonly UTF8Encoding Utf8WithMark = new(encoderShouldEmitUTF8Identifier: true);

    public static void MapSchoolFiles(this RouteGroupBuilder api)
    {
        var school = api.MapGroup("/school");
        school
            .MapGet("/overview.csv", OverviewAsync)
            .RequireAuthorization(Policies.Chief)
            .WithSummary("The tables of the overview as one CSV: what a row is about stands in its first column")
            .Produces(StatusCodes.Status200OK, contentType: "text/csv");
        school
            .MapGet("/attempts.csv", AttemptsCsvAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("Every result of the attempts flown in a period; from and to are days at the school")
            .Produces(StatusCodes.Status200OK, contentType: "text/csv");
        school
            .MapGet("/attempts.json", AttemptsJsonAsync)
            .RequireAuthorization(Policies.ChiefConfirmed)
            .WithSummary("The same as a JSON array")
            .Produces(StatusCodes.Status200OK, contentType: "application/json");
    }

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> OverviewAsync(
        int? days,
        SchoolDrillsDbContext db,
        Concluded<StagePlace> concluded,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await SchoolEndpoints.OverviewOfAsync(days, db, concluded, clock.GetUtcNow(), ct) is not { Period: { } period } overview)
            return SchoolEndpoints.DaysProblem;
        return TypedResults.Stream(
            async body =>
            {
                await using var text = new StreamWriter(body, Utf8WithMark, leaveOpen: true);
                foreach (var line in Lines(overview, period))
                    await text.WriteAsync(line);
            },
            "text/csv; charset=utf-8",
            "overview.csv"
        );
    }

    private static IEnumerable<string> Lines(SchoolOverview overview, SchoolPeriod period)
    {
        yield return Csv.Line(
            "table",
            "what",
            "id",
            "from",
            "to",
            "students",
            "attempts",
            "not met",
            "share not met",
            "lo",
            "hi",
            "reason",
            "assigned",
            "graded",
            "waiting",
            "median days to grade",
            "ready",
            "oldest on"
        );
        yield return Shared("all", "attempts", null, null, period.Attempts);
        foreach (var d in period.Drills)
            yield return Shared("drill", d.DrillTitle, d.DrillSlug, d.Students, d.Share);
        foreach (var s in period.Segments)
            yield return Shared("segment", $"{s.SegmentKind.Word()} {s.Parameter.Word()}", null, null, s.Share);
        foreach (var a in period.Aircraft)
            yield return Shared("aircraft", a.AircraftTitle ?? "not said", a.Aircraft, a.Students, a.Share);
        foreach (var s in period.Stages)
            yield return Shared("stage", s.StageTitle, s.StageSlug, s.Students, s.Share, s.Ready);
        foreach (var i in period.Instructors)
        {
            yield return Row("instructor", i.InstructorName, i.InstructorId.ToString())
                .With(11, i.Reason)
                .With(12, Text<int>(i.Assigned))
                .With(13, Text<int>(i.Graded))
                .With(14, Text<int>(i.Waiting))
                .With(15, Text(i.MedianDaysToGrade))
                .Line();
        }

        foreach (var d in period.NotFlown)
            yield return Row("not flown", d.DrillTitle, d.DrillSlug).Line();
        foreach (var a in overview.Ageing)
        {
            yield return Row("waiting", a.What, string.Join(' ', a.OldestIds))
                .With(14, Text<int>(a.Count))
                .With(17, Text(a.OldestOn))
                .Line();
        }

        foreach (var s in overview.Students)
            yield return Row("student", s.StudentName, s.StudentId.ToString()).With(6, Text<int>(s.Attempts)).Line();

        string Shared(string table, string what, string? id, int? students, CountedShare share, int? ready = null) =>
            Row(table, what, id)
                .With(5, Text(students))
                .With(6, Text<int>(share.Attempts))
                .With(7, Text<int>(share.NotMet))
                .With(8, Text(share.NotMetShare))
                .With(9, Text(share.Interval?.Lo))
                .With(10, Text(share.Interval?.Hi))
                .With(11, share.Reason)
                .With(16, Text(ready))
                .Line();

        Cells Row(string table, string what, string? id) =>
            new Cells()
                .With(0, table)
                .With(1, what)
                .With(2, id)
                .With(3, Text<DateOnly>(period.FromOn))
                .With(4, Text<DateOnly>(period.ToOn));
    }

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> AttemptsCsvAsync(
        DateOnly? from,
        DateOnly? to,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        await NoteAsync(me, db, clock, from, to, ct);
        var results = await ResultsAsync(db, from, to, ct);
        return TypedResults.Stream(body => WriteAsync(body, results, ct), "text/csv; charset=utf-8", "attempts.csv");
    }

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> AttemptsJsonAsync(
        DateOnly? from,
        DateOnly? to,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        await NoteAsync(me, db, clock, from, to, ct);
        var results = await ResultsAsync(db, from, to, ct);
        return TypedResults.Stream(
            body => JsonSerializer.SerializeAsync(body, results, WireJson.Default.IAsyncEnumerableAttemptResult, ct),
            "application/json",
            "attempts.json"
        );
    }

    private static Task<int> NoteAsync(
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        DateOnly? from,
        DateOnly? to,
        CancellationToken ct
    )
    {
        var detail = $"{Text(from) ?? "the first"} to {Text(to) ?? "the last"}";
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "attempts-exported", "school", me.SchoolId, detail));
        return db.SaveChangesAsync(ct);
    }

    private static async Task<IAsyncEnumerable<AttemptResult>> ResultsAsync(
        SchoolDrillsDbContext db,
        DateOnly? from,
        DateOnly? to,
        CancellationToken ct
    )
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        // Nothing was flown outside these years; a day at the ends of the calendar has no instant in every zone.
        var since = school.StartOf(from is { Year: >= 1990 and < 9000 } first ? first : new DateOnly(1990, 1, 1));
        var until = school.StartOf(to is { Year: >= 1990 and < 9000 } last ? last.AddDays(1) : new DateOnly(9000, 1, 1));
        return (
            from a in db.Attempts.AsNoTracking()
            where a.FlownAtUtc >= since && a.FlownAtUtc < until
            join r in db.SegmentResults on a.LatestReportId equals r.ReportId
            orderby a.FlownAtUtc, a.Id, r.SegmentIndex, r.Parameter
            select new AttemptResult(
                a.Id,
                a.FlownAtUtc!.Value,
                a.StudentId,
                a.Student.DisplayName,
                r.DrillSlug,
                a.DrillVersion.Version,
                a.Aircraft,
                db.Assignments.Where(x => x.Id == a.AssignmentId).Select(x => x.AssignedBy.DisplayName).FirstOrDefault(),
                a.Grades.Where(g => g.SignedAtUtc != null).OrderByDescending(g => g.Number).Select(g => g.Overall).FirstOrDefault(),
                a.Verdict,
                a.WithinShare,
                r.SegmentIndex,
                r.Kind,
                r.Parameter,
                r.DurationS,
                r.WithinShare,
                r.Verdict
            )
        ).AsAsyncEnumerable();
    }

    private static async Task WriteAsync(Stream body, IAsyncEnumerable<AttemptResult> results, CancellationToken ct)
    {
        await using var text = new StreamWriter(body, Utf8WithMark, leaveOpen: true);
        await text.WriteAsync(
            Csv.Line(
                "attempt",
                "flown at (UTC)",
                "student id",
                "student",
                "drill",
                "version",
                "aircraft",
                "assigned by",
                "grade",
                "verdict",
                "share within",
                "segment",
                "kind",
                "parameter",
                "duration s",
                "segment share within",
                "segment verdict"
            )
        );
        await foreach (var r in results.WithCancellation(ct))
        {
            await text.WriteAsync(
                Csv.Line(
                    r.AttemptId.ToString(),
                    r.FlownAtUtc.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture),
                    r.StudentId.ToString(),
                    r.StudentName,
                    r.DrillSlug,
                    Text<int>(r.DrillVersion),
                    r.Aircraft,
                    r.AssignedBy,
                    r.Grade,
                    r.Verdict?.Word(),
                    Text(r.AttemptWithinShare),
                    Text<int>(r.SegmentIndex),
                    r.SegmentKind.Word(),
                    r.Parameter.Word(),
                    Text<double>(r.DurationS),
                    Text(r.WithinShare),
                    r.SegmentVerdict.Word()
                )
            );
        }
    }

    private static string? Text<T>(T? value)
        where T : struct, IFormattable =>
        value?.ToString(
            value is DateOnly ? "yyyy-MM-dd"
                : value is double ? "0.####"
                : null,
            CultureInfo.InvariantCulture
        );

    /// <summary>One row of the overview's tables, by the places of its columns.</summary>
    private sealed class Cells
    {
        private readonly string?[] cells = new string?[18];

        public Cells With(int place, string? text)
        {
            cells[place] = text;
            return this;
        }

        public string Line() => Csv.Line(cells);
    }
}
