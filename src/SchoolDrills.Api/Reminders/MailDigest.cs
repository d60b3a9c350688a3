using Hangfire;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using SchoolDrills.Api.Assignments;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Notices;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Reminders;

/// <summary>
/// A mail a day, from the hour that the school set, to whoever asked for it and has unread notices that no mail has told yet. The day is
/// claimed on the person's row, and the mail handed over, in one transaction: another worker waits there and then finds the day taken; of
/// one that is killed nothing is left, and the next run sends.
/// </summary>
internal sealed class MailDigest(EachSchool schools, MailQueue mail, TimeProvider clock, ILogger<MailDigest> log)
{
    public const string Name = "mail-digest";

    private const int MostTitles = 20;

    [DisableConcurrentExecution(60)]
    public async Task RunAsync(CancellationToken ct)
    {
        if (mail.IsConfigured)
            await schools.RunAsync((_, db) => SendAsync(db, clock.GetUtcNow(), ct), ct);
    }

    private async Task SendAsync(SchoolDrillsDbContext db, DateTimeOffset now, CancellationToken ct)
    {
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        var today = school.Today(now);
        // By the clock on the wall: an hour that is skipped or comes twice is no other than the rest.
        if (school.SuspendedAtUtc is not null || school.HourOf(now) < school.DigestHour)
            return;
        var people = await db
            .People.Where(p => p.Active && p.NoticeMail == NoticeMail.Daily && (p.DigestOn == null || p.DigestOn < today))
            .Select(p => new { p.Id, p.Email })
            .ToListAsync(ct);
        foreach (var person in people)
        {
            try
            {
                await SendAsync(db, school.Name, person.Id, person.Email!, today, now, ct);
            }
            catch (Exception e)
                when (e is MailKit.ProtocolException or MailKit.CommandException or IOException or System.Net.Sockets.SocketException)
            {
                log.LogError(e, "A daily mail could not be handed over; it is tried again at the next run");
            }
        }
    }

    private async Task SendAsync(
        SchoolDrillsDbContext db,
        string school,
        Guid personId,
        string email,
        DateOnly today,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        var claimed = await db
            .People.Where(p =>
                p.Id == personId && p.Active && p.NoticeMail == NoticeMail.Daily && (p.DigestOn == null || p.DigestOn < today)
            )
            .ExecuteUpdateAsync(set => set.SetProperty(p => p.DigestOn, today), ct);
        if (claimed == 0)
            return;
        var toFly = AssignmentEndpoints.ToFly(db.Assignments);
        var news = await db
            .Notices.Where(n => n.PersonId == personId && n.ReadAtUtc == null && n.MailedAtUtc == null)
            .Where(n => n.AssignmentId == null || toFly.Any(a => a.Id == n.AssignmentId))
            .OrderByDescending(n => n.MadeAtUtc)
            .ToListAsync(ct);
        if (news.Count > 0)
        {
            var ids = news.ConvertAll(n => n.Id);
            await db.Notices.Where(n => ids.Contains(n.Id)).ExecuteUpdateAsync(set => set.SetProperty(n => n.MailedAtUtc, now), ct);
            await mail.SendNowAsync(email, $"SchoolDrills: {Count(news.Count)} at {school}", site => Text(news, site), ct);
        }

        await transaction.CommitAsync(ct);
    }

    /// <summary>Titles and a link: what a grade says is read where one is signed in.</summary>
    private static string Text(List<Notice> news, string site) =>
        $"""
            You have {Count(news.Count)}:

            {string.Join("\n", news.Take(MostTitles).Select(n => $"- {n.DrillTitle}: {Words(n)}"))}
            {(news.Count > MostTitles ? $"and {news.Count - MostTitles} more\n" : "")}
            Read them: {site}/notices

            You get this mail once a day because you asked for it. To stop it: {site}/account
            """;

    private static string Words(Notice notice) =>
        notice.Kind switch
        {
            NoticeKind.Assigned => "new to fly",
            NoticeKind.Graded => "graded",
            NoticeKind.Amended => "grade amended",
            NoticeKind.Replied => "a student replied",
            NoticeKind.DueSoon => "due soon",
            _ => "overdue",
        };

    private static string Count(int count) => count == 1 ? "1 unread notice" : $"{count} unread notices";
}
