using System.Net;
using System.Net.Http.Json;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using SchoolDrills.Api.Health;
using SchoolDrills.Api.Tests.Data;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests;

/// <summary>Faults made on purpose in a real database, and what a client is told of them.</summary>
public sealed class ServerFaultTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(PostgresErrorCodes.DiskFull, HttpStatusCode.InsufficientStorage, "disk-full", null)]
    [InlineData(PostgresErrorCodes.CannotConnectNow, HttpStatusCode.ServiceUnavailable, "database-away", "5")]
    public async Task A_fault_of_the_machine_has_its_own_status_and_nothing_is_half_stored(
        string sqlState,
        HttpStatusCode status,
        string type,
        string? retryAfter
    )
    {
        await OwnerAsync(
            $"""
            create function fault() returns trigger language plpgsql as
              $$ begin raise exception 'on purpose' using errcode = '{sqlState}'; end $$;
            create trigger fault before insert on assignments for each row execute function fault()
            """
        );
        try
        {
            var before = await CountAsync();
            using var http = await app.HttpAsync(SchoolsFixture.Instructor);
            using var answer = await http.PostAsJsonAsync(
                "/api/v1/assignments",
                new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "timed-turns", new DateOnly(2030, 1, 31)),
                WireJson.Default.CreateAssignment,
                Cancel
            );
            var problem = await answer.ProblemAsync(status);
            Assert.EndsWith($"/{type}", problem.GetProperty("type").GetString());
            Assert.Equal(retryAfter, answer.Headers.RetryAfter?.ToString());
            Assert.Equal(before, await CountAsync());
        }
        finally
        {
            await OwnerAsync("drop trigger fault on assignments; drop function fault()");
        }
    }

    [Fact]
    public async Task Nobody_listening_is_the_database_away()
    {
        await using var connection = new NpgsqlConnection("Host=127.0.0.1;Port=1;Username=nobody;Timeout=2");
        var fault = await Assert.ThrowsAsync<NpgsqlException>(() => connection.OpenAsync(Cancel));
        Assert.Equal(StatusCodes.Status503ServiceUnavailable, ServerFaults.StatusOf(new InvalidOperationException("wrapped", fault)));
        Assert.Equal(StatusCodes.Status500InternalServerError, ServerFaults.StatusOf(new InvalidOperationException("another")));
    }

    [Fact]
    public async Task A_full_disk_is_logged_once_a_minute_and_the_host_is_not_ready()
    {
        var faults = new ServerFaults(TimeProvider.System);
        Assert.True(faults.Note(StatusCodes.Status507InsufficientStorage));
        Assert.False(faults.Note(StatusCodes.Status507InsufficientStorage));
        Assert.True(faults.Note(StatusCodes.Status503ServiceUnavailable));
        Assert.True(faults.Note(StatusCodes.Status500InternalServerError));
        Assert.True(faults.Note(StatusCodes.Status500InternalServerError));
        Assert.Equal("the disk is full", (await faults.CheckHealthAsync(new(), Cancel)).Description);
    }

    private Task<int> CountAsync() => app.QueryAsync(db => db.Assignments.CountAsync(Cancel));

    private Task OwnerAsync(string sql) => SqlAsync(app.Database.OwnerConnectionString, sql);

    private static async Task SqlAsync(string role, string sql)
    {
        await using var connection = await RawSql.OpenAsync(role);
        await connection.ExecuteAsync(sql);
    }
}
