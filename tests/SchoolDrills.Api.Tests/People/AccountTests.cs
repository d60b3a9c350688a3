using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using OtpNet;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>Sessions, tokens, password and second factor, as their owner and the chief handle them.</summary>
public sealed class AccountTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_session_is_listed_with_where_it_came_from_and_is_over_once_ended()
    {
        var here = await SignedInAsync(SchoolsFixture.SecondInstructor);
        var elsewhere = await SignedInAsync(
            SchoolsFixture.SecondInstructor,
            "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
        );
        var id = app.IdOf(SchoolsFixture.SecondInstructor);
        var sessions = await here.SessionsAsync(id, Cancel);
        Assert.Single(sessions, s => s.Current);
        var other = Assert.Single(sessions, s => s.UserAgent?.Contains("Firefox", StringComparison.Ordinal) is true);
        await here.EndSessionAsync(id, other.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => elsewhere.MeAsync(Cancel));
        await here.MeAsync(Cancel);
        Assert.DoesNotContain(await here.SessionsAsync(id, Cancel), s => s.Id == other.Id);
    }

    [Fact]
    public async Task The_chief_ends_anybodys_session_and_nobody_else_does()
    {
        var student = await SignedInAsync(SchoolsFixture.OtherStudent);
        var id = app.IdOf(SchoolsFixture.OtherStudent);
        var session = Assert.Single(await student.SessionsAsync(id, Cancel), s => s.Current);
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.Instructor)).EndSessionAsync(id, session.Id, Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            async () => await (await app.AsAsync(SchoolsFixture.FarChief)).EndSessionAsync(id, session.Id, Cancel)
        );
        await student.MeAsync(Cancel);
        await (await app.AsAsync(SchoolsFixture.Chief)).EndSessionAsync(id, session.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => student.MeAsync(Cancel));
    }

    [Fact]
    public async Task A_token_works_across_the_API_under_its_owners_role_until_it_is_revoked()
    {
        var owner = await app.AsAsync(SchoolsFixture.Instructor);
        var made = await owner.CreateApiTokenAsync(new CreateApiToken("rosters", "write", 30), Cancel);
        Assert.StartsWith("sd_", made.Token, StringComparison.Ordinal);
        Assert.Equal(0, await app.QueryAccountsAsync(db => db.ApiTokens.CountAsync(t => t.Hash == made.Token, Cancel)));
        var program = With(made.Token);
        Assert.Equal(app.IdOf(SchoolsFixture.Instructor), (await program.MeAsync(Cancel)).Id);
        Assert.Single(await program.AssignAsync(new CreateAssignment([app.IdOf(SchoolsFixture.Student)], "racetrack", null), Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => program.InviteAsync(new InvitePerson("x", "x@tussockplains.example", [Roles.Chief]), Cancel)
        );
        Assert.NotNull(
            Assert.Single(await owner.ApiTokensAsync(app.IdOf(SchoolsFixture.Instructor), Cancel), t => t.Name == "rosters").LastUsedAtUtc
        );

        await owner.RevokeApiTokenAsync(app.IdOf(SchoolsFixture.Instructor), made.Summary.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => program.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => With("sd_" + new string('A', 43)).MeAsync(Cancel));
    }

    [Fact]
    public async Task A_token_reads_only_where_it_says_so_expires_and_makes_no_other_nor_touches_the_account()
    {
        var owner = await app.AsAsync(SchoolsFixture.Chief);
        var reader = await owner.CreateApiTokenAsync(new CreateApiToken("reader", "read", 1), Cancel);
        await With(reader.Token).PeopleAsync(ct: Cancel);
        var refusal = await Refusals.RefusedAsync(
            HttpStatusCode.Forbidden,
            () => With(reader.Token).InviteAsync(new InvitePerson("x", "y@tussockplains.example", [Roles.Student]), Cancel)
        );
        Assert.Contains("reading only", refusal.Message, StringComparison.Ordinal);

        var writer = await owner.CreateApiTokenAsync(new CreateApiToken("writer", "write", 1), Cancel);
        foreach (
            var deed in (Func<Task>[])
                [
                    () => With(writer.Token).CreateApiTokenAsync(new CreateApiToken("child", "write", 366), Cancel),
                    () => With(writer.Token).ChangePasswordAsync(new ChangePassword(SchoolsFixture.Password, "something else"), Cancel),
                    () => With(writer.Token).ResetLinkAsync(app.IdOf(SchoolsFixture.Student), Cancel),
                    () => With(writer.Token).StartSecondFactorAsync(Cancel),
                ]
        )
        {
            await Refusals.RefusedAsync(HttpStatusCode.Forbidden, deed);
        }

        await app.QueryAccountsAsync(db =>
            db.ApiTokens.Where(t => t.Id == writer.Summary.Id)
                .ExecuteUpdateAsync(t => t.SetProperty(x => x.ExpiresAtUtc, DateTimeOffset.UnixEpoch), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => With(writer.Token).MeAsync(Cancel));
    }

    [Theory]
    [InlineData("", "read", 1)]
    [InlineData("x", "all", 1)]
    [InlineData("x", "read", 0)]
    [InlineData("x", "read", 367)]
    public async Task A_token_without_name_known_scope_and_end_is_not_made(string name, string scope, int days)
    {
        var owner = await app.AsAsync(SchoolsFixture.Instructor);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => owner.CreateApiTokenAsync(new CreateApiToken(name, scope, days), Cancel)
        );
    }

    [Fact]
    public async Task A_second_factor_is_asked_for_once_it_is_on_and_each_code_works_once()
    {
        var (email, client) = await NewPersonAsync("careful");
        var key = await client.StartSecondFactorAsync(Cancel);
        Assert.StartsWith("otpauth://totp/SchoolDrills%20Tussock%20Plains%20Flying%20School:", key.Uri, StringComparison.Ordinal);
        // Not on before a code has shown that the app has the key.
        await SignInAsync(email, null);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => client.ConfirmSecondFactorAsync("000000", Cancel));
        var codes = (await client.ConfirmSecondFactorAsync(CodeOf(key.Key, 0), Cancel)).Codes;
        Assert.Equal(10, codes.Distinct().Count());
        Assert.Equal(new AccountDetail(true, 10), await client.AccountAsync(Cancel));

        var asked = await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync(email, null));
        Assert.EndsWith("/second-factor", asked.Type, StringComparison.Ordinal);
        // The next one: the present one has been used, and half a minute more or less is let pass.
        var code = CodeOf(key.Key, 1);
        await SignInAsync(email, code);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync(email, code));
        await SignInAsync(email, codes[0]);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync(email, codes[0]));
        Assert.Equal(9, (await client.AccountAsync(Cancel)).RecoveryCodesLeft);

        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => client.DropSecondFactorAsync("not the password", Cancel));
        await client.DropSecondFactorAsync(Password, Cancel);
        await SignInAsync(email, null);
    }

    [Fact]
    public async Task A_new_password_needs_the_present_one_and_ends_the_other_sessions()
    {
        var (email, client) = await NewPersonAsync("renewing");
        var other = await SignInAsync(email, null);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => client.ChangePasswordAsync(new ChangePassword("a guess at it", "new password 1"), Cancel)
        );
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => client.ChangePasswordAsync(new ChangePassword(Password, "short"), Cancel)
        );
        await client.ChangePasswordAsync(new ChangePassword(Password, "new password 1"), Cancel);
        await client.MeAsync(Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => other.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync(email, null));
    }

    private const string Password = "attitude plus power";

    private async Task<(string Email, SchoolDrillsClient Client)> NewPersonAsync(string name)
    {
        var email = SchoolsFixture.EmailOf(name);
        var made = await (await app.AsAsync(SchoolsFixture.Chief)).InviteAsync(new InvitePerson(name, email, [Roles.Student]), Cancel);
        await new SchoolDrillsClient(app.Stranger()).AcceptLinkAsync(new AcceptLink(made.Path.Split("token=")[1], Password), Cancel);
        return (email, await SignInAsync(email, null));
    }

    private async Task<SchoolDrillsClient> SignInAsync(string email, string? code) =>
        With((await new SchoolDrillsClient(app.Stranger()).SignInAsync(new SignIn(email, Password, Code: code), Cancel)).AccessToken);

    private async Task<SchoolDrillsClient> SignedInAsync(string person, string? userAgent = null)
    {
        var http = app.CreateClient();
        if (userAgent is not null)
            http.DefaultRequestHeaders.UserAgent.ParseAdd(userAgent);
        return With(
            (
                await new SchoolDrillsClient(http).SignInAsync(new SignIn(SchoolsFixture.EmailOf(person), SchoolsFixture.Password), Cancel)
            ).AccessToken
        );
    }

    private SchoolDrillsClient With(string token)
    {
        var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return new SchoolDrillsClient(http);
    }

    /// <summary>What the app shows, half minutes from now.</summary>
    private static string CodeOf(string base32, int steps) =>
        new Totp(Base32Encoding.ToBytes(base32)).ComputeTotp(DateTime.UtcNow.AddSeconds(30 * steps));
}
