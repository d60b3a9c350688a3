using System.Globalization;
using Microsoft.Playwright;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace SchoolDrills.Browser.Tests;

/// <summary>What the pages over many attempts print is what the API says, and that is what the reports add up to by hand.</summary>
[Collection<AtTheDemo>]
public sealed class ProgressNumbersTests(DemoSite site, Chromium chromium)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_students_shares_are_those_of_the_reports_by_time()
    {
        var api = await site.AsAsync("student");
        var me = await api.MeAsync(Cancel);
        var progress = await api.ProgressAsync(me.Id, Cancel);
        var reports = await ReportsAsync(api, me.Id);

        Assert.NotEmpty(progress.Parameters);
        foreach (var parameter in progress.Parameters)
        {
            foreach (var point in parameter.Points)
                Assert.Equal(ShareOf(reports[point.AttemptId], parameter.Parameter), point.WithinShare, 6);
        }

        await using var student = await SignInAsync("student");
        await student.GoAsync("/progress");
        var newest = progress.Parameters.GroupBy(p => p.Group).MaxBy(g => g.Max(p => p.Points.Max(x => x.FlownOn)))!;
        foreach (var parameter in newest)
        {
            var row = student.Page.Locator("main figure li", new() { HasText = Name(parameter.Parameter) }).First;
            await Expect(row).ToContainTextAsync(Percent(parameter.Points.MaxBy(p => p.FlownOn)!.WithinShare));
        }

        Assert.Empty(student.Faults);
    }

    [Fact]
    public async Task The_schools_counts_are_those_of_its_attempts()
    {
        var api = await site.AsAsync("chief");
        var overview = await api.SchoolOverviewAsync(365, Cancel);
        var period = overview.Period!;
        var me = await api.MeAsync(Cancel);
        var zone = TimeZoneInfo.FindSystemTimeZoneById(me.School.TimeZone);
        // One that the instructor stopped is not measured as a whole; it was flown all the same.
        var flown = (await DemoSite.AttemptsAsync(api, Cancel))
            .Where(a => a is { Status: AttemptStatus.Scored, Verdict: not null, FlownAtUtc: not null })
            .Where(a => DayOf(a.FlownAtUtc!.Value) >= period.FromOn && DayOf(a.FlownAtUtc!.Value) <= period.ToOn)
            .ToList();

        Assert.Equal(flown.Count, period.Attempts.Attempts);
        Assert.Equal(flown.Count(a => a.Verdict == Verdict.NotMet), period.Attempts.NotMet);
        foreach (var drill in period.Drills)
        {
            var its = flown.Where(a => a.Drill.Slug == drill.DrillSlug).ToList();
            Assert.Equal(its.Count, drill.Share.Attempts);
            Assert.Equal(its.Count(a => a.Verdict == Verdict.NotMet), drill.Share.NotMet);
            Assert.Equal(its.Select(a => a.StudentId).Distinct().Count(), drill.Students);
        }

        await using var chief = await SignInAsync("chief");
        await chief.GoAsync("/school?days=365");
        await Expect(chief.Page.Locator(".head > p").First)
            .ToContainTextAsync($"{flown.Count} attempts were flown, {Percent(period.Attempts.NotMetShare!.Value)} of them not met");
        var few = period.Drills.First(d => d.Share.NotMetShare is null);
        await Expect(chief.Page.Locator("#drills ~ ul li", new() { HasText = few.DrillTitle }).First).ToContainTextAsync("too little data");
        Assert.Empty(chief.Faults);

        DateOnly DayOf(DateTimeOffset at) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, zone).DateTime);
    }

    [Fact]
    public async Task An_instructors_list_shows_each_students_newest_flight()
    {
        var api = await site.AsAsync("instructor");
        var newest = (await DemoSite.AttemptsAsync(api, Cancel))
            .Where(a => a is { Status: AttemptStatus.Scored, WithinShare: not null })
            .GroupBy(a => a.StudentName)
            .ToDictionary(g => g.Key, g => g.MaxBy(a => a.FlownAtUtc)!);

        await using var instructor = await SignInAsync("instructor");
        await instructor.GoAsync("/students?mine=false");
        foreach (var (name, attempt) in newest)
        {
            var row = instructor.Page.Locator(
                "main tbody tr",
                new() { Has = instructor.Page.GetByRole(AriaRole.Link, new() { Name = name }) }
            );
            await Expect(row.First).ToContainTextAsync($"{Percent(attempt.WithinShare!.Value)} in tolerance");
        }

        Assert.Empty(instructor.Faults);
    }

    /// <summary>Time in tolerance over time measured; of starts, which have no length, the share that was on time.</summary>
    private static double ShareOf(ScoreReport report, Parameter parameter)
    {
        var measured =
            from segment in report.Segments
            where segment is { StartUtc: not null, EndUtc: not null } && segment.EndUtc > segment.StartUtc
            from deviation in segment.Deviations
            where deviation.Parameter == parameter && deviation is { WithinShare: not null, Verdict: not Verdict.NotMeasured }
            let weight = parameter == Parameter.Timing ? 1 : (segment.EndUtc!.Value - segment.StartUtc!.Value).TotalSeconds
            select (Weight: weight, Within: weight * deviation.WithinShare!.Value);
        return measured.Sum(m => m.Within) / measured.Sum(m => m.Weight);
    }

    private static async Task<Dictionary<Guid, ScoreReport>> ReportsAsync(SchoolDrillsClient api, Guid studentId)
    {
        var reports = new Dictionary<Guid, ScoreReport>();
        foreach (var attempt in (await DemoSite.AttemptsAsync(api, Cancel)).Where(a => a.StudentId == studentId))
        {
            if ((await api.AttemptAsync(attempt.AttemptId, Cancel)).Score is { } report)
                reports[attempt.AttemptId] = report;
        }

        return reports;
    }

    private static string Name(Parameter parameter) =>
        parameter switch
        {
            Parameter.VerticalSpeed => "Vertical speed",
            Parameter.TurnRate => "Turn rate",
            _ => parameter.ToString(),
        };

    /// <summary>Whole per cent, rounded down, so that what is short of a standard never reads as at it.</summary>
    private static string Percent(double share) => Math.Floor((share * 100) + 1e-6).ToString("0", CultureInfo.InvariantCulture) + "%";

    private async Task<Visitor> SignInAsync(string person)
    {
        var visitor = await chromium.VisitAsync(site.Address);
        await visitor.SignInAsync(DemoSite.EmailOf(person), DemoSite.Password);
        return visitor;
    }
}
