using Hangfire;
using Hangfire.Storage;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Api.Uploads;
using Xunit;

namespace SchoolDrills.Api.Tests.Scoring;

/// <summary>When the sweeps are due.</summary>
public sealed class SweepScheduleTests(ApiFixture app) : IClassFixture<ApiFixture>
{
    [Fact]
    public async Task What_a_worker_whose_clock_ran_ahead_put_off_is_due_again_within_its_interval()
    {
        using var schedule = ActivatorUtilities.CreateInstance<SweepSchedule>(app.Services);
        schedule.BringForward();
        var usual = Due();
        Assert.Equal(5, usual.Count);

        // As a worker three hours ahead leaves it: the time of the next is three hours from now.
        await using var owner = await RawSql.OpenAsync(app.Database.OwnerConnectionString);
        var later = DateTime.UtcNow.AddHours(3).ToString("o", System.Globalization.CultureInfo.InvariantCulture);
        await owner.ExecuteAsync(
            $"update hangfire.hash set value = '{later}' where field = 'NextExecution' and key = 'recurring-job:{RescoringSweep.Name}'"
        );
        Assert.True(Due()[RescoringSweep.Name] > DateTime.UtcNow.AddHours(2));

        schedule.BringForward();
        var now = Due();
        Assert.InRange(now[RescoringSweep.Name], DateTime.UtcNow.AddMinutes(-1), DateTime.UtcNow.AddMinutes(2));
        Assert.Equal(usual.Keys.Order(StringComparer.Ordinal), now.Keys.Order(StringComparer.Ordinal));
        Assert.InRange(now[PendingSweep.Name], DateTime.UtcNow.AddMinutes(-1), DateTime.UtcNow.AddMinutes(61));
    }

    private Dictionary<string, DateTime> Due()
    {
        using var connection = app.Services.GetRequiredService<JobStorage>().GetConnection();
        return connection.GetRecurringJobs().ToDictionary(job => job.Id, job => job.NextExecution!.Value);
    }
}
