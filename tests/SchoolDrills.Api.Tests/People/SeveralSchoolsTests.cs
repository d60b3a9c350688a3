using System.Net;
using System.Net.Http.Headers;
using SchoolDrills.Contracts;
using Xunit;

namespace SchoolDrills.Api.Tests.People;

/// <summary>One address with an account at two schools.</summary>
public sealed class SeveralSchoolsTests(SchoolsFixture app) : IClassFixture<SchoolsFixture>
{
    private const string Password = "two fields, one pilot";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private SchoolDrillsClient Stranger => new(app.Stranger());

    [Fact]
    public async Task Whoever_has_one_password_at_both_is_asked_which_and_can_go_over()
    {
        await JoinAsync("both", SchoolsFixture.Chief, Password);
        await JoinAsync("both", SchoolsFixture.FarChief, Password, Roles.Instructor);
        var which = await Refusals.RefusedAsync(HttpStatusCode.Conflict, () => SignInAsync("both", Password));
        Assert.EndsWith("/which-school", which.Type, StringComparison.Ordinal);
        var here = await SignInAsync("both", Password, app.TussockId);
        Assert.Equal(
            ("Tussock Plains Flying School", Roles.Student),
            ((await here.MeAsync(Cancel)).School.Name, (await here.MeAsync(Cancel)).Roles[0])
        );
        Assert.Equal(
            [
                new SchoolChoice(app.TussockId, "Tussock Plains Flying School", true),
                new SchoolChoice(app.ElsewhereId, "Elsewhere Aero Club"),
            ],
            await here.MySchoolsAsync(Cancel)
        );

        var there = With((await here.SwitchSchoolAsync(new SwitchSchool(app.ElsewhereId), Cancel)).AccessToken);
        Assert.Equal(
            ("Elsewhere Aero Club", Roles.Instructor),
            ((await there.MeAsync(Cancel)).School.Name, (await there.MeAsync(Cancel)).Roles[0])
        );
        await Refusals.RefusedAsync(HttpStatusCode.Unauthorized, () => here.MeAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => there.SwitchSchoolAsync(new SwitchSchool(Guid.NewGuid()), Cancel));

        // An account closed meanwhile is no longer led to.
        var chief = await app.AsAsync(SchoolsFixture.Chief);
        await chief.DeactivateAsync((await chief.PeopleAsync(ct: Cancel)).Single(p => p.DisplayName == "both").Id, Cancel);
        Assert.Single(await there.MySchoolsAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => there.SwitchSchoolAsync(new SwitchSchool(app.TussockId), Cancel));
    }

    [Fact]
    public async Task An_account_made_in_somebodys_name_at_one_school_opens_nothing_at_the_other()
    {
        await JoinAsync("victim", SchoolsFixture.Chief, Password);
        // Another school's chief makes an account for the same address and takes the link himself.
        await JoinAsync("victim", SchoolsFixture.FarChief, "the far chief's own", Roles.Student);
        var intruder = await SignInAsync("victim", "the far chief's own");
        Assert.Equal(app.ElsewhereId, (await intruder.MeAsync(Cancel)).School.Id);
        Assert.Single(await intruder.MySchoolsAsync(Cancel));
        await Refusals.RefusedAsync(HttpStatusCode.NotFound, () => intruder.SwitchSchoolAsync(new SwitchSchool(app.TussockId), Cancel));
        Assert.Equal(app.TussockId, (await (await SignInAsync("victim", Password)).MeAsync(Cancel)).School.Id);
    }

    private async Task JoinAsync(string name, string chief, string password, params string[] roles)
    {
        var made = await (await app.AsAsync(chief)).InviteAsync(
            new InvitePerson(name, $"{name}@pilots.example", roles.Length == 0 ? [Roles.Student] : roles),
            Cancel
        );
        await Stranger.AcceptLinkAsync(new AcceptLink(made.Path.Split("token=")[1], password), Cancel);
    }

    private async Task<SchoolDrillsClient> SignInAsync(string name, string password, Guid? school = null) =>
        With((await Stranger.SignInAsync(new SignIn($"{name}@pilots.example", password, school), Cancel)).AccessToken);

    private SchoolDrillsClient With(string token)
    {
        var http = app.CreateClient();
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return new SchoolDrillsClient(http);
    }
}
