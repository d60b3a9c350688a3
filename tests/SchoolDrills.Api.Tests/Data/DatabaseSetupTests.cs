using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>What a start does with a database that it finds.</summary>
public sealed class DatabaseSetupTests : IAsyncLifetime
{
    private const string Policies =
        "select concat_ws(' | ', tablename, policyname, permissive, roles, cmd, qual, with_check) from pg_policies order by 1";

    private readonly TestDatabase _database = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public ValueTask InitializeAsync() => _database.InitializeAsync();

    public ValueTask DisposeAsync() => _database.DisposeAsync();

    [Fact]
    public async Task Policies_of_an_earlier_version_give_way_to_those_of_this_one()
    {
        await using var owner = await RawSql.OpenAsync(_database.OwnerConnectionString);
        var fresh = await owner.ReadAsync(Policies);
        await owner.ExecuteAsync(
            """
            drop policy school_isolation on attempts;
            drop policy visibility on attempts;
            create policy school_wall on attempts using (school_id = nullif(current_setting('app.school_id', true), '')::uuid);
            create policy sight on attempts as restrictive to schooldrills_app using (true);
            comment on schema lookup is 'an earlier version';
            """
        );

        await DatabaseSetup.PrepareAsync(_database.Access, Cancel);

        Assert.Equal(fresh, await owner.ReadAsync(Policies));
    }

    [Fact]
    public async Task A_table_that_the_policies_do_not_name_stops_the_start()
    {
        await using var owner = await RawSql.OpenAsync(_database.OwnerConnectionString);
        await owner.ExecuteAsync("create table forgotten (school_id uuid not null, student_id uuid not null)");
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(_database.Access, Cancel));
        Assert.Equal("db/policies/35-visibility.sql does not say who may see forgotten.", refusal.Message);
    }

    [Fact]
    public async Task A_school_table_without_row_level_security_stops_the_start()
    {
        await using var owner = await RawSql.OpenAsync(_database.OwnerConnectionString);
        await owner.ExecuteAsync("alter table attempts disable row level security");
        var refusal = await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(_database.Access, Cancel));
        Assert.Equal(
            "Row-level security is missing on attempts: every table with a school_id needs the school_isolation policy of db/policies.",
            refusal.Message
        );
    }
}
