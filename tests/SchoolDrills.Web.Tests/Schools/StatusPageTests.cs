using System.Net;
using Bunit;
using SchoolDrills.Contracts;
using SchoolDrills.Web.Layout;
using SchoolDrills.Web.Schools;

namespace SchoolDrills.Web.Tests.Schools;

public sealed class StatusPageTests : PageTest
{
    private static readonly SchoolStatus Well = new(
        SampleSchool.Now,
        SampleSchool.Now.AddDays(-2),
        [],
        new WaitingToBeScored(0, 0),
        new WorkersSeen(2, SampleSchool.Now),
        new StorageUsed(3_400_000, 54_000_000_000, 270_000_000_000),
        new RunningVersions("1.0.0", "1.6.0", "20261128144630_Rescoring", "17.6"),
        new BackupMade(SampleSchool.Now.AddHours(-5), 81_000_000),
        new LastScored(SampleSchool.AttemptId, SampleSchool.Now.AddMinutes(-20), 4)
    );

    [Fact]
    public void Where_nothing_is_amiss_it_says_so_and_tells_what_it_knows()
    {
        var page = Open<StatusPage>(SchoolApi.For(Roles.Chief).Answer("school/status", Well), Roles.Chief);
        Assert.Contains("All is well.", page.Find(".head p").TextContent, StringComparison.Ordinal);
        Assert.Empty(page.FindAll(".trouble"));
        Assert.Contains("it took 4 seconds from upload to score.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("2 workers are ready.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("5 hours ago: 81.0 MB.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Your school's recordings take 3.4 MB.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("54.0 GB of 270.0 GB", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_amiss_is_told_with_what_to_do_and_what_is_not_known_is_not_guessed()
    {
        var stuck = Well with
        {
            Troubles = [StatusTrouble.NoWorker, StatusTrouble.ScoringStandsStill, StatusTrouble.NoBackupKnown],
            Waiting = new WaitingToBeScored(1, 3, SampleSchool.Now.AddMinutes(-12)),
            Workers = new WorkersSeen(0),
            Storage = new StorageUsed(0),
            Backup = null,
            LastScored = null,
        };
        var page = Open<StatusPage>(SchoolApi.For(Roles.Chief).Answer("school/status", stuck), Roles.Chief);
        Assert.Contains("3 things need attention.", page.Find(".head p").TextContent, StringComparison.Ordinal);
        Assert.Equal(
            [
                "No worker is running, so nothing is scored. Ask whoever runs the server to start one.",
                "A recording has waited 12 minutes for its score. Ask whoever runs the server to look at its log.",
                "No backup is known. Ask whoever runs the server whether there is one, and where it is kept.",
            ],
            page.FindAll(".trouble").Select(t => t.TextContent.Trim())
        );
        Assert.Contains(
            "1 recording waits of your school to be scored, 3 on this server; the oldest for 12 minutes.",
            page.Markup,
            StringComparison.Ordinal
        );
        Assert.Contains("No backup known.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("disk: not known.", page.Markup, StringComparison.Ordinal);
        Assert.Contains("Your school keeps no recordings yet.", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_fault_of_the_server_has_a_number_to_quote_and_a_refusal_has_none()
    {
        const string Number = "4bf92f3577b34da6a3ce929d0e0e4736";
        Assert.Equal(
            $"It broke. If you report this, quote {Number}.",
            ApiPage.Sentence(new ApiProblemException(HttpStatusCode.InternalServerError, null, null, "It broke.", null, number: Number))
        );
        Assert.Equal(
            "Not so.",
            ApiPage.Sentence(new ApiProblemException(HttpStatusCode.UnprocessableEntity, "x", null, "Not so.", null, number: Number))
        );
    }
}
