using System.Text.Json;

namespace SchoolDrills.Contracts;

/// <summary>What attempts say together.</summary>
public sealed partial class SchoolDrillsClient
{
    public Task<StudentProgress> ProgressAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/progress", Wire.StudentProgress, ct);

    public Task<IReadOnlyList<WeakSegmentSummary>> WeakSegmentsAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/weak-segments", Wire.IReadOnlyListWeakSegmentSummary, ct);

    public Task<StudentLoad> LoadAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/load", Wire.StudentLoad, ct);

    public Task<IReadOnlyList<NextDrillSuggestion>> NextDrillAsync(Guid studentId, CancellationToken ct = default) =>
        GetAsync($"students/{studentId}/next-drill", Wire.IReadOnlyListNextDrillSuggestion, ct);

    /// <summary>Students, drills and attempts that hold every word.</summary>
    public Task<SearchResult> SearchAsync(string sought, CancellationToken ct = default) =>
        GetAsync("search" + Query(("q", sought)), Wire.SearchResult, ct);

    /// <param name="mine">Null for what is usual for the role: an instructor's own, the chief's all.</param>
    public Task<DeskWork> DeskAsync(bool? mine = null, int? rows = null, CancellationToken ct = default) =>
        GetAsync(
            "desk"
                + Query(
                    (
                        "mine",
                        mine switch
                        {
                            true => "true",
                            false => "false",
                            _ => null,
                        }
                    ),
                    ("rows", Text(rows))
                ),
            Wire.DeskWork,
            ct
        );

    public Task<StudentList> StudentsAsync(
        StudentSort sort = StudentSort.Need,
        string? search = null,
        bool mine = false,
        int page = 1,
        bool descending = false,
        CancellationToken ct = default
    ) =>
        GetAsync(
            "students"
                + Query(
                    ("sort", JsonNamingPolicy.KebabCaseLower.ConvertName(sort.ToString())),
                    ("search", string.IsNullOrWhiteSpace(search) ? null : search.Trim()),
                    ("mine", mine ? "true" : null),
                    ("descending", descending ? "true" : null),
                    ("page", Text((int?)page))
                ),
            Wire.StudentList,
            ct
        );

    /// <summary>The school at a glance, with what was flown in the last so many days.</summary>
    public Task<SchoolOverview> SchoolOverviewAsync(int? days = null, CancellationToken ct = default) =>
        GetAsync("school/overview" + Query(("days", Text(days))), Wire.SchoolOverview, ct);

    public Task<SchoolStages> StagesAsync(CancellationToken ct = default) => GetAsync("school/stages", Wire.SchoolStages, ct);

    public Task<SchoolStages> SaveStagesAsync(SchoolStages stages, CancellationToken ct = default) =>
        SendAsync(HttpMethod.Put, "school/stages", Body(stages, Wire.SchoolStages), Wire.SchoolStages, ct);

    /// <summary>Where students stand, a page of those at one stage or of all.</summary>
    public Task<SchoolReadiness> ReadinessAsync(string? stage = null, int page = 1, CancellationToken ct = default) =>
        GetAsync("school/readiness" + Query(("stage", stage), ("page", Text((int?)page))), Wire.SchoolReadiness, ct);

    public Task<GradingAgreement> GradingAgreementAsync(CancellationToken ct = default) =>
        GetAsync("school/grading-agreement", Wire.GradingAgreement, ct);

    /// <summary>How the app runs, for the chief.</summary>
    public Task<SchoolStatus> StatusAsync(CancellationToken ct = default) => GetAsync("school/status", Wire.SchoolStatus, ct);
}
