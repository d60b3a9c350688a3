using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Data;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Records;

/// <summary>Puts a student's training record together from what is stored: nothing in it is written for the record alone.</summary>
internal static class TrainingRecords
{
    public static async Task<TrainingRecord?> MakeAsync(
        SchoolDrillsDbContext db,
        Guid studentId,
        CurrentPerson me,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var student = await db.People.AsNoTracking().FirstOrDefaultAsync(p => p.Id == studentId && p.Roles.Contains(Roles.Student), ct);
        if (student is null)
            return null;
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var words = school.GradeScale.ToDictionary(w => w.Slug, w => w.Word);
        var rows = await db
            .Attempts.AsNoTracking()
            .AsSplitQuery()
            .Include(a => a.DrillVersion)
            .Include(a => a.Grades)
                .ThenInclude(g => g.Instructor)
            .Include(a => a.Grades)
                .ThenInclude(g => g.Acknowledgement)
            .Where(a => a.StudentId == studentId)
            .OrderBy(a => a.PlacedAtUtc)
            .ThenBy(a => a.Id)
            .ToListAsync(ct);
        var assignedBy = await db
            .Assignments.AsNoTracking()
            .Where(a => a.StudentId == studentId)
            .Select(a => new { a.Id, a.AssignedBy.DisplayName })
            .ToDictionaryAsync(a => a.Id, a => a.DisplayName, ct);
        var entries = rows.ConvertAll(a => new RecordEntry(
            a.Id,
            a.PlacedAtUtc,
            a.DrillVersion.Template.Title,
            a.DrillVersion.Version,
            a.AssignmentId is { } assignment ? assignedBy[assignment] : null,
            a.Status switch
            {
                AttemptStatus.Scored => a.Verdict?.Word() ?? "scored",
                AttemptStatus.Unscorable => "not scored",
                _ => "waiting",
            },
            a.WithinShare,
            [
                .. a
                    .Grades.Where(g => g.SignedAtUtc is not null)
                    .OrderBy(g => g.Number)
                    .Select(g => new RecordGrade(
                        words.GetValueOrDefault(g.Overall, g.Overall),
                        g.Instructor.DisplayName,
                        g.SignedAtUtc!.Value,
                        g.Comment,
                        g.AmendmentReason,
                        g.Acknowledgement?.AtUtc,
                        g.Acknowledgement?.Reply
                    )),
            ]
        ));
        return new TrainingRecord(
            school.Name,
            studentId,
            student.DisplayName,
            student.Email ?? "",
            school.DayOf(student.JoinedAtUtc),
            student.LeftAtUtc is { } left ? school.DayOf(left) : null,
            now,
            me.DisplayName,
            entries,
            Convert.ToHexStringLower(
                SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(entries, WireJson.Default.IReadOnlyListRecordEntry))
            )
        );
    }
}
