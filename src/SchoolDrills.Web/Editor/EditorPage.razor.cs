using System.Net;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using MudBlazor;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using SchoolDrills.Web.Grades;

namespace SchoolDrills.Web.Editor;

public partial class EditorPage
{
    private static readonly TimeSpan SaveAfter = TimeSpan.FromSeconds(0.8);

    private static readonly (string Name, string Label)[] Tabs =
    [
        ("about", "About"),
        ("rows", "Segments"),
        ("calls", "Calls"),
        ("seen", "Drawing"),
    ];

    private ElementReference root;
    private IJSObjectReference? module;
    private SegmentRows? rows;
    private DotNetObjectReference<EditorPage>? self;
    private DraftSession? draft;
    private DelayedSave saving = default!;
    private IReadOnlyList<ToleranceStandard> standards = [];
    private string state = "",
        tab = "rows";
    private string? panel;
    private bool failed,
        isPublished,
        watched;

    [Parameter]
    public string Slug { get; set; } = "";

    private SchoolWords Words => new(Me.Time);

    private string Standing =>
        draft switch
        {
            { Stored: { BasedOnVersion: > 0 and var version } } => $"draft, from version {version}",
            { Stored: not null } => "draft",
            { Published: { Version: var version } } => $"version {version}, no draft yet",
            _ => "draft",
        };

    private IEnumerable<(string Name, string Label)> Panels =>
        draft?.Published is null
            ? [("trial", "Try"), ("earlier", "Earlier drafts"), ("file", "File")]
            : [("compare", "Compare"), ("trial", "Try"), ("earlier", "Earlier drafts"), ("file", "File")];

    private List<string> Open => [.. draft!.Preview.Problems.Select(p => p.Sentence).Select(EditorWords.Listed).Distinct()];

    private bool CanPublish => draft is { Conflict: null, Preview.Problems.Count: 0 } && (draft.Stored is not null || draft.IsUnsaved);

    protected override void OnInitialized() => saving = new DelayedSave(SaveAfter, SaveAsync);

    // Only once the page is live: what is typed before would be lost.
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender)
        {
            await LoadAsync();
            StateHasChanged();
        }
        else if (draft is not null && !watched)
        {
            watched = true;
            self = DotNetObjectReference.Create(this);
            module = await Js.InvokeAsync<IJSObjectReference>("import", "./js/editor.js");
            await module.InvokeVoidAsync("watch", root, self);
            // A new drill begins with what it is for.
            if (draft.Now is { Segments.Count: 0, Purpose: "" })
                await module.InvokeVoidAsync("focusOn", "#purpose");
            StateHasChanged();
        }
    }

    public async ValueTask DisposeAsync()
    {
        saving.Dispose();
        if (draft is { IsUnsaved: true, Conflict: null })
            await KeepLastAsync(draft);
        try
        {
            if (module is not null)
            {
                await module.InvokeVoidAsync("unwatch");
                await module.DisposeAsync();
            }
        }
        catch (JSDisconnectedException)
        {
            // The browser has gone, and its module with it.
        }

        self?.Dispose();
        Dispose();
        GC.SuppressFinalize(this);
    }

    /// <summary>A command of the toolbar or a key, for rows by their paths; answers with the row to go on in.</summary>
    [JSInvokable]
    public async Task<string?> DoAsync(string what, string[] paths)
    {
        if (draft is null)
            return null;
        var path = paths.Length > 0 ? paths[^1] : null;
        switch (what)
        {
            case "undo" or "redo":
                var (before, done) = (draft.Now, what == "undo" ? draft.CanUndo : draft.CanRedo);
                if (what == "undo")
                    draft.Undo();
                else
                    draft.Redo();
                if (!ReferenceEquals(before, draft.Now))
                    Changed($"{(what == "undo" ? "Undone" : "Redone")}: {done}.");
                return path;
            case "add":
                return Take(SegmentEdits.AddAfter(draft.Now, path, new Segment()), "adding a segment");
            case "repeat":
                var repeated = SegmentEdits.Repeat(draft.Now, paths, 2);
                if (repeated.Path is not null)
                    return Take(repeated, "repeating");
                await SayAsync("Only segments that stand in one list can be repeated together.");
                return path;
            default:
                return path is null ? null : Take(EditorWords.Edit(draft.Now, what, paths), EditorWords.Named(what, paths));
        }
    }

    /// <summary>A line was typed below the rows; answers with what is wrong with it.</summary>
    [JSInvokable]
    public Task<string?> AddLineAsync(string text) => rows?.AddLineAsync(text) ?? Task.FromResult<string?>(null);

    /// <summary>A row was dragged beside another.</summary>
    [JSInvokable]
    public string? Drop(string path, string target, bool behind) =>
        draft is null ? null : Take(SegmentEdits.Move(draft.Now, path, target, behind), $"moving segment {SegmentPath.Number(path)}");

    private string? Take(SegmentEdit edit, string what)
    {
        if (!ReferenceEquals(edit.Template, draft!.Now))
        {
            draft.Change(edit.Template, what);
            Changed(null);
        }

        return edit.Path;
    }

    private Task ChangeAsync(DraftChange change)
    {
        draft!.Change(change.Template, change.What, change.Typing);
        Changed(null);
        return Task.CompletedTask;
    }

    private async Task SayAsync(string sentence)
    {
        state = sentence;
        await InvokeAsync(StateHasChanged);
    }

    private void Changed(string? said)
    {
        (state, failed) = (said ?? "Saving…", false);
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
                failed ? "Not saved: decide below what stands."
                : draft.Stored is { } stored ? $"Saved {Me.Time.Clock(stored.SavedAtUtc)}"
                : "";
        }
        catch (ApiProblemException refusal)
        {
            (state, failed) = ($"Not saved: {Sentence(refusal)}", true);
        }
        catch (HttpRequestException)
        {
            (state, failed) = ("Not saved: the server does not answer just now. It is tried again with the next change.", true);
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

    private Task SettleAsync()
    {
        if (draft!.Settle())
            Changed(null);
        return Task.CompletedTask;
    }

    private Task TakeBackAsync(DrillDraft earlier)
    {
        panel = null;
        return ChangeAsync(new(earlier.Template with { Slug = Slug, Version = 0 }, $"taking back draft {earlier.Revision}"));
    }

    private Task<bool> LoadAsync() =>
        TryAsync(async ct =>
        {
            var found = (await Api.DrillsAsync(ct)).Where(d => d.Slug == Slug && d.State != "draft").MaxBy(d => d.Version);
            isPublished = found?.State == "published";
            var published = found is null ? null : await Api.DrillAsync(Slug, found.Version, ct);
            DrillDraft? stored = null;
            try
            {
                stored = await Api.DraftAsync(Slug, ct);
            }
            catch (ApiProblemException none) when (none.Status == HttpStatusCode.NotFound && published is not null)
            {
                // A published drill without a draft: the first change begins one.
            }

            standards = await Api.StandardsAsync(ct);
            draft = new DraftSession(published ?? stored!.Template with { Version = 0 }, stored);
            state = stored is null ? "" : $"Saved {Words.When(stored.SavedAtUtc)} by {Words.Who(stored.SavedBy)}";
            if (published is null && stored is { Template.Segments.Count: 0, Template.Purpose: "" })
                tab = "about";
        });

    private async Task PublishAsync()
    {
        if (!await FlushAsync() || draft!.Stored is not { } stored)
            return;
        var changes = draft.Published is { } old ? TemplateDifferences.Between(old, draft.Now) : [];
        var what =
            draft.Published is null ? "It is the drill's first version. "
            : changes.Count == 0 ? "It says the same as the version before. "
            : string.Join(" ", changes.Take(6).Select(c => c.Sentence)) + (changes.Count > 6 ? $" And {changes.Count - 6} more. " : " ");
        var sure = await Dialogs.ShowMessageBoxAsync(
            "Publish this draft?",
            what + "Assignments and attempts that are there keep the version they were made with.",
            yesText: "Publish",
            cancelText: "Not yet"
        );
        if (sure is not true || !await TryAsync(ct => Api.PublishDraftAsync(Slug, stored.Revision, ct)))
            return;
        Snackbar.Add("Published.");
        Navigation.NavigateTo($"/drills/{Slug}");
    }

    private async Task DiscardAsync()
    {
        var sure = await Dialogs.ShowMessageBoxAsync(
            "Discard this draft?",
            draft!.Published is { } old
                ? $"Version {old.Version} stays as it is. The draft can be read for 30 days under Earlier drafts."
                : "The drill was never published, so it leaves the catalogue.",
            yesText: "Discard",
            cancelText: "Keep it"
        );
        if (sure is not true)
            return;
        await saving.StopAsync();
        if (!await TryAsync(ct => Api.DiscardDraftAsync(Slug, draft.Stored?.Revision, ct)))
            return;
        var published = draft.Published;
        if (published is not null)
            draft.Leave(published);
        (state, failed) = ("Draft discarded.", false);
        if (published is null)
        {
            draft = null;
            Navigation.NavigateTo("/catalogue");
        }
    }

    private async Task RetireAsync()
    {
        var sure = await Dialogs.ShowMessageBoxAsync(
            "Retire this drill?",
            "It can no longer be assigned. Assignments that are open and every attempt stay as they are.",
            yesText: "Retire",
            cancelText: "Keep it"
        );
        if (sure is not true || !await TryAsync(ct => Api.RetireDrillAsync(Slug, ct)))
            return;
        Snackbar.Add("Retired.");
        Navigation.NavigateTo("/catalogue");
    }
}
