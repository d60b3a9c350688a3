using System.Net;
using System.Net.Http.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.TestHost;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using SchoolDrills.Api.Data;
using SchoolDrills.Api.People;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>What somebody learns who tries addresses and passwords, and what it costs the school.</summary>
public sealed class GuessingTests(GuessingTests.CountingSchool app) : IClassFixture<GuessingTests.CountingSchool>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_address_that_nobody_has_is_slowed_down_and_checked_like_one_that_somebody_has()
    {
        var (known, unknown) = (
            await GuessAsync(SchoolsFixture.EmailOf(SchoolsFixture.OtherStudent)),
            await GuessAsync("nobody.at.all@tussockplains.example")
        );
        Assert.Equal(known.Select(WithoutWait), unknown.Select(WithoutWait));
        // Five for typing errors; after that the next has to wait, and costs no hash.
        Assert.Equal([401, 401, 401, 401, 401, 429, 429], known.Select(a => a.Status));
        Assert.Equal([1, 1, 1, 1, 1, 0, 0], known.Select(a => a.Hashes));
        Assert.Single(known.Where(a => a.Status == 401).Select(a => a.Body).Distinct());
        Assert.All(known, a => Assert.Equal(a.Status == 429, a.RetryAfter is [>= '1' and <= '5']));
    }

    [Fact]
    public async Task The_wait_doubles_up_to_a_quarter_of_an_hour_for_whoever_guesses_and_not_for_the_owner_elsewhere()
    {
        const string Email = "slow.down@tussockplains.example";
        var waits = new List<double>();
        for (var i = 0; i < 20; i++)
        {
            await FailAsync(Email, "one place");
            waits.Add(Math.Round((await WaitAsync(Email, "one place")).TotalSeconds));
        }

        Assert.Equal([0, 0, 0, 0, 5, 10, 20, 40, 80, 160, 320, 640, 900, 900, 900, 900, 900, 900, 900, 900], waits);
        Assert.Equal(TimeSpan.Zero, await WaitAsync(Email, "another place"));
    }

    [Fact]
    public async Task Guesses_from_many_places_hold_the_owner_up_for_half_a_minute_at_most()
    {
        const string Email = "many.places@tussockplains.example";
        for (var i = 0; i < 70; i++)
            await FailAsync(Email, $"place {i}");
        Assert.InRange((await WaitAsync(Email, "the owner's")).TotalSeconds, 20, 30);
    }

    [Fact]
    public async Task A_reset_link_ends_the_wait()
    {
        var email = SchoolsFixture.EmailOf(SchoolsFixture.Student);
        await GuessAsync(email);
        Assert.Equal(429, (await TryAsync(email, SchoolsFixture.Password)).Status);

        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var link = await chief.ResetLinkAsync(app.IdOf(SchoolsFixture.Student), Cancel);
        var accept = new AcceptLink(link.Path.Split("token=")[1], SchoolsFixture.Password);
        await new SchoolDrillsClient(app.Stranger()).AcceptLinkAsync(accept, Cancel);
        await app.SignInAsync(SchoolsFixture.Student);
    }

    [Fact]
    public async Task An_invited_and_a_closed_account_are_answered_like_none()
    {
        await app.QueryAccountsAsync(db =>
        {
            var (invited, closed) = (NewPerson("invited"), NewPerson("closed"));
            closed.Active = false;
            var credentials = Credentials.None(closed);
            new Passwords(new PasswordHasher<Person>()).Choose(closed, credentials, SchoolsFixture.Password);
            db.AddRange(invited, Credentials.None(invited), closed, credentials);
            return db.SaveChangesAsync(Cancel);
        });

        var none = await TryAsync("none@tussockplains.example", SchoolsFixture.Password);
        Assert.Equal(401, none.Status);
        Assert.Equal(none, await TryAsync("invited@tussockplains.example", SchoolsFixture.Password));
        Assert.Equal(none, await TryAsync("closed@tussockplains.example", SchoolsFixture.Password));

        Person NewPerson(string name) =>
            new()
            {
                SchoolId = app.TussockId,
                DisplayName = name,
                Roles = [Roles.Student],
                Email = $"{name}@tussockplains.example",
            };
    }

    [Fact]
    public async Task Asking_for_a_new_password_tells_nothing()
    {
        using var http = app.Stranger();
        foreach (var email in (string[])[SchoolsFixture.EmailOf(SchoolsFixture.Student), "nobody@tussockplains.example", "", "no address"])
        {
            var answer = await http.PostAsJsonAsync(
                "/api/v1/password/forgot",
                new ForgotPassword(email),
                WireJson.Default.ForgotPassword,
                Cancel
            );
            Assert.Equal((HttpStatusCode.Accepted, ""), (answer.StatusCode, await answer.Content.ReadAsStringAsync(Cancel)));
        }
    }

    private Task<TimeSpan> WaitAsync(string email, string visitor) =>
        app.QueryAccountsAsync(db => Failures(db, visitor).WaitAsync(email, Cancel));

    private Task<bool> FailAsync(string email, string visitor) =>
        app.QueryAccountsAsync(async db =>
        {
            await Failures(db, visitor).CountAsync(email, Cancel);
            return true;
        });

    private static SignInFailures Failures(AccountsDbContext db, string visitor) =>
        new(db, new SchoolScope { From = (visitor, null) }, TimeProvider.System);

    private async Task<List<Answer>> GuessAsync(string email)
    {
        var answers = new List<Answer>();
        for (var i = 0; i < 7; i++)
            answers.Add(await TryAsync(email, $"guess number {i}"));
        return answers;
    }

    private async Task<Answer> TryAsync(string email, string password)
    {
        using var http = app.Stranger();
        var before = app.Hashes.Checked;
        var answer = await http.PostAsJsonAsync("/api/v1/session", new SignIn(email, password), WireJson.Default.SignIn, Cancel);
        var body = await answer.Content.ReadAsStringAsync(Cancel);
        // Each request has a trace number of its own.
        return new Answer(
            (int)answer.StatusCode,
            body.Split("\"traceId\"")[0],
            app.Hashes.Checked - before,
            answer.Headers.RetryAfter?.ToString() ?? ""
        );
    }

    /// <summary>How much of the wait is left depends on the second.</summary>
    private static Answer WithoutWait(Answer answer) =>
        answer with
        {
            Body = Regex.Replace(answer.Body, "a second|[1-5] seconds|(?<=\"retryAfterS\":)[1-5]", "…"),
            RetryAfter = "",
        };

    private sealed record Answer(int Status, string Body, int Hashes, string RetryAfter);

    public sealed class CountingSchool : SchoolsFixture
    {
        internal HashCount Hashes { get; } = new();

        protected override void ConfigureWebHost(IWebHostBuilder builder)
        {
            base.ConfigureWebHost(builder);
            builder.ConfigureTestServices(services => services.AddSingleton(Hashes).AddScoped<IPasswordHasher<Person>, CountingHasher>());
        }
    }

    /// <summary>The real one, which tells how often it was asked: that is nearly all that a try costs.</summary>
    internal sealed class CountingHasher(HashCount count) : IPasswordHasher<Person>
    {
        private readonly PasswordHasher<Person> real = new();

        public string HashPassword(Person user, string password) => real.HashPassword(user, password);

        public PasswordVerificationResult VerifyHashedPassword(Person user, string hashedPassword, string providedPassword)
        {
            count.Add();
            return real.VerifyHashedPassword(user, hashedPassword, providedPassword);
        }
    }
}

internal sealed class HashCount
{
    private int count;

    public int Checked => count;

    public void Add() => Interlocked.Increment(ref count);
}

/// <summary>Ten thousand guesses at many addresses from one place.</summary>
public sealed class FloodTests(GuessingTests.CountingSchool app) : IClassFixture<GuessingTests.CountingSchool>
{
    private const int Guesses = 10_000,
        PermitsOfAMinute = 60;

    [Fact]
    public async Task Ten_thousand_guesses_cost_a_few_hashes_and_a_few_rows()
    {
        var cancel = TestContext.Current.CancellationToken;
        using var http = app.Stranger();
        var before = app.Hashes.Checked;
        var statuses = new int[Guesses];
        await Parallel.ForAsync(
            0,
            Guesses,
            new ParallelOptions { MaxDegreeOfParallelism = 8, CancellationToken = cancel },
            async (i, ct) =>
            {
                using var answer = await http.PostAsJsonAsync(
                    "/api/v1/session",
                    new SignIn($"guess{i}@tussockplains.example", "a password"),
                    WireJson.Default.SignIn,
                    ct
                );
                statuses[i] = (int)answer.StatusCode;
            }
        );
        Assert.All(statuses, s => Assert.True(s is 401 or 429));
        var let = statuses.Count(s => s == 401);
        // The window slides by sixths of a minute, and a slow machine sees some of them go by.
        Assert.InRange(let, 1, PermitsOfAMinute * 20);
        Assert.Equal(let, app.Hashes.Checked - before);
        Assert.Equal(let, await app.QueryAccountsAsync(db => db.SignInFailures.CountAsync(f => f.VisitorHash == "", cancel)));
    }
}
