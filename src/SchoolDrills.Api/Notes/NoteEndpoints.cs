using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Audit;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Notes;

/// <summary>
/// Instructors' notes on a student. Instructors who see the student's work read them all; each changes and deletes only their own.
/// </summary>
internal static class NoteEndpoints
{
    private const int PageSize = 10;

    public static void MapStudentNotes(this RouteGroupBuilder api)
    {
        api.MapGet("/students/{id:guid}/notes", ListAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Instructors' notes on a student, newest first, 10 a page; the student sees none");
        api.MapPost("/students/{id:guid}/notes", AddAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Adds a note on a student");
        api.MapPut("/notes/{id:guid}", ChangeAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Changes a note of one's own; revision is the one that was read");
        api.MapDelete("/notes/{id:guid}", DeleteAsync)
            .RequireAuthorization(Policies.Instructor)
            .WithSummary("Deletes a note of one's own for good");
    }

    private static async Task<Results<Ok<StudentNotePage>, ProblemHttpResult>> ListAsync(
        Guid id,
        int? page,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        CancellationToken ct
    )
    {
        if (ListPage.Problem(page) is { } problem)
            return problem;
        if (!await MayNoteAsync(db, me, id, ct))
            return Problems.NotFound("student");
        var notes = Others(db, me).AsNoTracking().Where(n => n.StudentId == id);
        var total = await notes.CountAsync(ct);
        var shown = await notes
            .OrderByDescending(n => n.WrittenAtUtc)
            .ThenByDescending(n => n.Id)
            .Skip(((page ?? 1) - 1) * PageSize)
            .Take(PageSize)
            .Select(n => new { Note = n, Author = n.WrittenBy.DisplayName })
            .ToListAsync(ct);
        return TypedResults.Ok(new StudentNotePage(shown.ConvertAll(n => n.Note.Seen(me.Id, n.Author)), page ?? 1, PageSize, total));
    }

    private static async Task<Results<Created<StudentNote>, ProblemHttpResult>> AddAsync(
        Guid id,
        SaveStudentNote sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (!await MayNoteAsync(db, me, id, ct))
            return Problems.NotFound("student");
        if (ProblemOf(sent.Text) is { } problem)
            return Problems.Unprocessable("note", problem);
        var now = clock.GetUtcNow();
        var note = new StudentNoteRow
        {
            SchoolId = me.SchoolId,
            StudentId = id,
            WrittenById = me.Id,
            WrittenAtUtc = now,
            Text = sent.Text.Trim(),
            Revision = 1,
        };
        db.StudentNotes.Add(note);
        db.AuditEntries.Add(AuditEntry.By(me, now, "note-added", "note", note.Id, Whose(note)));
        await db.SaveChangesAsync(ct);
        return TypedResults.Created($"/api/v1/notes/{note.Id}", note.Seen(me.Id, me.DisplayName));
    }

    private static async Task<Results<Ok<StudentNote>, ProblemHttpResult>> ChangeAsync(
        Guid id,
        SaveStudentNote sent,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await Others(db, me).FirstOrDefaultAsync(n => n.Id == id, ct) is not { } note)
            return Problems.NotFound("note");
        if (note.WrittenById != me.Id)
            return Problems.Forbidden("A note is changed by whoever wrote it: add one of your own.");
        if (ProblemOf(sent.Text) is { } problem)
            return Problems.Unprocessable("note", problem);
        // Sent twice, by a device or a tap, it is the same note.
        if (note.Text == sent.Text.Trim())
            return TypedResults.Ok(note.Seen(me.Id, me.DisplayName));
        if (note.Revision != sent.Revision)
            return Changed();
        var now = clock.GetUtcNow();
        (note.Text, note.ChangedAtUtc, note.Revision) = (sent.Text.Trim(), now, note.Revision + 1);
        db.AuditEntries.Add(AuditEntry.By(me, now, "note-changed", "note", id, Whose(note)));
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            return Changed();
        }

        return TypedResults.Ok(note.Seen(me.Id, me.DisplayName));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> DeleteAsync(
        Guid id,
        CurrentPerson me,
        SchoolDrillsDbContext db,
        TimeProvider clock,
        CancellationToken ct
    )
    {
        if (await Others(db, me).FirstOrDefaultAsync(n => n.Id == id, ct) is not { } note)
            return Problems.NotFound("note");
        if (note.WrittenById != me.Id)
            return Problems.Forbidden("A note is deleted by whoever wrote it.");
        db.StudentNotes.Remove(note);
        db.AuditEntries.Add(AuditEntry.By(me, clock.GetUtcNow(), "note-deleted", "note", id, Whose(note)));
        try
        {
            await db.SaveChangesAsync(ct);
        }
        catch (DbUpdateConcurrencyException)
        {
            return Changed();
        }

        return TypedResults.NoContent();
    }

    /// <summary>Notes on those whose work the person sees, but for oneself: who also flies as a student reads no notes on that.</summary>
    private static IQueryable<StudentNoteRow> Others(SchoolDrillsDbContext db, CurrentPerson me) =>
        db.StudentNotes.VisibleTo(me).Where(n => n.StudentId != me.Id);

    private static async Task<bool> MayNoteAsync(SchoolDrillsDbContext db, CurrentPerson me, Guid id, CancellationToken ct) =>
        id != me.Id
        && me.MaySee(id)
        && await db.People.AnyAsync(p => p.Id == id && p.Roles.Contains(Roles.Student) && p.ErasedAtUtc == null, ct);

    private static string? ProblemOf(string? text) =>
        string.IsNullOrWhiteSpace(text) ? "The note is empty: write something, or delete it."
        : text.Trim().Length > StudentNote.LongestText ? $"The note is longer than {StudentNote.LongestText} characters: make it two."
        : null;

    /// <summary>Whom it is on, by number: the words of a note, and a student's name, are not for the trail.</summary>
    private static string Whose(StudentNoteRow note) => $"student {note.StudentId}";

    private static ProblemHttpResult Changed() =>
        Problems.Conflict("note-changed", "You have changed or deleted this note elsewhere: load it anew before you save it.");
}
