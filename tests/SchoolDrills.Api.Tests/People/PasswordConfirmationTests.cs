using System.Net;
using System.Net.Http.Headers;
using OtpNet;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>What outlives a session takes the password again; <see cref="EndpointMatrixTests"/> says which operations that is.</summary>
public sealed class PasswordConfirmationTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static readonly ConfirmPassword Right = new(SchoolsFixture.Password);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_session_left_open_invites_nobody_until_the_password_was_given_again()
    {
        var chief = With(await app.SignInOfAWhileAgoAsync(SchoolsFixture.Chief));
        await AskedAsync(() => InviteAsync(chief, "late"));
        await AskedAsync(() => chief.ConfirmedAsync(Cancel));
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.ConfirmPasswordAsync(new ConfirmPassword("a guess at it"), Cancel)
        );
        await AskedAsync(() => InviteAsync(chief, "late"));
        await chief.ConfirmPasswordAsync(Right, Cancel);
        await chief.ConfirmedAsync(Cancel);
        await InviteAsync(chief, "late");
    }

    [Fact]
    public async Task A_role_that_may_not_is_not_asked_for_a_password()
    {
        var student = With(await app.SignInOfAWhileAgoAsync(SchoolsFixture.Student));
        var refusal = await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => InviteAsync(student, "friend"));
        Assert.False(refusal.Is(ApiProblemException.ConfirmPassword));
    }

    [Fact]
    public async Task Renewing_a_session_does_not_count_as_giving_the_password()
    {
        await app.NewcomerAsync("renewer", Roles.Chief);
        var old = await app.SignInAsync("renewer");
        await app.AgePasswordAsync("renewer");
        var renewed = await new SchoolDrillsClient(app.Stranger()).RefreshAsync(new RefreshSession(old.RefreshToken), Cancel);
        await AskedAsync(() => With(renewed.AccessToken).ConfirmedAsync(Cancel));
    }

    [Fact]
    public async Task A_programs_token_makes_no_chief_whatever_it_may_write()
    {
        var made = await (await app.AsAsync(SchoolsFixture.Chief)).CreateApiTokenAsync(new CreateApiToken("rosters", "write", 30), Cancel);
        var program = With(made.Token);
        foreach (
            var deed in (Func<Task>[])
                [
                    () => InviteAsync(program, "second-chief"),
                    () => program.AuditAsync(ct: Cancel),
                    () => program.ConfirmPasswordAsync(Right, Cancel),
                ]
        )
        {
            var refusal = await Refusals.RefusedAsync(HttpStatusCode.Forbidden, deed);
            Assert.Equal("A program's token cannot do this: it takes a person who has signed in with the password.", refusal.Message);
        }
    }

    [Fact]
    public async Task Guessing_here_slows_the_next_try_as_guessing_at_the_door_does()
    {
        await app.NewcomerAsync("guessed", Roles.Student);
        var session = With((await app.SignInAsync("guessed")).AccessToken);
        for (var i = 0; i < 5; i++)
        {
            await Refusals.RefusedAsync(
                HttpStatusCode.UnprocessableEntity,
                () => session.ConfirmPasswordAsync(new ConfirmPassword($"guess number {i}"), Cancel)
            );
        }

        await Refusals.RefusedAsync(
            HttpStatusCode.TooManyRequests,
            () => session.ConfirmPasswordAsync(new ConfirmPassword("guess number 6"), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.TooManyRequests, () => session.ConfirmPasswordAsync(Right, Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.TooManyRequests, () => app.SignInAsync("guessed"));
    }

    [Fact]
    public async Task With_a_second_factor_the_password_alone_is_not_enough_and_a_code_works_once()
    {
        var person = await app.NewcomerAsync("careful", Roles.Student);
        var key = await person.StartSecondFactorAsync(Cancel);
        var codes = (await person.ConfirmSecondFactorAsync(CodeOf(key.Key), Cancel)).Codes;
        await app.AgePasswordAsync("careful");

        // Whoever has session and password, and not the app, does not get rid of the app either.
        await AskedAsync(() => person.DropSecondFactorAsync(SchoolsFixture.Password, Cancel));
        var asked = await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => person.ConfirmPasswordAsync(Right, Cancel));
        Assert.True(asked.Is(ApiProblemException.SecondFactor));
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => person.ConfirmPasswordAsync(Right with { Code = "000000" }, Cancel)
        );
        await AskedAsync(() => person.ConfirmedAsync(Cancel));
        await person.ConfirmPasswordAsync(Right with { Code = codes[0] }, Cancel);
        await person.ConfirmedAsync(Cancel);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => person.ConfirmPasswordAsync(Right with { Code = codes[0] }, Cancel)
        );
    }

    private static async Task AskedAsync(Func<Task> deed) =>
        Assert.True((await Refusals.RefusedAsync(HttpStatusCode.Forbidden, deed)).Is(ApiProblemException.ConfirmPassword));

    private static Task<PersonLink> InviteAsync(SchoolDrillsClient by, string name) =>
        by.InviteAsync(new InvitePerson(name, SchoolsFixture.EmailOf(name), [Roles.Chief]), Cancel);

    private static string CodeOf(string base32) => new Totp(Base32Encoding.ToBytes(base32)).ComputeTotp(DateTime.UtcNow);

    private SchoolDrillsClient With(string token)
    {
        var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return new SchoolDrillsClient(http);
    }
}
