using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;
using Xunit;

namespace SchoolDrills.Api.Tests.Data;

/// <summary>What a start does with a database that it finds.</summary>
public sealed class DatabaseSetupTests : IAsyncLifetime
{
    private const string Policies =
        "select concat_ws(' | ', tablename, policyname, permissive, roles, cmd, qual, with_check) from pg_policies order by 1";

    private readonly TestDatabase database = new();

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public ValueTask InitializeAsync() => database.InitializeAsync();

    public ValueTask DisposeAsync() => database.DisposeAsync();

    [Fact]
    public async Task Policies_of_an_earlier_version_give_way_to_those_of_this_one()
    {
        await using var owner = await RawSql.OpenAsync(database.OwnerConnectionString);
        var fresh = await owner.ReadAsync(Policies);
        await owner.ExecuteAsync(
            """
            drop policy school_isolation on attempts;
            drop policy visibility on attempts;
            create policy school_wall on attempts using (school_id = nullif(current_setting('app.school_id', true), '')::uuid);
            create policy sight on attempts as restrictive to schooldrills_app using (true);
            comment on schema setup is 'an earlier version';
            """
        );

        await DatabaseSetup.PrepareAsync(database.Access, ct: Cancel);

        Assert.Equal(fresh, await owner.ReadAsync(Policies));
    }

    [Fact]
    public async Task A_database_of_the_first_version_is_upgraded_with_its_passwords_by_an_owner_who_is_no_superuser()
    {
        await using var server = await RawSql.OpenAsync(database.OwnerConnectionString);
        var name = $"upgraded_{Guid.NewGuid():N}"[..30];
        // The same password, as those of the roles that all databases of the server share are derived from it.
        var owner = new NpgsqlConnectionStringBuilder(database.OwnerConnectionString)
        {
            Database = name,
            Username = name,
            Pooling = false,
        };
        await server.ExecuteAsync($"create role {name} login createrole password '{owner.Password}'");
        foreach (
            var role in await server.ReadAsync(
                "select rolname from pg_roles where rolname like 'schooldrills%' and rolname <> current_user"
            )
        )
        {
            await server.ExecuteAsync($"grant {role} to {name} with admin option");
        }

        await server.ExecuteAsync($"create database {name} owner {name}");
        try
        {
            await using (
                var first = new SchoolDrillsDbContext(
                    new DbContextOptionsBuilder<SchoolDrillsDbContext>().UseNpgsql(owner.ConnectionString).Options
                )
            )
            {
                await first.GetService<IMigrator>().MigrateAsync("20261125113237_FirstSchema", Cancel);
            }

            await using var raw = await RawSql.OpenAsync(owner.ConnectionString);
            var (school, person) = (Guid.NewGuid(), Guid.NewGuid());
            await raw.ExecuteAsync(
                $"""
                insert into schools (id, name, time_zone, grade_scale, grading,
                instructors_see_own_students_only, retention_rules, retention_own_years)
                  values ('{school}', 'Old', 'UTC', '[]', '{"{}"}', false, '{"{}"}', 0);
                insert into people (id, school_id, display_name, roles, active, last_code_step, recovery_code_hashes, legal_hold,
                email, normalized_email,
                    email_confirmed, password_hash, phone_number_confirmed, two_factor_enabled, lockout_enabled, access_failed_count)
                  values ('{person}', '{school}', 'Old chief', '{"{chief}"}', true, 7, '{"{abc}"}', false,
                'a@b.example', 'A@B.EXAMPLE', false, 'hash', false, false, false, 0);
                alter table people enable row level security;
                alter table people force row level security;
                create policy school_wall on people using (school_id = nullif(current_setting('app.school_id', true), '')::uuid);
                """
            );
            Assert.Equal(0L, await raw.CountAsync("people"));

            await DatabaseSetup.PrepareAsync(DatabaseAccess.From(owner.ConnectionString), ct: Cancel);

            await using var accounts = await RawSql.OpenAsync(DatabaseAccess.From(owner.ConnectionString).Accounts);
            await accounts.EnterAsync(school, null, "none");
            Assert.Equal(
                "hash 7 abc true",
                await accounts.ScalarAsync(
                    "select concat_ws(' ', password_hash, last_code_step, recovery_code_hashes[1], "
                        + "has_accepted::text) from credentials join people on id = person_id"
                )
            );
            Assert.Equal(await server.ReadAsync(Policies), await raw.ReadAsync(Policies));
        }
        finally
        {
            await server.ExecuteAsync($"drop database {name} with (force)");
            await server.ExecuteAsync($"drop owned by {name}");
            await server.ExecuteAsync($"drop role {name}");
        }
    }

    [Fact]
    public async Task A_table_that_the_policies_do_not_name_stops_the_start()
    {
        await using var owner = await RawSql.OpenAsync(database.OwnerConnectionString);
        await owner.ExecuteAsync("create table forgotten (school_id uuid not null, student_id uuid not null)");
        Assert.Equal("db/policies/35-visibility.sql does not say who may see forgotten.", await RefusalAsync());
    }

    [Fact]
    public async Task A_view_over_the_tables_stops_the_start()
    {
        await using var owner = await RawSql.OpenAsync(database.OwnerConnectionString);
        await owner.ExecuteAsync("create view all_grades as select * from grades");
        Assert.Contains("all_grades", await RefusalAsync(repair: true), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("drop policy visibility on attempts", "policy visibility on attempts is missing")]
    [InlineData("drop policy school_isolation on credentials", "policy school_isolation on credentials is missing")]
    [InlineData("drop policy visibility_of_jobs on grades", "policy visibility_of_jobs on grades is missing")]
    [InlineData("drop policy staff_insert on grades", "policy staff_insert on grades is missing")]
    [InlineData("drop policy own_name on audit_entries", "policy own_name on audit_entries is missing")]
    [InlineData("drop policy lookup on sessions", "policy lookup on sessions is missing")]
    [InlineData("alter policy visibility on track_plots using (true)", "policy visibility on track_plots was changed")]
    [InlineData("alter policy lookup on people to public", "policy lookup on people was changed")]
    [InlineData("create policy everything on attempts using (true)", "policy everything on attempts was added")]
    [InlineData("alter table attempts disable row level security", "row-level security on attempts was changed")]
    [InlineData("alter table pending_tracks no force row level security", "row-level security on pending_tracks was changed")]
    [InlineData("alter table schools disable row level security", "row-level security on schools was changed")]
    [InlineData("drop trigger undeletable on grades", "trigger undeletable on grades is missing")]
    [InlineData("alter table score_reports disable trigger unchanging", "trigger unchanging on score_reports was changed")]
    [InlineData("grant select on credentials to schooldrills_app", "rights on credentials was changed")]
    [InlineData("grant select (hash) on api_tokens to public", "rights on api_tokens was changed")]
    [InlineData("grant update (within_share) on attempts to schooldrills_app", "rights on attempts was changed")]
    [InlineData("revoke select on people from schooldrills_app", "rights on people was changed")]
    [InlineData("grant usage on schema setup to public", "rights on schema setup was changed")]
    [InlineData("alter function lookup.is_chief() owner to current_user", "function lookup.is_chief() was changed")]
    [InlineData("grant execute on function lookup.school_ids() to public", "rights on function lookup.school_ids() was changed")]
    [InlineData(
        "create or replace function public.refuse_change() returns trigger language plpgsql as $$ begin return old; end $$",
        "function refuse_change() was changed"
    )]
    [InlineData("drop function erasure.erase_person(uuid, text)", "function erasure.erase_person(uuid,text) is missing")]
    public async Task What_was_changed_by_somebody_stops_the_start_until_an_operator_has_it_repaired(string change, string named)
    {
        await using var owner = await RawSql.OpenAsync(database.OwnerConnectionString);
        await DatabaseSetup.PrepareAsync(database.Access, ct: Cancel);
        var fresh = await owner.ReadAsync(Policies);
        await owner.ExecuteAsync(change);

        var refusal = await RefusalAsync();
        Assert.StartsWith("The database is not as SchoolDrills set it up (", refusal, StringComparison.Ordinal);
        Assert.Contains(named, refusal, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refusal);
        Assert.Equal(refusal, await RefusalAsync());

        await DatabaseSetup.PrepareAsync(database.Access, repair: true, Cancel);
        await DatabaseSetup.PrepareAsync(database.Access, ct: Cancel);
        Assert.Equal(fresh, await owner.ReadAsync(Policies));
    }

    [Fact]
    public async Task A_database_that_a_newer_version_changed_stops_the_start()
    {
        await using var owner = await RawSql.OpenAsync(database.OwnerConnectionString);
        await owner.ExecuteAsync("insert into \"__EFMigrationsHistory\" values ('29991231000000_ThingsToCome', '99.0.0')");
        Assert.Equal(
            "A newer SchoolDrills has changed this database (29991231000000_ThingsToCome): "
                + "start that version, or restore a backup made before it.",
            await RefusalAsync()
        );
    }

    private async Task<string> RefusalAsync(bool repair = false) =>
        (await Assert.ThrowsAsync<StartupRefusedException>(() => DatabaseSetup.PrepareAsync(database.Access, repair, Cancel))).Message;
}
