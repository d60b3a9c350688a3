using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.Reminders;
using SchoolDrills.Api.Schools;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Notices;

/// <summary>
/// What is told by the calendar of a school in New Zealand: UTC+13, and UTC+12 from 2030-04-07, 3:00 (IANA time zone database).
/// Reminders come two days ahead, as a fresh school has it.
/// </summary>
public sealed class ReminderTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    // Midnights of 8 and 11 March.
    [InlineData("2030-03-10", "2030-03-07T11:00:00Z", "2030-03-10T11:00:00Z")]
    // Due on the day of 25 hours: midnight of the 5th is at UTC+13, that of the 8th at UTC+12.
    [InlineData("2030-04-07", "2030-04-04T11:00:00Z", "2030-04-07T12:00:00Z")]
    public async Task Work_is_due_soon_and_overdue_from_the_midnights_of_the_school(string due, string soonFrom, string overdueFrom)
    {
        var name = $"due-{due}";
        await app.NewcomerAsync(name, Roles.Student);
        var teacher = $"teacher-{due}";
        await app.NewcomerAsync(teacher, Roles.Instructor);
        await AssignAsync(name, due, teacher);
        var (soon, overdue) = (At(soonFrom), At(overdueFrom));

        await SweepAsync(soon.AddMinutes(-1));
        Assert.Empty(await ToldAsync(name));
        await SweepAsync(soon);
        Assert.Equal([NoticeKind.DueSoon], await ToldAsync(name));
        await SweepAsync(overdue.AddMinutes(-1));
        Assert.Equal([NoticeKind.DueSoon], await ToldAsync(name));
        Assert.Empty(await ToldAsync(teacher));
        await SweepAsync(overdue);
        // That it was due soon went unread, and is past.
        Assert.Equal([NoticeKind.Overdue], await ToldAsync(name));
        Assert.Equal([NoticeKind.Overdue], await ToldAsync(teacher));
        var seen = Assert.Single((await (await app.AsAsync(teacher)).NoticesAsync(ct: Cancel)).Items);
        Assert.Equal(($"The {name}", app.IdOf(name)), (seen.Student, seen.StudentId));
    }

    [Fact]
    public async Task Running_twice_or_two_at_once_tells_once_even_what_was_read()
    {
        await app.NewcomerAsync("once", Roles.Student);
        await AssignAsync("once", "2030-05-10");
        var day = At("2030-05-12T00:00:00Z");
        await Task.WhenAll(SweepAsync(day), SweepAsync(day), SweepAsync(day), SweepAsync(day));
        Assert.Equal([NoticeKind.Overdue], await ToldAsync("once"));
        await (await app.AsAsync("once")).ReadNoticesAsync(new ReadNotices(All: true), Cancel);
        await SweepAsync(day.AddDays(1));
        Assert.Equal([NoticeKind.Overdue], await ToldAsync("once"));
        // After 90 days it is gone, and does not come again.
        await SweepAsync(day.AddDays(91));
        Assert.Empty(await ToldAsync("once"));
    }

    [Fact]
    public async Task Cancelled_or_flown_work_takes_its_unread_reminders_away()
    {
        await app.NewcomerAsync("busy", Roles.Student);
        var busy = await app.AsAsync("busy");
        var (cancelled, flown) = (await AssignAsync("busy", "2031-03-10"), await AssignAsync("busy", "2031-03-11", drill: "timed-turns"));
        await SweepAsync(At("2031-03-09T12:00:00Z"));
        Assert.Equal(2, (await busy.UnreadNoticesAsync(Cancel)).Unread);
        await (await app.AsAsync(SchoolsFixture.Instructor)).CancelAssignmentAsync(cancelled.Id, Cancel);
        Assert.Equal(flown.Id, Assert.Single((await busy.NoticesAsync(ct: Cancel)).Items).AssignmentId);
        await app.UploadAsync(flown.Id, "f13.csv", student: "busy");
        Assert.Equal(0, (await busy.UnreadNoticesAsync(Cancel)).Unread);
        Assert.Equal(2, (await ToldAsync("busy")).Count);
        await SweepAsync(At("2031-03-09T12:15:00Z"));
        Assert.Empty(await ToldAsync("busy"));
    }

    [Fact]
    public async Task Of_a_student_who_has_left_nobody_is_told()
    {
        await app.NewcomerAsync("left", Roles.Student);
        await app.NewcomerAsync("stays", Roles.Instructor);
        await AssignAsync("left", "2032-03-10", "stays");
        await (await app.AsAsync(SchoolsFixture.Chief)).DeactivateAsync(app.IdOf("left"), Cancel);
        await SweepAsync(At("2032-03-12T00:00:00Z"));
        Assert.Empty(await ToldAsync("left"));
        Assert.Empty(await ToldAsync("stays"));
    }

    [Fact]
    public void A_day_whose_midnight_the_clocks_skip_begins_when_they_have_gone_forward()
    {
        // Chile goes from UTC-4 to UTC-3 at 0:00 of 6 September 2026 (IANA time zone database).
        var school = new School { Name = "Far south", TimeZone = "America/Santiago" };
        Assert.Equal(At("2026-09-06T04:00:00Z"), school.StartOf(new DateOnly(2026, 9, 6)));
    }

    private static DateTimeOffset At(string instant) => DateTimeOffset.Parse(instant, CultureInfo.InvariantCulture);

    private async Task<AssignmentSummary> AssignAsync(
        string student,
        string due,
        string instructor = SchoolsFixture.Instructor,
        string drill = "racetrack"
    ) =>
        Assert.Single(
            await (await app.AsAsync(instructor)).AssignAsync(
                new CreateAssignment([app.IdOf(student)], drill, DateOnly.Parse(due, CultureInfo.InvariantCulture)),
                Cancel
            )
        );

    private Task SweepAsync(DateTimeOffset now) =>
        new NoticeSweep(app.Services.GetRequiredService<EachSchool>(), new Clock(now)).RunAsync(Cancel);

    /// <summary>The rows there are, but what was told in the save of the assignment.</summary>
    private Task<List<NoticeKind>> ToldAsync(string person)
    {
        var id = app.IdOf(person);
        return app.QueryAsJobAsync(db =>
            db.Notices.Where(n => n.PersonId == id && n.Kind != NoticeKind.Assigned).Select(n => n.Kind).ToListAsync(Cancel)
        );
    }

    private sealed class Clock(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
