using Microsoft.AspNetCore.Components;
using MudBlazor;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Web.Drills;

namespace SchoolDrills.Web.Assignments;

public partial class AssignPage
{
    public sealed record Loaded(
        IReadOnlyList<PersonSummary> Students,
        IReadOnlyList<DrillSummary> Drills,
        IReadOnlyList<AircraftProfile> Aircraft
    );

    private AssignDraft draft = new();
    private AssignDraft? given;
    private DrillBrief? brief;
    private IReadOnlyList<BeforeAssigning> before = [];

    /// <summary>What was assigned last, and who was left out; null before.</summary>
    private IReadOnlyList<AssignmentSummary>? made;
    private IReadOnlyList<AssignmentSummary> skipped = [];
    private AssignDraft? undone;
    private bool saving,
        goToOutcome;
    private int asked;
    private ElementReference outcome;
    private MudAutocomplete<PersonSummary>? names;

    [PersistentState]
    public Loaded? Choices { get; set; }

    /// <summary>A student already chosen, where one comes from a student's page.</summary>
    [SupplyParameterFromQuery]
    public Guid? Student { get; set; }

    /// <summary>A drill already chosen, where one comes from a drill's page.</summary>
    [SupplyParameterFromQuery]
    public string? Drill { get; set; }

    private DateTime Today => Me.Time.Today.ToDateTime(default);

    private string Action
    {
        get
        {
            if (draft.Missing is not null)
                return T["Assign"];
            var assign = (draft.Drills.Count, draft.Students.Count) switch
            {
                (> 1, > 1) => T["Assign {0} drills to {1} students", draft.Drills.Count, draft.Students.Count],
                (> 1, _) => T["Assign {0} drills", draft.Drills.Count],
                (_, > 1) => T["Assign to {0} students", draft.Students.Count],
                _ => T["Assign"],
            };
            var open = draft.SkipOpen ? before.Count(b => b.Open is not null) : 0;
            return open > 0 ? T["{0}, skip {1}", assign, open] : assign;
        }
    }

    protected override async Task OnInitializedAsync()
    {
        if (!Me.Teaches)
            return;
        draft.DueOn = Today.AddDays(Me.Me.School.DueInDays);
        if (Choices is null)
            await LoadAsync();
        if (Choices is null)
            return;
        if (Choices.Students.FirstOrDefault(s => s.Id == Student) is { } student)
            draft.Students.Add(student);
        if (Choices.Drills.FirstOrDefault(d => d.Slug == Drill) is { } drill)
            await ToggleAsync(drill);
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!goToOutcome)
            return;
        goToOutcome = false;
        await outcome.FocusAsync();
    }

    private Task<bool> LoadAsync() =>
        TryAsync(async ct =>
        {
            var (students, drills, aircraft) = (Api.PeopleAsync(Roles.Student, ct), Api.DrillsAsync(ct), Api.AircraftAsync(ct));
            await Task.WhenAll(students, drills, aircraft);
            Choices = new Loaded(
                [.. (await students).Where(s => s.Active).OrderBy(s => s.DisplayName, StringComparer.Ordinal)],
                [.. (await drills).Where(d => d.State == "published")],
                await aircraft
            );
        });

    private async Task AddAsync(PersonSummary? student)
    {
        if (student is null)
            return;
        // The field is there for the next name at once, with the keyboard still in it.
        if (names is not null)
            await names.ClearAsync();
        await ChangeAsync(() =>
        {
            if (!draft.Students.Contains(student))
                draft.Students.Add(student);
        });
    }

    private Task<IEnumerable<PersonSummary>> FindAsync(string? sought, CancellationToken cancellation) =>
        Task.FromResult(
            Choices!.Students.Where(s =>
                !draft.Students.Contains(s) && s.DisplayName.Contains(sought ?? "", StringComparison.CurrentCultureIgnoreCase)
            )
        );

    private async Task ToggleAsync(DrillSummary drill)
    {
        await ChangeAsync(() => draft.Toggle(drill));
        await DrawAsync();
    }

    private async Task ChangeAsync(Action change)
    {
        change();
        await LookAsync();
    }

    /// <summary>Looks at what was before; of several choices in a row the last is answered.</summary>
    private async Task LookAsync()
    {
        var mine = ++asked;
        if (draft.Missing is not null)
        {
            before = [];
            return;
        }

        await TryAsync(async ct =>
        {
            var found = await Api.BeforeAssigningAsync([.. draft.LookedAt.Select(s => s.Id)], [.. draft.Drills.Select(d => d.Slug)], ct);
            if (mine == asked)
                before = found;
        });
    }

    /// <summary>Draws the drill chosen last, as it will be flown.</summary>
    private async Task DrawAsync()
    {
        if (draft.Drills is not [.., var last])
            brief = null;
        else
            await TryAsync(async ct => brief = await DrillBrief.LoadAsync(Api, last.Slug, null, draft.Overrides, ct));
    }

    private async Task SaveAsync()
    {
        if (saving || draft.Missing is not null)
            return;
        if (draft.Problem(Me.Time.Today) is { } wrong)
        {
            Problem = wrong;
            return;
        }

        saving = true;
        IReadOnlyList<AssignmentSummary> answer = [];
        if (await TryAsync(async ct => answer = await Api.AssignAsync(draft.Asked, ct)))
        {
            (made, skipped, undone) = ([.. answer.Where(a => !a.WasOpen)], [.. answer.Where(a => a.WasOpen)], null);
            (given, draft) = (draft, new AssignDraft { DueOn = draft.DueOn });
            (brief, before, goToOutcome) = (null, [], true);
            asked++;
        }

        saving = false;
    }

    /// <summary>Takes back what was just assigned, and has the choice as it was.</summary>
    private async Task UndoAsync()
    {
        if (saving || made is null || given is null)
            return;
        saving = true;
        if (await TryAsync(ct => Api.CancelAssignmentsAsync([.. made.Select(a => a.Id)], ct)))
        {
            (undone, draft, goToOutcome) = (given, given, true);
            await LookAsync();
            await DrawAsync();
        }

        saving = false;
    }
}
