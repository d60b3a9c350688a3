using System.Net;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Schools;

public sealed class SettingsTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_chief_defines_the_words_and_grades_already_given_keep_theirs()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var instructor = await app.AsAsync(SchoolsFixture.Instructor);
        var attemptId = await app.UploadAsync((await app.AssignAsync("timed-turns")).Id, "f13.csv");
        await instructor.SaveGradeAsync(
            attemptId,
            new SaveGrade("to-standard", [new SegmentGrade(0, "with-help")], null, Sign: true),
            Cancel
        );
        var before = await chief.SettingsAsync(Cancel);

        // Renamed, reordered, one retired, one of our own before the rest.
        var sent = before with
        {
            GradeScale =
            [
                new("mine", "Nicht bestanden", 0),
                new("not-yet", "Not yet", 1),
                new("with-help", "With help", 2, Retired: true),
                new("to-standard", "Test ready", 3),
                new("above-standard", "Above standard", 4),
            ],
            Grading = before.Grading with
            {
                QuickPhrases = ["Scan first.", " "],
                Suggestions = new GradeSuggestions("to-standard", "not-yet", "mine"),
            },
        };
        var after = await chief.SaveSettingsAsync(sent, Cancel);
        Assert.Equal(["nicht-bestanden", "not-yet", "with-help", "to-standard", "above-standard"], after.GradeScale.Select(w => w.Slug));
        Assert.Equal([1, 2, 3, 4, 5], after.GradeScale.Select(w => w.Order));
        Assert.Equal("nicht-bestanden", after.Grading.Suggestions!.NotMet);
        Assert.Equal(["Scan first."], after.Grading.QuickPhrases);
        var me = await (await app.AsAsync(SchoolsFixture.Student)).MeAsync(Cancel);
        Assert.Equal("Test ready", me.School.GradeScale.Single(w => w.Slug == "to-standard").Word);
        Assert.Equal(["Scan first."], me.School.Grading.QuickPhrases);

        // What grades use cannot go, and what is retired is given no more.
        var gone = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.SaveSettingsAsync(after with { GradeScale = [.. after.GradeScale.Where(w => w.Slug != "with-help")] }, Cancel)
        );
        Assert.Contains("With help", gone.Message, StringComparison.Ordinal);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => instructor.AmendGradeAsync(attemptId, new AmendGrade("with-help", [], null, "Reason."), Cancel)
        );
        Assert.Equal("with-help", (await instructor.AttemptAsync(attemptId, Cancel)).Grade!.Segments[0].Grade);
        await chief.SaveSettingsAsync(before with { GradeScale = [.. before.GradeScale] }, Cancel);
    }

    [Theory]
    [InlineData(SchoolsFixture.Instructor)]
    [InlineData(SchoolsFixture.Student)]
    public async Task Others_read_the_settings_and_change_none(string person)
    {
        var someone = await app.AsAsync(person);
        var settings = await someone.SettingsAsync(Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => someone.SaveSettingsAsync(settings, Cancel));
    }

    [Fact]
    public async Task A_scale_that_cannot_be_graded_with_is_refused()
    {
        var chief = await app.AsAsync(SchoolsFixture.FarChief);
        var settings = await chief.SettingsAsync(Cancel);
        await RefusedAsync(settings with { GradeScale = [new("a", "Only one", 1)] });
        await RefusedAsync(settings with { GradeScale = [new("a", "Twice", 1), new("b", "twice", 2)] });
        await RefusedAsync(settings with { GradeScale = [.. Enumerable.Range(1, 10).Select(i => new GradeWord($"w{i}", $"Word {i}", i))] });
        await RefusedAsync(settings with { Grading = settings.Grading with { QuickPhrases = [.. Enumerable.Repeat("Again.", 10)] } });
        await RefusedAsync(settings with { Grading = settings.Grading with { Suggestions = new GradeSuggestions("splendid") } });

        async Task RefusedAsync(SchoolSettings wrong) =>
            await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.SaveSettingsAsync(wrong, Cancel));
    }
}
