using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;
using SchoolDrills.Api.Operators;
using Xunit;

namespace SchoolDrills.Api.Tests.Operators;

/// <summary>Commands as they are typed beside a running host.</summary>
internal static class Operator
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <returns>What the command prints.</returns>
    public static async Task<string> RunAsync(ApiFixture app, params string[] args)
    {
        var configuration = new ConfigurationBuilder()
            .AddInMemoryCollection([new("ConnectionStrings:SchoolDrills", app.Database.OwnerConnectionString)])
            .Build();
        await using var output = new StringWriter();
        Assert.Equal(0, await OperatorCommands.TryRunAsync(args, configuration, output, Cancel));
        return output.ToString();
    }

    /// <returns>The sentence with which it is refused.</returns>
    public static async Task<string> RefusedAsync(ApiFixture app, params string[] args) =>
        (await Assert.ThrowsAsync<StartupRefusedException>(() => RunAsync(app, args))).Message;
}
