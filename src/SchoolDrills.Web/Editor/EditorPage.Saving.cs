using Microsoft.JSInterop;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

/// <summary>Saving as it is typed, and what a draft comes to: published, discarded, retired.</summary>
public partial class EditorPage
{
    private void Changed(string? said)
    {
        (state, failed) = (said ?? T["Saving…"], false);
        StateHasChanged();
        _ = SaveSoonAsync();
    }

    private async Task SaveSoonAsync()
    {
        await saving.ChangedAsync();
        await InvokeAsync(StateHasChanged);
    }

    private async Task SaveAsync()
    {
        if (draft is null)
            return;
        try
        {
            await draft.SaveAsync(Api, Words, Leaving);
            failed = draft.Conflict is not null;
            state =
                failed ? T["Not saved: decide below what stands."]
                : draft.Stored is { } stored ? T["Saved {0}", Me.Time.Clock(stored.SavedAtUtc)]
                : "";
            if (!failed)
                await TellKeeperAsync("settle");
        }
        catch (ApiProblemException refusal)
        {
            (state, failed) = (T["Not saved: {0}", Sentence(refusal)], true);
        }
        catch (HttpRequestException)
        {
            (state, failed) = (T["Not saved: the server is not responding. It is tried again with the next change."], true);
        }
        catch (OperationCanceledException)
        {
            // The person has gone elsewhere; what was typed last is saved on leaving.
        }
    }

    /// <summary>Saves what was typed last; false where that was refused.</summary>
    private async Task<bool> FlushAsync()
    {
        await saving.StopAsync();
        if (draft!.IsUnsaved)
            await SaveAsync();
        StateHasChanged();
        return !draft.IsUnsaved && draft.Conflict is null;
    }

    /// <summary>The page is left before the pause was over.</summary>
    private async Task KeepLastAsync(DraftSession last)
    {
        try
        {
            using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(5));
            await last.SaveAsync(Api, Words, patience.Token);
        }
        catch (Exception e) when (e is ApiProblemException or HttpRequestException or OperationCanceledException)
        {
            // There is nobody left to tell.
        }
    }

    /// <summary>The browser need no longer keep what the server has, or what the person has read.</summary>
    private async Task TellKeeperAsync(string what)
    {
        try
        {
            if (keeper is not null)
                await keeper.InvokeVoidAsync(what, Slug);
        }
        catch (JSDisconnectedException)
        {
            // The browser has gone; it keeps what it has until it comes back.
        }
    }

    private Task ForgetAsync()
    {
        unsent = [];
        return TellKeeperAsync("forget");
    }

    private async Task PublishAsync()
    {
        if (!await FlushAsync() || draft!.Stored is not { } stored)
            return;
        var changes = draft.Published is { } old ? TemplateDifferences.Between(old, draft.Now) : [];
        var what =
            draft.Published is null ? T["It is the drill's first version. "]
            : changes.Count == 0 ? T["It says the same as the version before. "]
            : string.Join(" ", changes.Take(6).Select(c => c.Sentence))
                + (changes.Count > 6 ? T[" And {0} more. ", changes.Count - 6] : " ");
        var sure = await Dialogs.ShowMessageBoxAsync(
            T["Publish this draft?"],
            what + T["Assignments and attempts that are there keep the version they were made with."],
            yesText: T["Publish"],
            cancelText: T["Go back"]
        );
        if (sure is not true || !await TryAsync(ct => Api.PublishDraftAsync(Slug, stored.Revision, ct)))
            return;
        Snackbar.Add(T["Published."]);
        Navigation.NavigateTo($"/drills/{Slug}");
    }

    private async Task DiscardAsync()
    {
        var sure = await Dialogs.ShowMessageBoxAsync(
            T["Discard this draft?"],
            draft!.Published is { } old
                ? T["Version {0} stays as it is. The draft can be read for 30 days under Earlier drafts.", old.Version]
                : T["The drill was never published, so it leaves the catalogue."],
            yesText: T["Discard"],
            cancelText: T["Keep it"]
        );
        if (sure is not true)
            return;
        await saving.StopAsync();
        if (!await TryAsync(ct => Api.DiscardDraftAsync(Slug, draft.Stored?.Revision, ct)))
            return;
        var published = draft.Published;
        if (published is not null)
            draft.Leave(published);
        (state, failed) = (T["Draft discarded."], false);
        if (published is null)
        {
            draft = null;
            Navigation.NavigateTo("/catalogue");
        }
    }

    private async Task RetireAsync()
    {
        var sure = await Dialogs.ShowMessageBoxAsync(
            T["Retire this drill?"],
            T["It can no longer be assigned. Assignments that are open and every attempt stay as they are."],
            yesText: T["Retire"],
            cancelText: T["Keep it"]
        );
        if (sure is not true || !await TryAsync(ct => Api.RetireDrillAsync(Slug, ct)))
            return;
        Snackbar.Add(T["Retired."]);
        Navigation.NavigateTo("/catalogue");
    }
}
