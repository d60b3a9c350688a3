using System.Net;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

public partial class EditorPage
{
    private static readonly TimeSpan SaveAfter = TimeSpan.FromSeconds(0.8);

    private static (string Name, string Label)[] Tabs =>
        [("about", T["About"]), ("rows", T["Segments"]), ("calls", T["Calls"]), ("seen", T["Drawing"])];

    private ElementReference root;
    private IJSObjectReference? module,
        keeper;
    private SegmentRows? rows;
    private DotNetObjectReference<EditorPage>? self;
    private DraftSession? draft;
    private Grades.DelayedSave saving = default!;
    private IReadOnlyList<ToleranceStandard> standards = [];
    private HashSet<string> offered = [];
    private string state = "",
        tab = "rows";
    private string? panel;
    private KeptText[] unsent = [];
    private bool failed,
        isPublished,
        watched;

    /// <summary>What was typed into a field and did not get to the server.</summary>
    /// <param name="Label">The field.</param>
    private sealed record KeptText(string Label, string Text);

    [Parameter]
    public string Slug { get; set; } = "";

    private SchoolWords Words => new(Me.Time);

    private string Standing =>
        draft switch
        {
            { Stored: { BasedOnVersion: > 0 and var version } } => T["draft, from version {0}", version],
            { Stored: not null } => T["draft | in a sentence"],
            { Published: { Version: var version } } => T["version {0}, no draft yet", version],
            _ => T["draft | in a sentence"],
        };

    private IEnumerable<(string Name, string Label)> Panels =>
        draft?.Published is null
            ? [("trial", T["Try"]), ("earlier", T["Earlier drafts"]), ("file", T["File"])]
            : [("compare", T["Compare"]), ("trial", T["Try"]), ("earlier", T["Earlier drafts"]), ("file", T["File"])];

    private List<string> Open => [.. draft!.Preview.Problems.Select(p => p.Sentence).Select(EditorWords.Listed).Distinct()];

    private bool CanPublish => draft is { Conflict: null, Preview.Problems.Count: 0 } && (draft.Stored is not null || draft.IsUnsaved);

    protected override void OnInitialized() => saving = new Grades.DelayedSave(SaveAfter, SaveAsync);

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
            keeper = await Js.InvokeAsync<IJSObjectReference>("import", "./js/editor-keep.js");
            unsent = await keeper.InvokeAsync<KeptText[]?>("keep", root, Slug) ?? [];
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

            if (keeper is not null)
            {
                await keeper.InvokeVoidAsync("stop");
                await keeper.DisposeAsync();
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
                return Take(SegmentEdits.AddAfter(draft.Now, path, new Segment()), T["adding a segment"]);
            case "repeat":
                var repeated = SegmentEdits.Repeat(draft.Now, paths, 2);
                if (repeated.Path is not null)
                    return Take(repeated, "repeating");
                await SayAsync(T["Only segments that stand in one list can be repeated together."]);
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
        draft is null ? null : Take(SegmentEdits.Move(draft.Now, path, target, behind), T["moving segment {0}", SegmentPath.Number(path)]);

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

    private Task SettleAsync()
    {
        if (draft!.Settle())
            Changed(null);
        return Task.CompletedTask;
    }

    private Task TakeBackAsync(DrillDraft earlier)
    {
        panel = null;
        return ChangeAsync(new(earlier.Template with { Slug = Slug, Version = 0 }, T["taking back draft {0}", earlier.Revision]));
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

            var (all, choice) = (Api.StandardsAsync(ct), Api.OfferedStandardsAsync(ct));
            (standards, offered) = (await all, [.. (await choice).Select(s => s.Slug)]);
            draft = new DraftSession(published ?? stored!.Template with { Version = 0 }, stored);
            state = stored is null ? "" : T["Saved {0} by {1}", Words.When(stored.SavedAtUtc), Words.Who(stored.SavedBy)];
            if (published is null && stored is { Template.Segments.Count: 0, Template.Purpose: "" })
                tab = "about";
        });
}
