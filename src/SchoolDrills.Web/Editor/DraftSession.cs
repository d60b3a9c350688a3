using System.Net;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

/// <summary>Two drafts that cannot be put together without a person: the other one, and the side chosen for each part so far.</summary>
public sealed record DraftConflict(DrillDraft Theirs, IReadOnlyList<MergeConflict> Parts, Dictionary<string, MergeSide> Chosen);

/// <summary>
/// One person's work on a drill's draft: its states, its preview, and the revision on the server that it goes on from. Where somebody else
/// saved meanwhile both are put together, and nothing is saved before that is done.
/// </summary>
public sealed class DraftSession
{
    private DraftHistory history;
    private DrillTemplate saved;
    private int revision;

    /// <summary>Begins with a draft that is stored, or with a published drill that has none.</summary>
    public DraftSession(DrillTemplate published, DrillDraft? draft)
    {
        saved = draft?.Template ?? published with { Version = 0 };
        revision = draft?.Revision ?? 0;
        history = new DraftHistory(saved);
        Preview = DraftPreview.Of(saved);
        Published = published.Version > 0 ? published : null;
        Stored = draft;
    }

    public DrillTemplate Now => history.Now;

    public DraftPreview Preview { get; private set; }

    /// <summary>The newest published version; null where there is none.</summary>
    public DrillTemplate? Published { get; private set; }

    /// <summary>The draft as the server last told it; null where there is none.</summary>
    public DrillDraft? Stored { get; private set; }

    public string? CanUndo => history.CanUndo;

    public string? CanRedo => history.CanRedo;

    /// <summary>True while there is something that the server does not have.</summary>
    public bool IsUnsaved => !ReferenceEquals(Now, saved);

    public DraftConflict? Conflict { get; private set; }

    /// <summary>What somebody else saved meanwhile, in sentences; null where nobody did.</summary>
    public string? News { get; private set; }

    public void Change(DrillTemplate template, string what, string? typing = null) => Go(history.Changed(template, what, typing));

    public void Undo() => Go(history.Undo());

    public void Redo() => Go(history.Redo());

    public void DropNews() => News = null;

    /// <summary>Saves what is there, and again where somebody else's changes were put together with it.</summary>
    public async Task SaveAsync(SchoolDrillsClient api, SchoolWords words, CancellationToken ct)
    {
        while (IsUnsaved && Conflict is null)
        {
            var sent = Now;
            try
            {
                Keep(await api.SaveDraftAsync(sent.Slug, sent, revision, ct), sent);
                return;
            }
            catch (ApiProblemException refusal) when (refusal.Status == HttpStatusCode.PreconditionFailed)
            {
                await MeetAsync(api, words, ct);
            }
        }
    }

    /// <summary>Takes the sides chosen; false where parts are left that were changed by both since.</summary>
    public bool Settle()
    {
        var (theirs, _, chosen) = Conflict!;
        var merge = TemplateMerge.Of(saved, Now, theirs.Template, chosen);
        var open = merge.Conflicts.Where(c => !chosen.ContainsKey(c.Path)).ToList();
        Conflict = open.Count == 0 ? null : Conflict with { Parts = merge.Conflicts };
        if (open.Count == 0)
            Join(theirs, merge.Template);
        return open.Count == 0;
    }

    /// <summary>The draft is gone from the server: published as this version, or discarded and again as published.</summary>
    public void Leave(DrillTemplate published)
    {
        (saved, revision, Stored, Conflict, News) = (published with { Version = 0 }, 0, null, null, null);
        Published = published.Version > 0 ? published : null;
        Go(new DraftHistory(saved));
    }

    private async Task MeetAsync(SchoolDrillsClient api, SchoolWords words, CancellationToken ct)
    {
        DrillDraft theirs;
        try
        {
            theirs = await api.DraftAsync(Now.Slug, ct);
        }
        catch (ApiProblemException gone) when (gone.Status == HttpStatusCode.NotFound && revision > 0)
        {
            revision = 0;
            News = T["The draft was published or discarded meanwhile by somebody else. What you write is kept as a new draft."];
            return;
        }

        var merge = TemplateMerge.Of(saved, Now, theirs.Template);
        var changes = TemplateDifferences.Between(saved, theirs.Template);
        News =
            T["{0} saved this draft {1}. ", words.Who(theirs.SavedBy), words.When(theirs.SavedAtUtc)]
            + string.Join(" ", changes.Take(4).Select(c => c.Sentence))
            + (changes.Count > 4 ? T[" And {0} more.", changes.Count - 4] : "");
        if (merge.Conflicts.Count > 0)
        {
            Conflict = new DraftConflict(theirs, merge.Conflicts, []);
            return;
        }

        News += T[" Both drafts are put together."];
        Join(theirs, merge.Template);
    }

    private void Join(DrillDraft theirs, DrillTemplate merged)
    {
        (saved, revision, Stored) = (theirs.Template, theirs.Revision, theirs);
        Change(merged, T["putting together with {0}", theirs.SavedBy]);
    }

    private void Keep(DrillDraft stored, DrillTemplate sent) => (saved, revision, Stored) = (sent, stored.Revision, stored);

    private void Go(DraftHistory next)
    {
        if (ReferenceEquals(next.Now, Now))
        {
            history = next;
            return;
        }

        history = next;
        Preview = DraftPreview.Of(Now);
    }
}
