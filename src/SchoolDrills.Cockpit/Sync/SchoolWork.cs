using SchoolDrills.Cockpit.Flying;
using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Drills;

namespace SchoolDrills.Cockpit.Sync;

/// <summary>The assignments on this device: fetched while there is a network, used when there is none.</summary>
internal sealed class SchoolWork(SchoolDrillsClient api, DeviceStore store, DeviceTime time)
{
    public StoredPerson? Person { get; private set; }

    public IReadOnlyList<StoredWork> Work { get; private set; } = [];

    public async Task ResumeAsync()
    {
        Person = await store.PersonAsync();
        Work = InOrder(await store.WorkAsync());
    }

    public StoredWork? Find(Guid assignmentId) => Work.FirstOrDefault(w => w.Assignment.Id == assignmentId);

    /// <summary>Fetches who is signed in and what there is to fly. What is on the device stays until all of it has come.</summary>
    /// <exception cref="ApiProblemException">The school's server refused: 401 where nobody is signed in.</exception>
    /// <exception cref="HttpRequestException">There is no network.</exception>
    public async Task FetchAsync(CancellationToken ct = default)
    {
        var me = await api.MeAsync(ct);
        // By state, or an instructor's tablet would fetch what was graded for years.
        var assignments = new List<AssignmentSummary>();
        foreach (var state in (string[])["open", "overdue", "flown"])
            assignments.AddRange(await api.AssignmentsAsync(state: state, ct: ct));
        var standards = (await api.StandardsAsync(ct)).ToDictionary(s => s.Slug);
        var templates = new Dictionary<(string, int), DrillTemplate>();
        foreach (var drill in assignments.Select(a => (a.DrillSlug, a.DrillVersion)).Distinct())
            templates[drill] = await api.DrillAsync(drill.DrillSlug, drill.DrillVersion, ct);
        var fetched = InOrder(
            from assignment in assignments
            let template = templates[(assignment.DrillSlug, assignment.DrillVersion)]
            let standard = standards.GetValueOrDefault(assignment.Overrides?.StandardSlug ?? template.StandardSlug)
            where standard is not null
            select new StoredWork(assignment, template, standard)
        );
        var person = new StoredPerson(me.Id, me.DisplayName, me.School.Grading.QuickPhrases, time.UtcNow);
        // On the device first: what is shown can be flown with no network.
        await store.ReplaceWorkAsync(fetched);
        await store.SaveAsync(person);
        (Work, Person) = (fetched, person);
    }

    private static IReadOnlyList<StoredWork> InOrder(IEnumerable<StoredWork> work) =>
        [
            .. work.OrderBy(w => w.Assignment.State == "flown")
                .ThenBy(w => w.Assignment.DueOn ?? DateOnly.MaxValue)
                .ThenBy(w => w.Assignment.StudentName, StringComparer.OrdinalIgnoreCase)
                .ThenBy(w => w.Assignment.DrillTitle, StringComparer.OrdinalIgnoreCase),
        ];
}
