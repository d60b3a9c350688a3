using Microsoft.AspNetCore.Components;
using SchoolDrills.Contracts;

namespace SchoolDrills.Web.Schools;

/// <summary>The chief chooses what is rescored, follows it, and sees what changed.</summary>
public sealed partial class RescoringPage
{
    private static readonly TimeSpan PollEvery = TimeSpan.FromSeconds(3);

    private string engine = "",
        drill = "",
        student = "";

    private DateOnly? from,
        to;

    private bool asking;
    private int page = 1;
    private Task? polling;

    public sealed record Page(
        RescoringStanding Standing,
        RescoredPage Changes,
        IReadOnlyList<DrillSummary> Drills,
        IReadOnlyList<PersonSummary> Students
    );

    [PersistentState]
    public Page? Loaded { get; set; }

    private RescoringProgress? Run => Loaded?.Standing.Newest;

    private int Chosen => Loaded!.Standing.WouldChoose;

    private RescoringChoice Choice =>
        new(engine.Length == 0 ? null : engine, drill.Length == 0 ? null : drill, Guid.TryParse(student, out var id) ? id : null, from, to);

    protected override async Task OnInitializedAsync()
    {
        if (Loaded is null)
            await LoadAsync();
    }

    protected override void OnAfterRender(bool firstRender)
    {
        if (Run is { EndedAtUtc: null } && (polling is null || polling.IsCompleted))
            polling = PollAsync();
    }

    private Task<bool> LoadAsync() =>
        TryAsync(async ct =>
        {
            var standing = Api.RescoringAsync(Choice, ct);
            var changes = Api.RescoredAsync(page, ct);
            var drills = Api.DrillsAsync(ct);
            var students = Api.PeopleAsync(Roles.Student, ct);
            Loaded = new Page(
                await standing,
                await changes,
                [.. (await drills).OrderBy(d => d.Title, StringComparer.Ordinal)],
                [.. (await students).OrderBy(s => s.DisplayName, StringComparer.Ordinal)]
            );
        });

    private Task<bool> LookAsync() =>
        TryAsync(async ct =>
        {
            var standing = Api.RescoringAsync(Choice, ct);
            var changes = Api.RescoredAsync(page, ct);
            Loaded = Loaded! with { Standing = await standing, Changes = await changes };
        });

    private async Task CountAsync()
    {
        asking = false;
        await LookAsync();
    }

    private async Task TurnAsync(int shown)
    {
        page = shown;
        await LookAsync();
    }

    private async Task StartAsync()
    {
        asking = false;
        page = 1;
        if (
            await TryAsync(async ct =>
                Loaded = Loaded! with { Standing = await Api.RescoreAsync(Choice, ct), Changes = new RescoredPage([], 1, 25, 0) }
            )
        )
        {
            return;
        }

        // Another chief was faster, or there is nothing left: the refusal stays beside how it stands now.
        var refusal = Problem;
        await LookAsync();
        Problem = refusal;
    }

    private Task<bool> StopAsync() => TryAsync(async ct => Loaded = Loaded! with { Standing = await Api.StopRescoringAsync(ct) });

    private async Task PollAsync()
    {
        using var timer = new PeriodicTimer(PollEvery);
        try
        {
            while (Run is { EndedAtUtc: null } && await timer.WaitForNextTickAsync(Leaving))
            {
                // A missed answer is made good by the next; the page keeps what it has.
                if (!await LookAsync())
                    Problem = null;
                StateHasChanged();
            }
        }
        catch (OperationCanceledException)
        {
            // The person has gone elsewhere.
        }
    }

    private string Ending(RescoringProgress run) =>
        (run.EndedAtUtc, run.StoppedBy) switch
        {
            (null, _) => "",
            ({ } at, null) => T[", ended {0}", Me.Time.DayAndClock(at)],
            ({ } at, { } who) => T[", stopped {0} by {1}", Me.Time.DayAndClock(at), who],
        };
}
