namespace SchoolDrills.Contracts;

/// <summary>Work given to students.</summary>
public sealed partial class SchoolDrillsClient
{
    public Task<IReadOnlyList<AssignmentSummary>> AssignmentsAsync(
        Guid? studentId = null,
        string? state = null,
        CancellationToken ct = default
    ) => AllAsync("assignments" + Query(("studentId", studentId?.ToString()), ("state", state)), Wire.IReadOnlyListAssignmentSummary, ct);

    public Task<IReadOnlyList<AssignmentSummary>> AssignAsync(CreateAssignment assignment, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "assignments", Body(assignment, Wire.CreateAssignment), Wire.IReadOnlyListAssignmentSummary, ct);

    public Task CancelAssignmentAsync(Guid id, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, $"assignments/{id}/cancel", null, ct);

    /// <summary>Takes several back at once: all of them or, where one is not there, none.</summary>
    public Task CancelAssignmentsAsync(IReadOnlyList<Guid> ids, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "assignments/cancel", Body(new CancelAssignments(ids), Wire.CancelAssignments), ct);

    /// <summary>Each student's last attempt at each drill, and whether the student has it to fly already.</summary>
    public Task<IReadOnlyList<BeforeAssigning>> BeforeAssigningAsync(
        IReadOnlyList<Guid> studentIds,
        IReadOnlyList<string> drillSlugs,
        CancellationToken ct = default
    ) =>
        GetAsync(
            "assignments/before"
                + Query([
                    .. studentIds.Select(id => ("studentIds", (string?)id.ToString())),
                    .. drillSlugs.Select(slug => ("drillSlugs", (string?)slug)),
                ]),
            Wire.IReadOnlyListBeforeAssigning,
            ct
        );
}
