namespace SchoolDrills.Contracts;

public sealed partial class SchoolDrillsClient
{
    public Task<AssignmentSummary> AssignmentAsync(Guid id, CancellationToken ct = default) =>
        GetAsync($"assignments/{id}", Wire.AssignmentSummary, ct);

    public Task<AssignmentPlan> SavePlanAsync(Guid assignmentId, SavePlan plan, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, $"assignments/{assignmentId}/plan", Body(plan, Wire.SavePlan), Wire.AssignmentPlan, ct);

    public Task<IReadOnlyList<SchoolArea>> AreasAsync(CancellationToken ct = default) =>
        GetAsync("school/areas", Wire.IReadOnlyListSchoolArea, ct);

    public Task<IReadOnlyList<SchoolArea>> AddAreasAsync(AddAreas areas, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Post, "school/areas", Body(areas, Wire.AddAreas), Wire.IReadOnlyListSchoolArea, ct);

    public Task RemoveAreaAsync(Guid id, CancellationToken ct = default) => SendAsync(HttpMethod.Delete, $"school/areas/{id}", null, ct);
}
