namespace SchoolDrills.Contracts;

/// <summary>What attempts say together.</summary>
public sealed partial class SchoolDrillsClient
{
    public Task<StudentProgress> ProgressAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/progress", Wire.StudentProgress, ct);

    public Task<IReadOnlyList<WeakSegmentSummary>> WeakSegmentsAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/weak-segments", Wire.IReadOnlyListWeakSegmentSummary, ct);

    public Task<IReadOnlyList<NextDrillSuggestion>> NextDrillAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/next-drill", Wire.IReadOnlyListNextDrillSuggestion, ct);

    public Task<SchoolOverview> SchoolOverviewAsync(CancellationToken ct = default) => GetAsync("school/overview", Wire.SchoolOverview, ct);

    public Task<GradingAgreement> GradingAgreementAsync(CancellationToken ct = default) =>
        GetAsync("school/grading-agreement", Wire.GradingAgreement, ct);
}
