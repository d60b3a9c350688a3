using System.IO.Compression;
using System.Net;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Notes;

/// <summary>Instructors' notes on a student: theirs among themselves, and in the copy of the student's own data.</summary>
public sealed class StudentNoteTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Instructors_read_each_others_notes_newest_first_and_change_only_their_own()
    {
        var student = await StudentAsync("noted");
        var (first, second) = (await app.AsAsync(SchoolsFixture.Instructor), await app.AsAsync(SchoolsFixture.SecondInstructor));
        var older = await first.AddStudentNoteAsync(student, new SaveStudentNote("  Rushes the entry.  "), Cancel);
        var newer = await second.AddStudentNoteAsync(student, new SaveStudentNote("Trims late."), Cancel);
        var page = await second.StudentNotesAsync(student, ct: Cancel);
        Assert.Equal([newer.Id, older.Id], page.Items.Select(n => n.Id));
        Assert.Equal([true, false], page.Items.Select(n => n.Mine));
        Assert.Equal(("Rushes the entry.", "The instructor", 2), (page.Items[1].Text, page.Items[1].WrittenBy, page.Total));
        Assert.Equal(2, (await (await app.AsAsync(SchoolsFixture.Chief)).StudentNotesAsync(student, ct: Cancel)).Total);

        var changed = await first.ChangeStudentNoteAsync(older.Id, new SaveStudentNote("Rushes no more.", older.Revision), Cancel);
        Assert.Equal((older.Revision + 1, true), (changed.Revision, changed.ChangedAtUtc is not null));
        foreach (var other in (SchoolDrillsClient[])[second, await app.AsAsync(SchoolsFixture.Chief)])
        {
            await Refusals.RefusedAsync(
                HttpStatusCode.Forbidden,
                () => other.ChangeStudentNoteAsync(older.Id, new SaveStudentNote("Mine.", 2), Cancel)
            );
            await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => other.DeleteStudentNoteAsync(older.Id, Cancel));
        }

        await first.DeleteStudentNoteAsync(older.Id, Cancel);
        Assert.Equal(newer.Id, Assert.Single((await first.StudentNotesAsync(student, ct: Cancel)).Items).Id);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => first.DeleteStudentNoteAsync(older.Id, Cancel));
    }

    [Fact]
    public async Task A_save_over_a_note_that_was_changed_elsewhere_is_refused_and_the_same_text_twice_is_one_save()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var note = await instructor.AddStudentNoteAsync(await StudentAsync("twice-open"), new SaveStudentNote("One."), Cancel);
        var saved = await instructor.ChangeStudentNoteAsync(note.Id, new SaveStudentNote("Two.", note.Revision), Cancel);
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => instructor.ChangeStudentNoteAsync(note.Id, new SaveStudentNote("Three.", note.Revision), Cancel)
        );
        Assert.True(refusal.Is("note-changed"));
        var again = await instructor.ChangeStudentNoteAsync(note.Id, new SaveStudentNote("Two.", note.Revision), Cancel);
        Assert.Equal((saved.Text, saved.Revision), (again.Text, again.Revision));
    }

    [Fact]
    public async Task A_note_has_words_at_most_so_many_and_eleven_notes_are_two_pages()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await StudentAsync("much-noted");
        foreach (var text in (string[])["", " \n", new string('x', StudentNote.LongestText + 1)])
        {
            await Refusals.RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                () => instructor.AddStudentNoteAsync(student, new SaveStudentNote(text), Cancel)
            );
        }

        foreach (var number in Enumerable.Range(1, 11))
            await instructor.AddStudentNoteAsync(student, new SaveStudentNote($"Note {number}"), Cancel);
        var second = await instructor.StudentNotesAsync(student, 2, Cancel);
        Assert.Equal(("Note 1", 11), (Assert.Single(second.Items).Text, second.Total));
        await Refusals.RefusedAsync(HttpStatusCode.BadRequest, () => instructor.StudentNotesAsync(student, 0, Cancel));
    }

    [Fact]
    public async Task The_student_reads_no_notes_here_nor_does_another_school_and_who_teaches_reads_none_on_himself()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await StudentAsync("unaware");
        var note = await instructor.AddStudentNoteAsync(student, new SaveStudentNote("Not for the student."), Cancel);
        var asStudent = await app.AsAsync("unaware");
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => asStudent.StudentNotesAsync(student, ct: Cancel));
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.StudentNotesAsync(student, ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => far.DeleteStudentNoteAsync(note.Id, Cancel));

        // From the next request on the same person teaches too.
        var both = new EditPerson("The unaware", [Roles.Student, Roles.Instructor]);
        await (await app.AsAsync(SchoolsFixture.Chief)).EditPersonAsync(student, both, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => asStudent.StudentNotesAsync(student, ct: Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => asStudent.DeleteStudentNoteAsync(note.Id, Cancel));
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        foreach (var visibility in (string[])["self", "own-students", "whole-school"])
        {
            await raw.EnterAsync(app.TussockId, student, visibility);
            Assert.Equal((visibility, 0L), (visibility, await raw.CountAsync($"student_notes where student_id = '{student}'")));
        }
    }

    [Fact]
    public async Task The_database_lets_nobody_write_a_note_in_anothers_name_or_touch_anothers()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await StudentAsync("guarded");
        var note = await instructor.AddStudentNoteAsync(student, new SaveStudentNote("Stands."), Cancel);
        await using var raw = await RawSql.OpenAsync(app.Database.Access.App);
        await raw.EnterAsync(app.TussockId, app.IdOf(SchoolsFixture.Chief), "whole-school");
        await raw.RefusesAsync(
            "insert into student_notes (id, school_id, student_id, written_by_id, written_at_utc, text, revision) values "
                + $"(gen_random_uuid(), '{app.TussockId}', '{student}', '{app.IdOf(SchoolsFixture.Instructor)}', now(), 'x', 1)"
        );
        Assert.Equal(0, await raw.ExecuteAsync($"update student_notes set text = 'x' where id = '{note.Id}'"));
        Assert.Equal(0, await raw.ExecuteAsync($"delete from student_notes where id = '{note.Id}'"));
        await raw.RefusesAsync($"update student_notes set written_by_id = '{student}'");
    }

    [Fact]
    public async Task A_copy_of_ones_own_data_has_the_notes_and_anothers_copy_does_not()
    {
        var student = await StudentAsync("curious");
        await (await app.AsAsync(SchoolsFixture.Instructor)).AddStudentNoteAsync(student, new SaveStudentNote("Kept of you."), Cancel);
        Assert.Contains("Kept of you.", await NotesOfAsync("curious", student), StringComparison.Ordinal);
        Assert.Contains("Kept of you.", await NotesOfAsync(SchoolsFixture.Chief, student), StringComparison.Ordinal);
        var other = await NotesOfAsync(SchoolsFixture.OtherStudent, app.IdOf(SchoolsFixture.OtherStudent));
        Assert.DoesNotContain("Kept of you.", other, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_trail_says_who_noted_on_whom_and_not_what()
    {
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var student = await StudentAsync("trailed");
        var note = await instructor.AddStudentNoteAsync(student, new SaveStudentNote("Secret words."), Cancel);
        await instructor.ChangeStudentNoteAsync(note.Id, new SaveStudentNote("Other words.", note.Revision), Cancel);
        await instructor.DeleteStudentNoteAsync(note.Id, Cancel);
        var lines = (await (await app.AsAsync(SchoolsFixture.Chief)).AuditAsync(ct: Cancel)).Items.Where(l => l.SubjectId == note.Id);
        Assert.Equal(["note-deleted", "note-changed", "note-added"], lines.Select(l => l.What));
        Assert.All(
            lines,
            l =>
            {
                Assert.Equal(("The instructor", $"student {student}"), (l.Who, l.Detail));
                Assert.Empty(l.Changes);
            }
        );
    }

    private async Task<string> NotesOfAsync(string who, Guid person)
    {
        using var http = await app.HttpAsync(who);
        await using var body = await http.GetStreamAsync($"/api/v1/people/{person}/data", Cancel);
        using var copy = new MemoryStream();
        await body.CopyToAsync(copy, Cancel);
        using var zip = new ZipArchive(copy, ZipArchiveMode.Read);
        using var reader = new StreamReader(await zip.GetEntry("data/student_notes.json")!.OpenAsync(Cancel));
        return await reader.ReadToEndAsync(Cancel);
    }

    private async Task<Guid> StudentAsync(string name)
    {
        await app.NewcomerAsync(name, Roles.Student);
        return app.IdOf(name);
    }
}
