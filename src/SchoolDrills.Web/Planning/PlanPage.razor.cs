using System.Globalization;
using Microsoft.AspNetCore.Components;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Planning;

namespace SchoolDrills.Web.Planning;

public partial class PlanPage
{
    private PlanDraft? draft;
    private bool closer;
    private AssignmentPlan? kept,
        changed;

    /// <summary>The last plan that could be made, shown while what is typed is not finished.</summary>
    private DrillPlan? shown;

    public sealed record Page(
        DrillTemplate Template,
        DrillEntry Entry,
        AssignmentSummary? Assignment,
        IReadOnlyList<AircraftProfile> Aircraft,
        IReadOnlyList<SchoolArea> Areas
    );

    [Parameter]
    public string? Slug { get; set; }

    [Parameter]
    public Guid? Id { get; set; }

    [SupplyParameterFromQuery]
    public int? Version { get; set; }

    [PersistentState]
    public Page? Loaded { get; set; }

    private string Address => Id is { } id ? $"/assignments/{id}" : $"/drills/{Slug}";

    private int AreaIndex => draft!.Area is { } area ? draft.Areas.ToList().IndexOf(area) : -1;

    protected override async Task OnParametersSetAsync()
    {
        if (Loaded is not null && (Id is { } id ? Loaded.Assignment?.Id == id : Loaded.Template.Slug == Slug && Loaded.Assignment is null))
            Show();
        else
            await LoadAsync();
    }

    private Task<bool> LoadAsync() =>
        TryAsync(async ct =>
        {
            var (aircraft, areas) = (Api.AircraftAsync(ct), Api.AreasAsync(ct));
            var assignment = Id is { } id ? await Api.AssignmentAsync(id, ct) : null;
            var template = await Api.DrillAsync(assignment?.DrillSlug ?? Slug!, assignment?.DrillVersion ?? Version, ct);
            Loaded = new Page(template, template.EntryWith(assignment?.Overrides), assignment, await aircraft, await areas);
            draft = null;
            Show();
        });

    private void Show()
    {
        if (draft is not null)
            return;
        draft = new PlanDraft(Loaded!.Template, Loaded.Entry, Loaded.Aircraft, Loaded.Areas, Clock);
        if (Loaded.Assignment?.Overrides is { } set)
        {
            draft.AircraftId = set.Aircraft ?? draft.AircraftId;
            draft.Put(set.Winds(draft.EntryAltitudeFt));
        }

        kept = Loaded.Assignment?.Plan;
        if (kept is not null)
            draft.Take(kept.Asked);
        draft.Make();
    }

    protected override bool ShouldRender()
    {
        shown = draft?.Plan ?? shown;
        return base.ShouldRender();
    }

    private void Make() => draft!.Make();

    private void Set(Action change)
    {
        change();
        draft!.Make();
    }

    private void ChooseArea(string? index) =>
        draft!.Choose(
            int.TryParse(index, CultureInfo.InvariantCulture, out var i) && i >= 0 && i < draft.Areas.Count ? draft.Areas[i] : null
        );

    private void PlaceStart(ChangeEventArgs? lat, ChangeEventArgs? lon)
    {
        var was = draft!.Start ?? new LatLon(0, 0);
        var to = new LatLon(Parsed(lat) ?? was.LatDeg, Parsed(lon) ?? was.LonDeg);
        if (Math.Abs(to.LatDeg) <= 89 && Math.Abs(to.LonDeg) <= 180)
            draft.MoveStart(to);

        static double? Parsed(ChangeEventArgs? typed) =>
            double.TryParse((string?)typed?.Value, CultureInfo.InvariantCulture, out var value) ? value : null;
    }

    private static string Degrees(double? value) => value?.ToString("0.#####", CultureInfo.InvariantCulture) ?? "";

    private Task KeepAsync() => KeepAsync(kept?.Revision ?? 0);

    private Task KeepOverAsync() => KeepAsync(changed!.Revision);

    private async Task KeepAsync(int revision)
    {
        if (Id is not { } id || draft?.Plan is null)
            return;
        if (await TryAsync(async ct => kept = await Api.SavePlanAsync(id, new SavePlan(draft.Asked, revision), ct)))
        {
            changed = null;
            Snackbar.Add(T["Plan kept with the assignment."]);
        }
        else if (Problem is { } told && await TryAsync(async ct => changed = (await Api.AssignmentAsync(id, ct)).Plan))
        {
            // What is there now is offered beside one's own, where it is that which refused.
            Problem = told;
            if (changed?.Revision == revision)
                changed = null;
        }
    }

    private void LoadTheirs()
    {
        (kept, changed, Problem) = (changed, null, null);
        draft!.Take(kept!.Asked);
    }
}
