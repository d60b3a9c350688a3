using Hangfire;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Data;

namespace SchoolDrills.Api.Reminders;

/// <summary>
/// Reminds of work that is due soon or overdue, by the days of each school, and clears away what is past. Each statement is complete in
/// itself and a notice has its unique key, so that running twice, or twice at once, tells nobody twice.
/// </summary>
internal sealed class NoticeSweep(EachSchool schools, TimeProvider clock)
{
    public const string Name = "notice-sweep";

    private static readonly TimeSpan Kept = TimeSpan.FromDays(90);

    /// <summary>
    /// What has been overdue for longer is not news: neither when this runs for the first time, nor once the notice of it is pruned.
    /// </summary>
    private const int OverdueDays = 14;

    [DisableConcurrentExecution(60)]
    public Task RunAsync(CancellationToken ct) => schools.RunAsync((_, db) => SweepAsync(db, clock.GetUtcNow(), ct), ct);

    private static async Task SweepAsync(SchoolDrillsDbContext db, DateTimeOffset now, CancellationToken ct)
    {
        var pruned = now - Kept;
        await db.Database.ExecuteSqlAsync(
            $"""
            delete from notices n where n.made_at_utc < {pruned} or n.read_at_utc is null and n.assignment_id is not null
              and not exists (
                select from assignments a where a.id = n.assignment_id and a.cancelled_at_utc is null and not a.flown)
            """,
            ct
        );
        var school = await db.Schools.AsNoTracking().SingleAsync(ct);
        // Nobody there could read or do it.
        if (school.SuspendedAtUtc is not null)
            return;
        var today = school.Today(now);
        var (soon, longOverdue, dayStart) = (today.AddDays(school.SoonDays), today.AddDays(-OverdueDays), school.StartOf(today));
        // Who was given it today has been told when it is due.
        await db.Database.ExecuteSqlAsync(
            $"""
            insert into notices
              (id, school_id, person_id, student_id, kind, cause_id, assignment_id, drill_title, due_on, made_at_utc)
            select gen_random_uuid(), a.school_id, told.id, a.student_id, told.kind, a.id, a.id, d.template ->> 'title', a.due_on, {now}
            from assignments a
            join drill_versions d on d.id = a.drill_version_id
            join people student on student.id = a.student_id and student.active
            cross join lateral (
              select student.id, 'due-soon' as kind
              where a.due_on between {today} and {soon} and a.assigned_at_utc < {dayStart}
              union all
              select p.id, 'overdue' from people p
              where a.due_on >= {longOverdue} and a.due_on < {today} and p.id in (a.student_id, a.assigned_by_id) and p.active) told
            where a.cancelled_at_utc is null and not a.flown
            on conflict do nothing
            """,
            ct
        );
        // Once it is overdue, that it was due soon need not be read any more.
        await db.Database.ExecuteSqlAsync($"delete from notices where kind = 'due-soon' and read_at_utc is null and due_on < {today}", ct);
    }
}
