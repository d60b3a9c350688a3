using System.Net;
using SchoolDrills.Api.Setup;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.Setup;

/// <summary>Setting up one more school with a link of the server.</summary>
public sealed class FirstRunTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private SchoolDrillsClient Stranger => new(app.Stranger());

    [Fact]
    public async Task Of_two_who_open_one_link_at_once_one_gets_the_school()
    {
        var token = await TokenAsync(DateTimeOffset.UtcNow);
        var outcomes = await Task.WhenAll(
            Enumerable
                .Range(0, 4)
                .Select(i => Record.ExceptionAsync(() => Stranger.FirstRunAsync(School($"racer-{i}", token), Cancel)).AsTask())
        );
        Assert.Single(outcomes, o => o is null);
        Assert.All(
            outcomes.Where(o => o is not null),
            o => Assert.Equal(HttpStatusCode.Forbidden, Assert.IsType<ApiProblemException>(o).Status)
        );
    }

    [Fact]
    public async Task A_link_is_good_for_a_week()
    {
        var fresh = await TokenAsync(DateTimeOffset.UtcNow - FirstRunToken.Life + TimeSpan.FromHours(1));
        var old = await TokenAsync(DateTimeOffset.UtcNow - FirstRunToken.Life - TimeSpan.FromMinutes(1));
        var refused = await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => Stranger.FirstRunAsync(School("late", old), Cancel));
        Assert.Contains("over a week old", refused.Message, StringComparison.Ordinal);
        await Stranger.FirstRunAsync(School("in-time", fresh), Cancel);
    }

    [Fact]
    public async Task Incomplete_details_leave_the_link_as_it_was()
    {
        var token = await TokenAsync(DateTimeOffset.UtcNow);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => Stranger.FirstRunAsync(School("no-zone", token) with { TimeZone = "Middle of nowhere" }, Cancel)
        );
        await Stranger.FirstRunAsync(School("with-zone", token), Cancel);
    }

    private static FirstRun School(string name, string token) =>
        new(token, name, "Pacific/Auckland", name, $"{name}@first-run.example", "attitude plus power");

    private async Task<string> TokenAsync(DateTimeOffset madeAtUtc) =>
        await app.QueryAccountsAsync(async db =>
        {
            var path = FirstRunToken.AddTo(db, madeAtUtc);
            await db.SaveChangesAsync(Cancel);
            return path.Split('=')[1];
        });
}
