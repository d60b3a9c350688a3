using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Grades;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.LoadScales;

namespace SchoolDrills.Api.SelfAssessments;

/// <summary>The student's own view of a flight, asked before the page shows the score.</summary>
internal static class SelfAssessmentEndpoints
{
    public static void MapSelfAssessments(this RouteGroupBuilder api) =>
        api.MapPut("/attempts/{id:guid}/self-assessment", PutAsync)
            .RequireAuthorization(Policies.SignedIn)
            .WithSummary("What the student thinks of the flight; given once, or skipped");

    private static async Task<Results<Ok<SelfAssessmentView>, ProblemHttpResult>> PutAsync(
        Guid id,
        PutSelfAssessment sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        var attempt = await db.Attempts.AsNoTracking().VisibleTo(me).Include(a => a.DrillVersion).FirstOrDefaultAsync(a => a.Id == id, ct);
        if (attempt is null)
            return Problems.NotFound("attempt");
        if (attempt.StudentId != me.Id)
            return Problems.Forbidden("Only the student whose flight it is assesses himself.");
        var template = attempt.DrillVersion.Template;
        if (!sent.Skipped && Incomplete(sent, DrillTimeline.Resolve(template, template.Entry).Segments.Count) is { } problem)
            return Problems.Unprocessable("self-assessment", problem);
        if (sent.Skipped && !(await db.Schools.AsNoTracking().SingleAsync(ct)).Grading.SelfAssessmentSkippable)
            return Problems.Forbidden("Your school asks every student how it went before the score is shown.");

        var standing = await db.SelfAssessments.FirstOrDefaultAsync(s => s.AttemptId == id, ct);
        if (standing?.GivenAtUtc is not null)
        {
            // A device may send twice; a second opinion, formed with the score at hand, is not taken.
            return IsSame(standing, sent) || sent.Skipped
                ? TypedResults.Ok(standing.View())
                : Problems.Conflict(
                    "already-assessed",
                    "You have said how it went, and that stays as you said it: talk about it with your instructor."
                );
        }

        if (standing is null)
        {
            standing = new SelfAssessment { AttemptId = id, SchoolId = me.SchoolId };
            db.SelfAssessments.Add(standing);
        }

        if (sent.Skipped)
            standing.SkippedAtUtc ??= clock.GetUtcNow();
        else
            await GiveAsync(standing, sent, me.Id, db, clock, ct);
        await db.SaveChangesAsync(ct);
        return TypedResults.Ok(standing.View());
    }

    private static async Task GiveAsync(
        SelfAssessment standing,
        PutSelfAssessment sent,
        Guid studentId,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        standing.GivenAtUtc = clock.GetUtcNow();
        standing.Segments = [.. (sent.Segments ?? []).OrderBy(s => s.Index)];
        standing.LoadRatings = sent.LoadRatings ?? [];
        (standing.TaskLoad, standing.Bedford) = (sent.TaskLoad, sent.Bedford);
        standing.Comment = GradeWords.Kept(sent.Comment);
        var rated = await db.LoadRatings.Where(r => r.AttemptId == standing.AttemptId && r.SaidBy == LoadSource.Student).ToListAsync(ct);
        foreach (var (rating, number) in standing.LoadRatings.Select((rating, i) => (rating, i + 1)))
        {
            if (rated.Find(r => r.Number == number) is { } row)
            {
                row.Rating = rating;
            }
            else
            {
                db.LoadRatings.Add(
                    new LoadRatingRow
                    {
                        AttemptId = standing.AttemptId,
                        Number = number,
                        SaidBy = LoadSource.Student,
                        EnteredById = studentId,
                        SchoolId = standing.SchoolId,
                        Rating = rating,
                    }
                );
            }
        }
    }

    private static bool IsSame(SelfAssessment standing, PutSelfAssessment sent) =>
        standing.Segments.SequenceEqual((sent.Segments ?? []).OrderBy(s => s.Index))
        && standing.LoadRatings.SequenceEqual(sent.LoadRatings ?? [])
        && (standing.TaskLoad, standing.Bedford) == (sent.TaskLoad, sent.Bedford)
        && standing.Comment == GradeWords.Kept(sent.Comment);

    private static string? Incomplete(PutSelfAssessment sent, int segmentCount)
    {
        var segments = sent.Segments ?? [];
        if (segments.Any(s => s is null || s.Index < 0 || s.Index >= segmentCount))
            return $"The drill's segments are 0 to {segmentCount - 1}.";
        if (segments.DistinctBy(s => s.Index).Count() != segments.Count)
            return "Each segment is assessed once.";
        if (segments.Any(s => s.LoadRating is < 1 or > 5) || sent.LoadRatings?.Any(r => r is < 1 or > 5) is true)
            return "Load is rated from 1 to 5.";
        if (sent.LoadRatings?.Count > 100)
            return "There are at most a hundred load ratings.";
        if (sent.Comment?.Length > 4000)
            return "The comment is longer than 4000 characters.";
        if (sent.TaskLoad?.Problem() is { } problem)
            return problem;
        if (sent.Bedford is < BedfordScale.Lowest or > BedfordScale.Highest)
            return "Spare capacity is rated from 1 to 10.";
        var isRated = sent.LoadRatings is { Count: > 0 } || sent.TaskLoad is not null || sent.Bedford is not null;
        return segments.Count == 0 && !isRated && GradeWords.Kept(sent.Comment) is null
            ? "Say how at least one segment went, rate your load or write a comment; or skip it."
            : null;
    }
}
