using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Setup;

/// <summary>
/// The operator's command <c>new-school</c>: prints a link with which one more school is set up in this database. Works beside a
/// running host.
/// </summary>
public static class NewSchoolCommand
{
    public const string Name = "new-school";

    /// <param name="address">Where the pages are served, as the link begins.</param>
    /// <exception cref="StartupRefusedException">Something an operator has to put right.</exception>
    public static async Task RunAsync(IConfiguration configuration, string address)
    {
        await using var database = await DatabaseHost.JoinAsync(configuration);
        var options = new DbContextOptionsBuilder<AccountsDbContext>().UseNpgsql(database.Access.Accounts).Options;
        await using var db = new AccountsDbContext(options);
        var path = FirstRunToken.AddTo(db, DateTimeOffset.UtcNow);
        await db.SaveChangesAsync();
        Console.WriteLine(
            $"A new school is set up here, once, within {FirstRunToken.Life.Days} days, by its chief instructor: "
                + $"{address.TrimEnd('/')}{path}"
        );
    }
}
