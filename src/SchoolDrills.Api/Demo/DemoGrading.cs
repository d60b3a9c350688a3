using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Demo;

/// <summary>Grades of the demo's instructors: near what was measured, in the usual scale's words.</summary>
internal static class DemoGrading
{
    /// <summary>The grade of the flight's instructor, given the day after the flight.</summary>
    public static void Grade(SchoolDrillsDbContext db, Attempt attempt, DemoFlight flight, DateTimeOffset now)
    {
        if (flight.Grade == DemoGrade.None)
            return;
        var atUtc = Later(attempt, TimeSpan.FromHours(22), now);
        var grade = ByInstructor(attempt, flight.Instructor, atUtc, number: 0, flight.Comment, reason: null);
        db.Grades.Add(grade);
        if (flight.Grade == DemoGrade.Draft || grade.Overall.Length == 0)
            return;

        Sign(db, grade, attempt, atUtc, "grade-signed");
    }

    /// <summary>The chief looks at the same flight and gives a grade of his own, so that there is something to compare.</summary>
    public static void LookAgain(SchoolDrillsDbContext db, Attempt attempt, DateTimeOffset now)
    {
        var atUtc = Later(attempt, TimeSpan.FromHours(70), now);
        var second = ByInstructor(attempt, "chief", atUtc, number: 1, "", "Second look, for even grading.");
        db.Grades.Add(second);
        Sign(db, second, attempt, atUtc, "grade-amended");
    }

    private static void Sign(SchoolDrillsDbContext db, Grade grade, Attempt attempt, DateTimeOffset atUtc, string action)
    {
        grade.SignedAtUtc = atUtc;
        grade.ReportId = attempt.LatestReportId;
        db.AuditEntries.Add(Entry(grade, grade.InstructorId, action, grade.Overall, atUtc));
    }

    private static Grade ByInstructor(
        Attempt attempt,
        string instructor,
        DateTimeOffset atUtc,
        int number,
        string comment,
        string? reason
    ) =>
        new()
        {
            SchoolId = attempt.SchoolId,
            AttemptId = attempt.Id,
            Number = number,
            InstructorId = DemoPeople.IdOf(instructor),
            Overall = attempt.Verdict is { } verdict ? Word(Leaning(verdict, attempt, instructor)) ?? "" : "",
            Segments = [.. attempt.Ribbon.Where(s => Word(s.Verdict) is not null).Select(s => new SegmentGrade(s.Index, Word(s.Verdict)!))],
            Comment = comment,
            AmendmentReason = reason,
            SavedAtUtc = atUtc,
        };

    /// <summary>Two of the instructors do not grade just as was measured: one is kind now and then, one strict.</summary>
    private static Verdict Leaning(Verdict measured, Attempt attempt, string instructor) =>
        (instructor, measured, attempt.Ribbon.Count(s => s.Verdict == Verdict.NotMet) % 3) switch
        {
            ("instructor", Verdict.NotMet, 0) => Verdict.Close,
            ("priya", Verdict.Close, not 0) => Verdict.Met,
            ("callum", Verdict.Close, 0) => Verdict.NotMet,
            _ => measured,
        };

    /// <summary>The student's own view, given before the score was read: a little kinder than what was measured.</summary>
    public static void Assess(SchoolDrillsDbContext db, Attempt attempt, DateTimeOffset now)
    {
        var own = attempt.Ribbon.Where(s => s.Verdict != Verdict.NotMeasured).Select(s => new SelfVerdict(s.Index, Own(s))).ToList();
        if (own.Count == 0)
            return;
        db.SelfAssessments.Add(
            new SelfAssessment
            {
                AttemptId = attempt.Id,
                SchoolId = attempt.SchoolId,
                GivenAtUtc = Later(attempt, TimeSpan.FromHours(2), now),
                Segments = own,
                LoadRatings = attempt.Meta.LoadRatings ?? [],
            }
        );
    }

    private static Verdict Own(RibbonSegment segment) =>
        (segment.Verdict, segment.Index % 3) switch
        {
            (Verdict.NotMet, not 0) => Verdict.Close,
            (Verdict.Close, 1) => Verdict.Met,
            (Verdict.Met, 2) => Verdict.Close,
            var (measured, _) => measured,
        };

    private static DateTimeOffset Later(Attempt attempt, TimeSpan after, DateTimeOffset now)
    {
        var atUtc = (attempt.FlownAtUtc ?? now) + after;
        return atUtc < now ? atUtc : now;
    }

    public static void Acknowledge(SchoolDrillsDbContext db, Attempt attempt, Grade signed, DemoFlight flight, DateTimeOffset now)
    {
        var atUtc = Later(attempt, TimeSpan.FromHours(90), now);
        db.GradeAcknowledgements.Add(
            new GradeAcknowledgement
            {
                GradeId = signed.Id,
                SchoolId = signed.SchoolId,
                AtUtc = atUtc,
                Reply = flight.Reply,
            }
        );
        db.AuditEntries.Add(Entry(signed, DemoPeople.IdOf(flight.Student), "grade-acknowledged", null, atUtc));
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
