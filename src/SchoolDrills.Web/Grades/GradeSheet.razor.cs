using System.Net;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Grades;

public partial class GradeSheet
{
    private static readonly TimeSpan SaveAfter = TimeSpan.FromSeconds(0.8);
    private static readonly TimeSpan PollEvery = TimeSpan.FromSeconds(4);

    private ElementReference sheet;
    private IJSObjectReference? module;
    private GradeDraft draft = new(null);
    private DelayedSave saving = default!;
    private string status = "",
        reason = "";
    private bool conflict;
    private int? shown;
    private string? note;

    /// <summary>How the sheet was left.</summary>
    /// <param name="Grade">As it now stands.</param>
    /// <param name="Done">What was done, where it was done here.</param>
    /// <param name="Unsaved">What was written here and did not get into it, because someone else signed.</param>
    /// <param name="GoesOn">The next attempt is to be graded.</param>
    public sealed record Outcome(GradeView? Grade, string? Done, GradeDraft? Unsaved, bool GoesOn = false);

    [Parameter, EditorRequired]
    public AttemptDetail Attempt { get; set; } = default!;

    [Parameter]
    public bool Amends { get; set; }

    /// <summary>What was written and not saved before this sheet was opened.</summary>
    [Parameter]
    public GradeDraft? Unsaved { get; set; }

    /// <summary>Index of the segment chosen on the debrief.</summary>
    [Parameter]
    public int? Selected { get; set; }

    /// <summary>The hand has gone to another segment's row.</summary>
    [Parameter]
    public EventCallback<int?> SelectedChanged { get; set; }

    /// <summary>It is signed, here or by someone else meanwhile.</summary>
    [Parameter]
    public EventCallback<Outcome> OnSigned { get; set; }

    [Parameter]
    public EventCallback OnLeave { get; set; }

    private ScoreReport Report => Attempt.Score!;

    private GradingSettings Grading => Me.Me.School.Grading;

    private bool CannotSign => Busy || draft.Whole.Grade.Length == 0;

    private string Progress => T["{0} of {1} graded", Report.Segments.Count - draft.Ungraded(Report.Segments.Count), Report.Segments.Count];

    private string FirstName => Attempt.StudentName.Split(' ')[0];

    protected override void OnInitialized()
    {
        saving = new DelayedSave(SaveAfter, SaveAsync);
        draft = Unsaved ?? new GradeDraft(Attempt.Grade);
        if (Amends || Attempt.Grade is not { } kept)
            return;
        status = T["Draft of {0}, saved {1}", kept.InstructorName, Me.Time.DayAndClock(kept.SavedAtUtc)];
        if (kept.InstructorId != Me.Id)
            note = WrittenWith(kept);
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!firstRender)
        {
            await ShowChosenAsync();
            return;
        }

        module = await Js.InvokeAsync<IJSObjectReference>("import", "./js/grading.js");
        var kept = await module.InvokeAsync<GradeRow[]?>("watch", sheet, Attempt.AttemptId, Grading.QuickPhrases, !Amends);
        if (Amends)
            return;
        if (kept is { Length: > 0 })
        {
            draft.Recover(kept);
            StateHasChanged();
            if (draft.IsUnsaved)
            {
                await ChangeAsync(() => { });
                StateHasChanged();
            }
        }

        _ = PollAsync();
    }

    public async ValueTask DisposeAsync()
    {
        saving.Dispose();
        try
        {
            if (module is not null)
            {
                await module.InvokeVoidAsync("unwatch", sheet);
                await module.DisposeAsync();
            }
        }
        catch (JSDisconnectedException)
        {
            // The browser has gone, and its module with it.
        }

        Dispose();
        GC.SuppressFinalize(this);
    }

    protected override void OnRefused(ApiProblemException refusal) => conflict = refusal.Status == HttpStatusCode.Conflict;

    private async Task ChangeAsync(Action change)
    {
        change();
        if (Amends)
            return;
        status = T["Saving…"];
        await saving.ChangedAsync();
    }

    private async Task SaveAsync()
    {
        GradeView kept;
        var sent = draft.Content;
        try
        {
            kept = await Api.SaveGradeAsync(Attempt.AttemptId, draft.ToSave(sign: false), Leaving);
        }
        catch (ApiProblemException refusal) when (refusal.Status == HttpStatusCode.Conflict)
        {
            if (await MergeAsync())
                await SaveAsync();
            return;
        }
        catch (ApiProblemException refusal)
        {
            status = T["Not saved: {0}", Sentence(refusal)];
            return;
        }
        catch (HttpRequestException)
        {
            status = T["Not saved: the server is not responding. What you write is kept in this browser."];
            return;
        }
        catch (OperationCanceledException)
        {
            // The person has gone elsewhere; what was typed last is kept by the page.
            return;
        }

        draft.Saved(kept, sent);
        status = T["Draft saved {0}", Me.Time.Clock(kept.SavedAtUtc)];
        await SettleAsync(sent);
    }

    /// <summary>Somebody else saved meanwhile: both are merged. False where it was signed, and there is no draft to go on with.</summary>
    private async Task<bool> MergeAsync()
    {
        GradeView? theirs = null;
        if (!await TryAsync(async ct => theirs = (await Api.GradeAsync(Attempt.AttemptId, ct)).Grade))
            return false;
        if (theirs is { SignedAtUtc: not null })
        {
            await SettleAsync(draft.Content);
            await OnSigned.InvokeAsync(new Outcome(theirs, null, draft.IsUnsaved ? draft : null));
            return false;
        }

        var replaced = draft.Merge(theirs);
        note = (theirs is null ? null : WrittenWith(theirs)) + string.Concat(replaced.Select(Replaced));
        return true;

        string Replaced((int? Segment, string Word) own) =>
            T[" {0} you had “{1}”.", own.Segment is { } i ? T["For segment {0}", i + 1] : T["For the whole"], Me.GradeWord(own.Word)];
    }

    private string WrittenWith(GradeView theirs) =>
        T[
            "{0} is writing this grade too, saved {1}. Your changes will be merged with it.",
            theirs.InstructorName,
            Me.Time.DayAndClock(theirs.SavedAtUtc)
        ];

    /// <summary>Looks now and then whether somebody else writes as well, so that neither finds out only by a refusal.</summary>
    private async Task PollAsync()
    {
        using var timer = new PeriodicTimer(PollEvery);
        try
        {
            while (await timer.WaitForNextTickAsync(Leaving))
            {
                if (!saving.IsIdle || Busy)
                    continue;
                var theirs = (await Api.GradeAsync(Attempt.AttemptId, Leaving)).Grade;
                if (!saving.IsIdle || theirs is null || !IsNews(theirs))
                    continue;
                if (await MergeAsync())
                    status = T["Draft of {0}, saved {1}", theirs.InstructorName, Me.Time.Clock(theirs.SavedAtUtc)];
                StateHasChanged();
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or ApiProblemException or HttpRequestException)
        {
            // Gone elsewhere, or the server is: saving reports that.
        }
    }

    // An answer may be older than what was saved from here since.
    private bool IsNews(GradeView theirs) =>
        theirs.Revision != draft.Revision
        && (theirs.SignedAtUtc is not null || theirs.InstructorId != Me.Id || theirs.Revision > draft.Revision);

    private Task FollowAsync(int? index)
    {
        shown = index;
        return index == Selected ? Task.CompletedTask : SelectedChanged.InvokeAsync(index);
    }

    /// <summary>Brings the row of the segment chosen elsewhere to the eye.</summary>
    private async Task ShowChosenAsync()
    {
        if (shown == Selected || module is null)
            return;
        shown = Selected;
        if (shown is { } index)
            await module.InvokeVoidAsync("show", sheet, index);
    }

    private async Task SignAsync(bool goesOn)
    {
        var left = draft.Ungraded(Report.Segments.Count);
        var word = Me.GradeWord(draft.Whole.Grade);
        var open = left > 0 ? T[" {0} no grade of their own.", Figures.Count(left, "segment carries", "segments carry")] : "";
        const string Asked = "“{0}” for {1}, {2}.{3} A signed grade is never edited, only amended with a reason.";
        var sure = await Dialogs.ShowMessageBoxAsync(
            T["Sign this grade?"],
            T[Asked, word, Attempt.StudentName, Attempt.DrillTitle, open],
            yesText: T["Sign"],
            cancelText: T["Go back"]
        );
        if (sure is not true)
            return;
        await saving.StopAsync();
        await SendAsync(ct => Api.SaveGradeAsync(Attempt.AttemptId, draft.ToSave(sign: true), ct), T["Grade signed."], goesOn);
    }

    /// <summary>What was written here is kept for a further amendment.</summary>
    private async Task ShowStandingAsync()
    {
        GradeView? standing = null;
        if (await TryAsync(async ct => standing = (await Api.GradeAsync(Attempt.AttemptId, ct)).Grade))
            await OnSigned.InvokeAsync(new Outcome(standing, null, draft));
    }

    private Task AmendAsync() =>
        SendAsync(ct => Api.AmendGradeAsync(Attempt.AttemptId, draft.ToAmend(reason.Trim()), ct), T["Amendment signed."]);

    private async Task SendAsync(Func<CancellationToken, Task<GradeView>> call, string done, bool goesOn = false)
    {
        GradeView? grade = null;
        if (!await TryAsync(async ct => grade = await call(ct)))
        {
            if (conflict && !Amends && await MergeAsync())
                Problem = T["Someone else just saved this grade. Check the merged version, then sign."];
            return;
        }

        await SettleAsync(draft.Content);
        await OnSigned.InvokeAsync(new Outcome(grade, done, null, goesOn));
    }

    /// <summary>The browser need no longer keep what the server has.</summary>
    private async Task SettleAsync(GradeContent content)
    {
        try
        {
            if (module is not null)
                await module.InvokeVoidAsync("settle", Attempt.AttemptId, content.Rows);
        }
        catch (JSDisconnectedException)
        {
            // The browser has gone; it keeps what it has until it comes back.
        }
    }
}
