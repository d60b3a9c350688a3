using Microsoft.Playwright;
using SchoolDrills.Api.Tests;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

[Collection<AtTheSchool>]
public sealed class RefusedRecordingTests(SchoolSite site, Chromium chromium)
{
    [Fact]
    public async Task A_file_that_is_no_recording_is_refused_in_a_sentence_and_leaves_no_attempt()
    {
        var assignment = await site.AssignAsync("timed-turns", SchoolsFixture.OtherStudent);
        await using var student = await chromium.VisitAsync(site.Address);
        await student.SignInAsync(SchoolsFixture.EmailOf(SchoolsFixture.OtherStudent), SchoolsFixture.Password);
        await student.GoAsync($"/assignments/{assignment.Id}");
        await student
            .Page.GetByLabel("Choose a recording")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "lesson notes.txt",
                    MimeType = "text/plain",
                    Buffer = "Briefed timed turns. Fog, so not flown."u8.ToArray(),
                }
            );

        var refusal = student.Page.GetByRole(AriaRole.Alert);
        await Expect(refusal).ToContainTextAsync("GPX");
        Assert.EndsWith(".", (await refusal.InnerTextAsync()).Trim(), StringComparison.Ordinal);
        Assert.Equal($"/assignments/{assignment.Id}", student.Path);

        await student.GoAsync(student.Path);
        await Expect(student.Region("Attempts")).ToContainTextAsync("Nothing uploaded yet.");
        var api = await site.AsAsync(SchoolsFixture.OtherStudent);
        Assert.Empty((await api.AttemptsAsync(site.IdOf(SchoolsFixture.OtherStudent), ct: TestContext.Current.CancellationToken)).Items);
    }
}
