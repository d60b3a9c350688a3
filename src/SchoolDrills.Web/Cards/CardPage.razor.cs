using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;
using SchoolDrills.Web.Drills;

namespace SchoolDrills.Web.Cards;

public partial class CardPage
{
    private CardContent? content;
    private (Page?, bool) made;
    private ElementReference frame;
    private IJSObjectReference? module;

    /// <param name="Plane">The aeroplane of the plan, or one of the school's; null where the school has none.</param>
    public sealed record Page(DrillBrief Brief, DrillEntry Entry, AssignmentSummary? Assignment, AircraftProfile? Plane);

    [Parameter]
    public string? Slug { get; set; }

    [Parameter]
    public Guid? Id { get; set; }

    [SupplyParameterFromQuery]
    public int? Version { get; set; }

    /// <summary><c>instructor</c> or <c>student</c>; a student's is the student's copy whatever the address says.</summary>
    [SupplyParameterFromQuery]
    public string? Copy { get; set; }

    /// <summary><c>a4</c>, <c>letter</c> or <c>a5</c>.</summary>
    [SupplyParameterFromQuery(Name = "paper")]
    public string? PaperSlug { get; set; }

    [PersistentState]
    public Page? Loaded { get; set; }

    private Paper Sheet => Paper.Of(PaperSlug);

    private bool WithQuestions => Me.Teaches && !string.Equals(Copy, "student", StringComparison.OrdinalIgnoreCase);

    private string Path => Id is { } id ? $"/assignments/{id}" : $"/drills/{Slug}";

    /// <summary>The size of the paper, and nothing of the page but the card.</summary>
    private string PrintRules =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"@page {{ size: {Sheet.WidthMm}mm {Sheet.HeightMm}mm; margin: 0; }} @media print {{ .bar {{ display: none !important; }} }}"
        );

    protected override async Task OnParametersSetAsync()
    {
        if (Loaded is null || (Id is { } id ? Loaded.Assignment?.Id != id : Loaded.Brief.Template.Slug != Slug))
            await LoadAsync();
        else
            Make();
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (content is null)
            return;
        try
        {
            module ??= await Js.InvokeAsync<IJSObjectReference>("import", "./js/card.js");
            await module.InvokeVoidAsync("fit", frame);
        }
        catch (JSDisconnectedException)
        {
            // The page is gone.
        }
    }

    private Task<bool> LoadAsync() =>
        TryAsync(async ct =>
        {
            var aircraft = Api.AircraftAsync(ct);
            var assignment = Id is { } id ? await Api.AssignmentAsync(id, ct) : null;
            var entry = Overrides(assignment);
            var brief = await DrillBrief.LoadAsync(Api, assignment?.DrillSlug ?? Slug!, assignment?.DrillVersion ?? Version, entry, ct);
            var wanted = assignment?.Plan?.Asked.AircraftId ?? entry?.Aircraft;
            var plane = (await aircraft).FirstOrDefault(a => a.Slug == wanted) ?? ((await aircraft) is [var any, ..] ? any : null);
            Loaded = new Page(brief, brief.Template.EntryWith(entry), assignment, plane);
            Make();
        });

    private void Make()
    {
        if (made == (Loaded, WithQuestions))
            return;
        made = (Loaded, WithQuestions);
        var kept = Loaded!.Assignment?.Plan;
        var set = Loaded.Assignment?.Overrides;
        content = new CardContent(
            Loaded.Brief,
            Planned(kept),
            kept,
            WithQuestions,
            Me.Time,
            set.Winds(Loaded.Entry.AltitudeFt),
            Loaded.Plane is { } plane && plane.Slug == (kept?.Asked.AircraftId ?? set?.Aircraft) ? plane.Title : null
        );
    }

    /// <summary>The kept plan made anew; without one the drill in standard air, for bank and leads.</summary>
    private DrillPlan? Planned(AssignmentPlan? kept)
    {
        if (Loaded!.Plane is not { } plane)
            return null;
        // Neither questions nor checks move an aeroplane, and a student's template has no scripts.
        var template = Loaded.Brief.Template with
        {
            LoadTasks = [],
            Checks = [],
        };
        var conditions =
            kept?.Asked.Conditions(Loaded.Entry.AltitudeFt, Clock.GetUtcNow(), suggest: false).Conditions
            ?? new PlanConditions(Winds: Loaded.Assignment?.Overrides.Winds(Loaded.Entry.AltitudeFt));
        return TemplateProblems.Of(template, Loaded.Entry).Count > 0 ? null : DrillPlan.Of(template, Loaded.Entry, plane, conditions);
    }

    /// <summary>What is set for the day: by the plan that was kept, else by the assignment.</summary>
    private static AssignmentOverrides? Overrides(AssignmentSummary? assignment) =>
        assignment?.Plan?.Asked is { } plan
            ? (assignment.Overrides ?? new AssignmentOverrides()) with
            {
                HeadingMagDeg = plan.HeadingMagDeg ?? assignment.Overrides?.HeadingMagDeg,
                AltitudeFt = plan.AltitudeFt ?? assignment.Overrides?.AltitudeFt,
                AirspeedKt = plan.AirspeedKt ?? assignment.Overrides?.AirspeedKt,
                Mirrored = plan.Mirrored ?? assignment.Overrides?.Mirrored,
                HalfRate = plan.HalfRate ?? assignment.Overrides?.HalfRate,
            }
            : assignment?.Overrides;

    private string AddressOf(string? copy, string paper) =>
        $"{Path}/card?copy={(copy == "student" || !Me.Teaches ? "student" : "instructor")}&paper={paper}"
        + (Version is { } version ? $"&version={version}" : "");

    public async ValueTask DisposeAsync()
    {
        Dispose();
        GC.SuppressFinalize(this);
        try
        {
            if (module is not null)
                await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The page is gone.
        }
    }
}
