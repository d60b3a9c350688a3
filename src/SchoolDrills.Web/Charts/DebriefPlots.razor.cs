using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Web.Charts;

public partial class DebriefPlots
{
    private static readonly int[] Speeds = [1, 4, 16];

    private readonly string keysId = $"keys-{Guid.NewGuid():N}";
    private ElementReference root;
    private IJSObjectReference? module;
    private IJSObjectReference? plots;
    private DotNetObjectReference<DebriefPlots>? self;
    private ScoreReport? drawn;
    private int? shown;
    private bool wentToFirst,
        adjusts,
        compares,
        excludes,
        isLaidOver;

    /// <summary>The attempt whose track is fetched; unused where the columns are <see cref="KeptAs"/>.</summary>
    [Parameter]
    public Guid AttemptId { get; set; }

    /// <summary>Name under which the browser keeps the columns of a preview, of which nothing is stored.</summary>
    [Parameter]
    public string? KeptAs { get; set; }

    [Parameter, EditorRequired]
    public ScoreReport Report { get; set; } = default!;

    /// <summary>The engine's own report, where <see cref="Report"/> was made with corrections by hand.</summary>
    [Parameter]
    public ScoreReport? EngineReport { get; set; }

    /// <summary>What was noted on board.</summary>
    [Parameter]
    public IReadOnlyList<AttemptEvent> Events { get; set; } = [];

    /// <summary>The student's own load ratings.</summary>
    [Parameter]
    public IReadOnlyList<int> LoadRatings { get; set; } = [];

    /// <summary>Index of the segment shown, null for the whole drill.</summary>
    [Parameter]
    public int? Selected { get; set; }

    [Parameter]
    public EventCallback<int?> SelectedChanged { get; set; }

    /// <summary>Where the cursor stands once the plots are drawn; at the start of what is shown unless given.</summary>
    [Parameter]
    public DateTimeOffset? FirstAt { get; set; }

    /// <summary>Boundaries can be moved.</summary>
    [Parameter]
    public bool Adjusting { get; set; }

    /// <summary>A drag across the strips excludes that stretch instead of zooming to it.</summary>
    [Parameter]
    public bool Excluding { get; set; }

    /// <summary>Draws the engine's own boundaries through all strips.</summary>
    [Parameter]
    public bool Comparing { get; set; }

    /// <summary>Called with what is pending whenever a boundary was moved or a stretch marked.</summary>
    [Parameter]
    public EventCallback<PendingAdjustments> PendingChanged { get; set; }

    /// <summary>Where the columns of another attempt, aligned to this one, are to be had; null where there is none.</summary>
    [Parameter]
    public string? OtherTrackUrl { get; set; }

    /// <summary>What the button that lays it over is called: "Last attempt".</summary>
    [Parameter]
    public string OtherWords { get; set; } = "";

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        try
        {
            if (!ReferenceEquals(drawn, Report))
                await OpenAsync();
            if (plots is null)
                return;
            if (shown != Selected)
                await plots.InvokeVoidAsync("select", shown = Selected);
            if (FirstAt is { } first && !wentToFirst)
            {
                wentToFirst = true;
                await ShowAsync(first);
            }
            if (adjusts != Adjusting)
                await plots.InvokeVoidAsync("adjust", adjusts = Adjusting);
            if (excludes != Excluding)
                await plots.InvokeVoidAsync("setExcluding", excludes = Excluding);
            if (compares != Comparing)
                await plots.InvokeVoidAsync("compare", compares = Comparing);
        }
        catch (JSDisconnectedException)
        {
            // The page is gone; there is nothing to draw on.
        }
    }

    /// <summary>Moves the cursor to a moment.</summary>
    public ValueTask ShowAsync(DateTimeOffset at) =>
        plots?.InvokeVoidAsync("goTo", (at - DateTimeOffset.UnixEpoch).TotalMilliseconds) ?? ValueTask.CompletedTask;

    /// <summary>Takes back the last step of what is pending.</summary>
    public ValueTask UndoAsync() => plots?.InvokeVoidAsync("undo") ?? ValueTask.CompletedTask;

    /// <summary>Judges a stretch after all that was to be excluded.</summary>
    /// <param name="place">Its place among those excluded.</param>
    public ValueTask IncludeAsync(int place) => plots?.InvokeVoidAsync("include", place) ?? ValueTask.CompletedTask;

    /// <summary>Called from the browser when a segment is chosen on the plan or the strips.</summary>
    [JSInvokable]
    public Task Choose(int? index) => InvokeAsync(() => SelectedChanged.InvokeAsync(index));

    /// <summary>Called from the browser when a boundary was moved or a stretch marked.</summary>
    [JSInvokable]
    public Task Adjusted(PendingAdjustments pending) => InvokeAsync(() => PendingChanged.InvokeAsync(pending));

    public async ValueTask DisposeAsync()
    {
        try
        {
            await CloseAsync();
            if (module is not null)
                await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The browser has let go of everything already.
        }

        self?.Dispose();
        GC.SuppressFinalize(this);
    }

    private async Task LayOverAsync()
    {
        if (plots is null)
            return;
        isLaidOver = await plots.InvokeAsync<bool>("layOver", isLaidOver ? null : OtherTrackUrl);
    }

    private async Task OpenAsync()
    {
        drawn = Report;
        isLaidOver = false;
        shown = null;
        adjusts = compares = excludes = false;
        await CloseAsync();
        module ??= await Js.InvokeAsync<IJSObjectReference>("import", "./js/charts.js");
        self ??= DotNetObjectReference.Create(this);
        var track = new
        {
            url = $"api/v1/attempts/{AttemptId}/track",
            keptAs = KeptAs,
            timelineUrl = PlotSource.TimelineUrl(Report),
        };
        var source = PlotSource.Of(Report, EngineReport, Events, LoadRatings);
        plots = await module.InvokeAsync<IJSObjectReference>("open", root, track, source, self);
    }

    private async Task CloseAsync()
    {
        if (plots is null)
            return;
        await plots.InvokeVoidAsync("close");
        await plots.DisposeAsync();
        plots = null;
    }
}
