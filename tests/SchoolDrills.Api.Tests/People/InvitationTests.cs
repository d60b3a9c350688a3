using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>From the invitation to the closed account.</summary>
public sealed class InvitationTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private const string Chosen = "cross-check twice";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private SchoolDrillsClient Stranger => new(app.Stranger());

    [Fact]
    public async Task The_chief_sees_when_each_person_last_signed_in_and_others_do_not()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var invited = await chief.InviteAsync(new InvitePerson("Not Yet", "not-yet@tussockplains.example", [Roles.Student]), Cancel);
        var before = DateTimeOffset.UtcNow;
        await app.SignInAsync(SchoolsFixture.OtherStudent);
        var people = await chief.PeopleAsync(ct: Cancel);
        Assert.True(people.Single(p => p.Id == app.IdOf(SchoolsFixture.OtherStudent)).SignedInAtUtc >= before.AddSeconds(-1));
        Assert.Null(people.Single(p => p.Id == invited.Person.Id).SignedInAtUtc);
        Assert.All(await (await app.AsAsync(SchoolsFixture.Instructor)).PeopleAsync(ct: Cancel), p => Assert.Null(p.SignedInAtUtc));
    }

    [Fact]
    public async Task Who_accepts_an_invitation_signs_in_with_the_password_chosen_and_has_the_roles_given()
    {
        var made = await InviteAsync("new.pilot", Roles.Student, Roles.Instructor);
        Assert.Equal("invited", made.Person.State);
        Assert.False(made.Mailed);
        var link = await Stranger.LinkAsync(TokenOf(made), Cancel);
        Assert.Equal(("invite", "new.pilot", "Tussock Plains Flying School"), (link.Kind, link.DisplayName, link.SchoolName));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync("new.pilot", Chosen));

        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
        var me = await (await SignInAsync("new.pilot", Chosen)).MeAsync(Cancel);
        Assert.Equal(made.Person.Id, me.Id);
        Assert.Equal([Roles.Student, Roles.Instructor], me.Roles);
    }

    [Fact]
    public async Task An_invitation_works_once()
    {
        var made = await InviteAsync("once");
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
        await Refusals.RefusedAsync(
            HttpStatusCode.NotFound,
            () => Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), "another password"), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => Stranger.LinkAsync(TokenOf(made), Cancel));
        await SignInAsync("once", Chosen);
    }

    [Fact]
    public async Task Of_two_who_use_an_invitation_at_once_one_gets_in()
    {
        var made = await InviteAsync("race");
        var tries = await Task.WhenAll(
            Enumerable
                .Range(0, 6)
                .Select(async i =>
                {
                    try
                    {
                        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), $"password number {i}"), Cancel);
                        return 1;
                    }
                    catch (ApiProblemException e) when (e.Status == HttpStatusCode.NotFound)
                    {
                        return 0;
                    }
                })
        );
        Assert.Equal(1, tries.Sum());
    }

    [Fact]
    public async Task An_expired_a_replaced_and_a_withdrawn_invitation_open_nothing()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var expired = await InviteAsync("expired");
        await app.QueryAccountsAsync(db =>
            db.EntryLinks.Where(l => l.PersonId == expired.Person.Id)
                .ExecuteUpdateAsync(l => l.SetProperty(x => x.ExpiresAtUtc, DateTimeOffset.UnixEpoch), Cancel)
        );
        var replaced = await InviteAsync("replaced");
        var newer = await chief.InviteAgainAsync(replaced.Person.Id, Cancel);
        var withdrawn = await InviteAsync("withdrawn");
        await chief.WithdrawInvitationAsync(withdrawn.Person.Id, Cancel);
        foreach (var made in (PersonLink[])[expired, replaced, withdrawn])
        {
            await Refusals.RefusedAsync(
                HttpStatusCode.NotFound,
                () => Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel)
            );
        }

        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(newer), Chosen), Cancel);
        Assert.DoesNotContain(await chief.PeopleAsync(ct: Cancel), p => p.Id == withdrawn.Person.Id);
    }

    [Fact]
    public async Task The_secret_of_a_link_is_nowhere_in_the_database()
    {
        var made = await InviteAsync("hashed");
        Assert.Equal(0, await app.QueryAccountsAsync(db => db.EntryLinks.CountAsync(l => l.Hash == TokenOf(made), Cancel)));
        Assert.Equal(0, await app.QueryAsync(db => db.AuditEntries.CountAsync(e => e.Detail!.Contains(TokenOf(made)), Cancel)));
    }

    [Theory]
    [InlineData("", "a@tussockplains.example", "student")]
    [InlineData("A name", "no address", "student")]
    [InlineData("A name", "a b@tussockplains.example", "student")]
    [InlineData("A name", "c@tussockplains.example", "admiral")]
    [InlineData("A name", "d@tussockplains.example", null)]
    public async Task An_invitation_that_makes_no_sense_is_refused(string name, string email, string? role)
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.InviteAsync(new InvitePerson(name, email, role is null ? [] : [role]), Cancel)
        );
    }

    [Fact]
    public async Task An_address_is_invited_once_to_a_school_and_a_short_password_is_refused()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () =>
                chief.InviteAsync(
                    new InvitePerson("Twice", SchoolsFixture.EmailOf(SchoolsFixture.Student).ToUpperInvariant(), [Roles.Student]),
                    Cancel
                )
        );
        var made = await InviteAsync("short");
        await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), "short"), Cancel)
        );
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
    }

    [Fact]
    public async Task A_closed_account_ends_its_sessions_tokens_and_links_and_an_opened_one_signs_in_anew()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await InviteAsync("leaver", Roles.Instructor);
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
        var session = await SignInAsync("leaver", Chosen);
        var token = await session.CreateApiTokenAsync(new CreateApiToken("feed", "read", 30), Cancel);
        var reset = await chief.ResetLinkAsync(made.Person.Id, Cancel);

        await chief.DeactivateAsync(made.Person.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => session.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => With(token.Token).MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => Stranger.LinkAsync(TokenOf(reset), Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync("leaver", Chosen));

        await chief.ReactivateAsync(made.Person.Id, Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => session.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => With(token.Token).MeAsync(Cancel));
        await (await SignInAsync("leaver", Chosen)).MeAsync(Cancel);
    }

    [Fact]
    public async Task A_changed_role_counts_in_the_next_request_of_whoever_is_signed_in()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await InviteAsync("changing", Roles.Instructor);
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
        var session = await SignInAsync("changing", Chosen);
        await session.PeopleAsync(ct: Cancel);
        await chief.EditPersonAsync(made.Person.Id, new EditPerson("changing", [Roles.Student]), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => session.PeopleAsync(ct: Cancel));
        Assert.Equal([Roles.Student], (await session.MeAsync(Cancel)).Roles);
    }

    [Fact]
    public async Task The_last_chief_stays_chief()
    {
        var chief = await app.AsAsync(SchoolsFixture.FarChief);
        var id = app.IdOf(SchoolsFixture.FarChief);
        await Refusals.RefusedAsync(
            HttpStatusCode.Conflict,
            () => chief.EditPersonAsync(id, new EditPerson("The far-chief", [Roles.Instructor]), Cancel)
        );
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => chief.DeactivateAsync(id, Cancel));
        // Somebody invited who has not come yet is no chief to rely on.
        var invited = await chief.InviteAsync(new InvitePerson("Second chief", "second@elsewhere.example", [Roles.Chief]), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => chief.DeactivateAsync(id, Cancel));
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(invited), Chosen), Cancel);
        Assert.Equal(
            [Roles.Instructor],
            (await chief.EditPersonAsync(id, new EditPerson("The far-chief", [Roles.Instructor]), Cancel)).Roles
        );
        await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => chief.DeactivateAsync(invited.Person.Id, Cancel));
    }

    [Fact]
    public async Task A_reset_link_changes_the_password_and_ends_what_was_signed_in()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await InviteAsync("forgetful");
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(made), Chosen), Cancel);
        var session = await SignInAsync("forgetful", Chosen);
        var reset = await chief.ResetLinkAsync(made.Person.Id, Cancel);
        Assert.Equal("reset", (await Stranger.LinkAsync(TokenOf(reset), Cancel)).Kind);
        await session.MeAsync(Cancel);
        await Stranger.AcceptLinkAsync(new AcceptLink(TokenOf(reset), "a different one"), Cancel);
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => session.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => SignInAsync("forgetful", Chosen));
        await SignInAsync("forgetful", "a different one");
    }

    private async Task<PersonLink> InviteAsync(string name, params string[] roles) =>
        await (await app.AsAsync(SchoolsFixture.Chief)).InviteAsync(
            new InvitePerson(name, SchoolsFixture.EmailOf(name), roles.Length == 0 ? [Roles.Student] : roles),
            Cancel
        );

    private static string TokenOf(PersonLink link) => link.Path.Split("token=")[1];

    private async Task<SchoolDrillsClient> SignInAsync(string name, string password) =>
        With((await Stranger.SignInAsync(new SignIn(SchoolsFixture.EmailOf(name), password), Cancel)).AccessToken);

    private SchoolDrillsClient With(string token)
    {
        var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return new SchoolDrillsClient(http);
    }
}
