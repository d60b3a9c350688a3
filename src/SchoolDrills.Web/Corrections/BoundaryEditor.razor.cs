using System.Globalization;
using Microsoft.AspNetCore.Components;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;
using SchoolDrills.Web.Layout;

namespace SchoolDrills.Web.Corrections;

public partial class BoundaryEditor
{
    private static readonly TimeSpan SameInstant = TimeSpan.FromSeconds(1);

    private readonly Dictionary<MarkedStretch, string> reasons = [];
    private string reason = "";

    [Parameter, EditorRequired]
    public AttemptDetail Attempt { get; set; } = default!;

    /// <summary>What was moved and marked on the strips; null where nothing has been touched.</summary>
    [Parameter]
    public PendingAdjustments? Pending { get; set; }

    [Parameter]
    public bool Adjusting { get; set; }

    [Parameter]
    public EventCallback<bool> AdjustingChanged { get; set; }

    [Parameter]
    public bool Excluding { get; set; }

    [Parameter]
    public EventCallback<bool> ExcludingChanged { get; set; }

    [Parameter]
    public bool Comparing { get; set; }

    [Parameter]
    public EventCallback<bool> ComparingChanged { get; set; }

    [Parameter]
    public EventCallback OnUndo { get; set; }

    /// <summary>Called with the place of a stretch that is to be judged after all.</summary>
    [Parameter]
    public EventCallback<int> OnInclude { get; set; }

    /// <summary>Called with the attempt as it is queued to be re-scored.</summary>
    [Parameter]
    public EventCallback<AttemptDetail> OnCorrected { get; set; }

    private ScoreReport Report => Attempt.Score!;

    private ScoreReport? EngineReport => Attempt.EngineScore;

    private int Changes => Pending is { } pending ? Math.Max(pending.Steps, pending.Boundaries.Count + pending.Excluded.Count) : 0;

    private bool AreStretchesExplained => Pending?.Excluded.All(s => ReasonOf(s).Trim().Length > 0) ?? true;

    private bool IsExplained => reason.Trim().Length > 0 && AreStretchesExplained;

    private string Compared
    {
        get
        {
            var changed = Report
                .Segments.Join(EngineReport!.Segments, s => s.Index, e => e.Index, (s, e) => (Corrected: s, Engine: e))
                .Where(p => p.Corrected.Verdict != p.Engine.Verdict)
                .Select(p =>
                    $"{p.Corrected.Index + 1}. {p.Corrected.Name} {Labels.Of(p.Engine.Verdict)} → {Labels.Of(p.Corrected.Verdict)}"
                )
                .ToList();
            return changed.Count == 0
                ? T["No segment stands otherwise than by the engine's own boundaries, which are drawn as broken lines."]
                : T["Broken lines are the engine's own. Changed by hand: {0}.", string.Join("; ", changed)];
        }
    }

    protected override void OnParametersSet()
    {
        if (!Adjusting)
            reason = "";
    }

    private static string Pressed(bool isOn) => isOn ? "true" : "false";

    private string Described(MovedBoundary boundary)
    {
        var name = Report.Segments.FirstOrDefault(s => s.Index == boundary.Index)?.Name ?? "";
        var moved = Math.Abs(boundary.MovedS).ToString("0.0", CultureInfo.InvariantCulture);
        var side = boundary.MovedS > 0 ? T["later"] : T["earlier"];
        return T[
            "{0} of {1}. {2}: {3}, {4} s {5} than the engine has it",
            boundary.Edge == "start" ? T["Start"] : T["End"],
            boundary.Index + 1,
            name,
            PlotDescription.Clock(Report, boundary.At),
            moved,
            side
        ];
    }

    // A stretch that was excluded before keeps its reason.
    private string ReasonOf(MarkedStretch stretch) =>
        reasons.GetValueOrDefault(stretch)
        ?? Report
            .Corrections?.Excluded?.FirstOrDefault(s =>
                (s.StartUtc - stretch.Start).Duration() < SameInstant && (s.EndUtc - stretch.End).Duration() < SameInstant
            )
            ?.Reason
        ?? "";

    // The whole is sent each time, so conditions given with earlier corrections go along.
    private async Task RescoreAsync()
    {
        var standing = Attempt.StandingCorrection;
        var corrections = (Pending ?? new PendingAdjustments([], [], 0)).ToCorrections(ReasonOf, standing?.Run);
        var isEngines = corrections.IsEmpty && standing is { QnhHpa: null, WindKt: null };
        var put = new PutBoundaries(
            corrections.Boundaries,
            corrections.Excluded,
            corrections.Run,
            standing?.QnhHpa,
            standing?.WindFromDegTrue,
            standing?.WindKt,
            reason.Trim(),
            Attempt.Revision
        );
        AttemptDetail? now = null;
        var sent = await TryAsync(async ct =>
            now = isEngines
                ? await Api.UndoBoundariesAsync(Attempt.AttemptId, Attempt.Revision, ct)
                : await Api.SetBoundariesAsync(Attempt.AttemptId, put, ct)
        );
        if (!sent)
            return;
        await AdjustingChanged.InvokeAsync(false);
        await OnCorrected.InvokeAsync(now);
    }
}
