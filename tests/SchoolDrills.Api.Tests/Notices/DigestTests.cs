using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Api.Reminders;
using SchoolDrills.Api.Tests.People;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Notices;

/// <summary>
/// The daily mail of a school in New Zealand, UTC+13 until 2030-04-07 (IANA time zone database), from 7:00 as a fresh school has it.
/// </summary>
public sealed class DigestTests(MailTests.MailingSchool app) : IClassFixture<MailTests.MailingSchool>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Whoever_asked_is_mailed_once_a_day_what_is_unread_and_new_and_no_grade()
    {
        var (student, instructor) = (await app.AsAsync(SchoolsFixture.Student), await app.AsAsync(SchoolsFixture.Instructor));
        Assert.Equal((NoticeMail.None, true), await PreferenceAsync(student));
        Assert.Equal(NoticeMail.Daily, (await student.SaveAccountAsync(new SaveAccount(NoticeMail.Daily), Cancel)).NoticeMail);
        Assert.Equal(NoticeMail.Daily, (await student.SaveAccountAsync(new SaveAccount(), Cancel)).NoticeMail);
        var attemptId = await app.ScoredAsync("timed-turns", "f13.csv");
        await instructor.SaveGradeAsync(attemptId, new SaveGrade("not-yet", [], "Chased the needles.", true), Cancel);
        var work = await app.AssignAsync("racetrack");
        await app.AssignAsync("racetrack", SchoolsFixture.OtherStudent);

        // 6:59 on the 9th at the school, then 7:00.
        await RunAsync("2030-03-08T17:59:00Z");
        await RunAsync("2030-03-08T18:00:00Z", Unreachable());
        await Task.WhenAll(RunAsync("2030-03-08T18:00:00Z"), RunAsync("2030-03-08T18:00:00Z"), RunAsync("2030-03-08T18:00:00Z"));
        var mail = await app.Mails.Reader.ReadAsync(Cancel);
        Assert.Contains($"To: {SchoolsFixture.EmailOf(SchoolsFixture.Student)}", mail, StringComparison.Ordinal);
        Assert.Contains("2 unread notices", mail, StringComparison.Ordinal);
        Assert.Contains($"- {work.DrillTitle}: new to fly", mail, StringComparison.Ordinal);
        Assert.Contains("https://drills.example/notices", mail, StringComparison.Ordinal);
        Assert.DoesNotContain("needles", mail, StringComparison.Ordinal);
        Assert.DoesNotContain("not yet", mail, StringComparison.OrdinalIgnoreCase);

        // New on the same day: tomorrow's. Tomorrow, the mail tells what today's did not; the day after there is nothing to tell.
        var later = await app.AssignAsync("box-circles");
        await RunAsync("2030-03-08T20:00:00Z");
        await RunAsync("2030-03-09T18:00:00Z");
        mail = await app.Mails.Reader.ReadAsync(Cancel);
        Assert.Contains("1 unread notice ", mail, StringComparison.Ordinal);
        Assert.Contains(later.DrillTitle, mail, StringComparison.Ordinal);
        await RunAsync("2030-03-10T18:00:00Z");

        // Read, or no longer asked for: nothing.
        await app.AssignAsync("timed-turns");
        await student.ReadNoticesAsync(new ReadNotices(All: true), Cancel);
        await RunAsync("2030-03-11T18:00:00Z");
        await app.AssignAsync("vertical-s-turning");
        await student.SaveAccountAsync(new SaveAccount(NoticeMail.None), Cancel);
        await RunAsync("2030-03-12T18:00:00Z");
        Assert.False(app.Mails.Reader.TryRead(out _));
    }

    private static async Task<(NoticeMail, bool)> PreferenceAsync(SchoolDrillsClient client)
    {
        var account = await client.AccountAsync(Cancel);
        return (account.NoticeMail, account.SendsMail);
    }

    /// <summary>A mail server that is not there: port 1 of this machine.</summary>
    private static MailQueue Unreachable() =>
        new(
            new MailSettings(
                new Uri("smtp://127.0.0.1:1"),
                new MailboxAddress("", "drills@tussockplains.example"),
                "https://drills.example"
            ),
            NullLogger<MailQueue>.Instance
        );

    private Task RunAsync(string instant, MailQueue? queue = null) =>
        new MailDigest(
            app.Services.GetRequiredService<EachSchool>(),
            queue ?? app.Services.GetRequiredService<MailQueue>(),
            new Clock(DateTimeOffset.Parse(instant, CultureInfo.InvariantCulture)),
            NullLogger<MailDigest>.Instance
        ).RunAsync(Cancel);

    private sealed class Clock(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
