using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Progress;
using static SchoolDrills.Web.Tests.SampleSchool;

namespace SchoolDrills.Web.Tests.Progress;

public sealed class NotesOnStudentTests : PageTest
{
    private static readonly StudentNote Own = new(Guid.NewGuid(), StudentId, "Ilse Farrow", true, Now.AddDays(-1), null, "Rushes it.", 3),
        Anothers = Own with { Id = Guid.NewGuid(), Mine = false, WrittenBy = "Callum Reid", Text = "Trims late." };

    [Fact]
    public void A_note_is_added_above_the_others_and_the_field_says_who_sees_it()
    {
        var api = Api(Own);
        var page = OpenNotes(api);
        Assert.Equal(
            "The student does not see these here, but a copy of their data includes them.",
            page.Find($"#{page.Find("textarea").GetAttribute("aria-describedby")}").TextContent
        );
        api.Answer($"POST students/{StudentId}/notes", Own with { Id = Guid.NewGuid(), WrittenAtUtc = Now, Text = "Better." });
        page.Find("textarea").Input("Better.");
        page.Find("form").Submit();
        page.WaitForAssertion(() => Assert.Equal(["Better.", "Rushes it."], page.FindAll(".note .text").Select(t => t.TextContent)));
        Assert.Contains("Note added.", page.Find("[role=status]").TextContent, StringComparison.Ordinal);
        Assert.Contains("Better.", api.Sent[$"POST students/{StudentId}/notes"], StringComparison.Ordinal);
    }

    [Fact]
    public void Only_ones_own_note_can_be_changed_and_a_deletion_is_asked_about_first()
    {
        var api = Api(Own, Anothers).Answer($"DELETE notes/{Own.Id}", "");
        var page = OpenNotes(api);
        var delete = Assert.Single(page.FindAll(".note button"), b => b.TextContent == "Delete");
        delete.Click();
        Button(page, "Keep it").Click();
        Assert.Equal(2, page.FindAll(".note").Count);
        page.FindAll(".note button").Single(b => b.TextContent == "Delete").Click();
        page.Find(".btn.danger").Click();
        page.WaitForAssertion(() => Assert.Equal("Trims late.", Assert.Single(page.FindAll(".note .text")).TextContent));
        Assert.Contains($"DELETE notes/{Own.Id}", api.Asked);
    }

    [Fact]
    public void A_change_names_the_revision_it_replaces_and_a_refusal_keeps_what_was_typed()
    {
        var api = Api(Own).Refuse($"PUT notes/{Own.Id}", HttpStatusCode.Conflict, "You have changed this note elsewhere.");
        var page = OpenNotes(api);
        page.FindAll(".note button").Single(b => b.TextContent == "Edit").Click();
        page.Find(".note textarea").Input("Rushes less.");
        Button(page, "Save").Click();
        page.WaitForAssertion(() => Assert.Contains("changed this note elsewhere", page.Find("[role=alert]").TextContent));
        Assert.Equal("Rushes less.", page.Find(".note textarea").GetAttribute("value"));
        Assert.Contains("\"revision\":3", api.Sent[$"PUT notes/{Own.Id}"], StringComparison.Ordinal);
    }

    private static SchoolApi Api(params StudentNote[] notes) =>
        SchoolApi.For(Roles.Instructor).Answer($"students/{StudentId}/notes", new StudentNotePage(notes, 1, 10, notes.Length));

    private IRenderedComponent<NotesOnStudent> OpenNotes(SchoolApi api) =>
        Open<NotesOnStudent>(api, Roles.Instructor, p => p.Add(x => x.StudentId, StudentId));
}
