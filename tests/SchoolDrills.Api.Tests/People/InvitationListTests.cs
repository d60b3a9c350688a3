using System.Net;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>Many people invited at once: all of them or none.</summary>
public sealed class InvitationListTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Four_hundred_people_are_invited_in_one_request_and_each_link_opens_its_own_account()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var made = await chief.InviteAllAsync(Of(400, "many"), Cancel);
        Assert.Equal(400, made.Select(m => m.Path).Distinct().Count());
        Assert.All(made, m => Assert.Equal(("invited", false), (m.Person.State, m.Mailed)));
        Assert.Equal(Enumerable.Range(0, 400).Select(i => $"many {i}"), made.Select(m => m.Person.DisplayName));
        var ids = made.Select(m => m.Person.Id).ToList();
        Assert.Equal(
            400,
            await app.QueryAsync(db => db.AuditEntries.CountAsync(e => e.Action == "person-invited" && ids.Contains(e.SubjectId), Cancel))
        );

        var stranger = new SchoolDrillsClient(app.Stranger());
        await stranger.AcceptLinkAsync(new AcceptLink(made[399].Path.Split("token=")[1], "cross-check twice"), Cancel);
        var session = await stranger.SignInAsync(new SignIn(made[399].Person.Email, "cross-check twice"), Cancel);
        Assert.NotEmpty(session.AccessToken);
    }

    [Fact]
    public async Task One_bad_row_keeps_everybody_out_and_every_bad_row_is_named()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        var list = Of(6, "mixed").People.ToList();
        list[1] = list[1] with { Email = SchoolsFixture.EmailOf(SchoolsFixture.Student).ToUpperInvariant() };
        list[2] = list[2] with { Email = list[0].Email };
        list[3] = list[3] with { Roles = ["admiral"] };
        list[4] = list[4] with { DisplayName = "\u202E" };
        var refused = await Refusals.RefusedAsync(
            HttpStatusCode.UnprocessableEntity,
            () => chief.InviteAllAsync(new InvitePeople(list), Cancel)
        );
        Assert.Equal(["people[1]", "people[2]", "people[3]", "people[4]"], refused.Errors.Keys.Order(StringComparer.Ordinal));
        Assert.Contains("4 rows", refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(await chief.PeopleAsync(ct: Cancel), p => p.DisplayName.StartsWith("mixed", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_list_of_nobody_and_one_of_more_than_five_hundred_are_refused()
    {
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.InviteAllAsync(new InvitePeople([]), Cancel));
        var refused = await Refusals.RefusedAsync(HttpStatusCode.UnprocessableEntity, () => chief.InviteAllAsync(Of(501, "crowd"), Cancel));
        Assert.Contains("501", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_is_no_chief_invites_nobody_and_a_chief_only_to_the_own_school()
    {
        foreach (var person in (string[])[SchoolsFixture.Instructor, SchoolsFixture.Student])
        {
            var client = await app.AsAsync(person);
            await Refusals.RefusedAsync(HttpStatusCode.Forbidden, () => client.InviteAllAsync(Of(1, $"by {person}"), Cancel));
        }

        // The same address may have accounts at two schools.
        var far = await app.AsAsync(SchoolsFixture.FarChief);
        var email = SchoolsFixture.EmailOf(SchoolsFixture.Student);
        var made = await far.InviteAllAsync(new InvitePeople([new InvitePerson("Elsewhere too", email, [Roles.Student])]), Cancel);
        Assert.DoesNotContain(await (await app.AsAsync(SchoolsFixture.Chief)).PeopleAsync(ct: Cancel), p => p.Id == made[0].Person.Id);
    }

    [Fact]
    public async Task Of_two_chiefs_who_send_lists_that_overlap_at_once_one_succeeds_and_nothing_is_half_stored()
    {
        var second = await app.NewcomerAsync("second-chief", Roles.Chief);
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        for (var round = 0; round < 5; round++)
        {
            var shared = new InvitePerson("Shared", SchoolsFixture.EmailOf($"shared-{round}"), [Roles.Student]);
            InvitePeople[] lists = [new([.. Of(30, $"left-{round}").People, shared]), new([shared, .. Of(30, $"right-{round}").People])];
            var done = await Task.WhenAll(TryAsync(chief, lists[0]), TryAsync(second, lists[1]));
            Assert.Equal(1, done.Count(d => d));
            var names = (await chief.PeopleAsync(ct: Cancel)).Select(p => p.DisplayName).ToList();
            Assert.Equal(done[0] ? 30 : 0, names.Count(n => n.StartsWith($"left-{round} ", StringComparison.Ordinal)));
            Assert.Equal(done[1] ? 30 : 0, names.Count(n => n.StartsWith($"right-{round} ", StringComparison.Ordinal)));
        }

        static async Task<bool> TryAsync(SchoolDrillsClient client, InvitePeople list)
        {
            try
            {
                await client.InviteAllAsync(list, Cancel);
                return true;
            }
            catch (ApiProblemException e) when (e.Status == HttpStatusCode.UnprocessableEntity)
            {
                Assert.Contains("already", Assert.Single(Assert.Single(e.Errors).Value), StringComparison.Ordinal);
                return false;
            }
        }
    }

    private static InvitePeople Of(int count, string name) =>
        new([
            .. Enumerable
                .Range(0, count)
                .Select(i => new InvitePerson($"{name} {i}", SchoolsFixture.EmailOf($"{name}-{i}".Replace(' ', '-')), [Roles.Student])),
        ]);
}
