using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Demo;

/// <summary>Grades of the demo's instructors: near what was measured, in the usual scale's words.</summary>
internal static class DemoGrading
{
    public static void Grade(SchoolDrillsDbContext db, Attempt attempt, DemoFlight flight, DateTimeOffset now)
    {
        if (flight.Grade == DemoGrade.None)
            return;
        var instructorId = DemoPeople.IdOf(flight.Instructor);
        var grade = new Grade
        {
            SchoolId = attempt.SchoolId,
            AttemptId = attempt.Id,
            Number = 0,
            InstructorId = instructorId,
            Overall = attempt.Verdict is { } verdict ? Word(verdict) ?? "" : "",
            Segments = [.. attempt.Ribbon.Where(s => Word(s.Verdict) is not null).Select(s => new SegmentGrade(s.Index, Word(s.Verdict)!))],
            Comment = flight.Comment,
            SavedAtUtc = now,
        };
        db.Grades.Add(grade);
        if (flight.Grade == DemoGrade.Draft || grade.Overall.Length == 0)
            return;

        grade.SignedAtUtc = now;
        grade.ReportId = attempt.LatestReportId;
        db.AuditEntries.Add(Entry(grade, instructorId, "grade-signed", grade.Overall, now));
    }

    public static void Acknowledge(SchoolDrillsDbContext db, Grade signed, DemoFlight flight, DateTimeOffset now)
    {
        db.GradeAcknowledgements.Add(
            new GradeAcknowledgement
            {
                GradeId = signed.Id,
                SchoolId = signed.SchoolId,
                AtUtc = now,
                Reply = flight.Reply,
            }
        );
        db.AuditEntries.Add(Entry(signed, DemoPeople.IdOf(flight.Student), "grade-acknowledged", null, now));
    }

    private static string? Word(Verdict verdict) =>
        verdict switch
        {
            Verdict.Met => "to-standard",
            Verdict.Close => "with-help",
            Verdict.NotMet => "not-yet",
            _ => null,
        };

    private static AuditEntry Entry(Grade grade, Guid personId, string action, string? detail, DateTimeOffset now) =>
        new()
        {
            SchoolId = grade.SchoolId,
            AtUtc = now,
            PersonId = personId,
            Action = action,
            Subject = "attempt",
            SubjectId = grade.AttemptId,
            Detail = detail,
        };
}
