using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using SchoolDrills.Api.Access;
using SchoolDrills.Api.Scoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;

namespace SchoolDrills.Api.Uploads;

/// <summary>Reads an upload as its sender described it, else as the school remembers its header, else by the names in it.</summary>
internal sealed class UploadReading(SchoolDrillsDbContext db, TimeProvider clock)
{
    /// <returns>The recording with what was said and remembered of it, or why it cannot be read: 413 over a limit, 422 else.</returns>
    public async Task<(Track? Track, AttemptMeta Meta, ProblemHttpResult? Problem)> ReadAsync(UploadForm form, CancellationToken ct)
    {
        var meta = form.Meta with { ColumnsRemembered = null };
        var result = Read(form.File, meta, ct);
        if (meta.Columns is null && result.Header is { } header && await RecallAsync(header.Fingerprint, ct) is { Count: > 0 } mapping)
        {
            var remembering = meta with { Columns = mapping, ColumnsRemembered = true };
            var again = Read(form.File, remembering, ct);
            // What only the memory spoils is read without it.
            if (again.Track is not null || result.Track is null)
                (result, meta) = (again, remembering);
        }

        return (result.Track, meta, result.Problem is { } problem ? Problems.Unreadable(problem) : null);
    }

    /// <summary>Adds the school's memory of a header to what the caller saves.</summary>
    public void Remember(TrackHeader header, IReadOnlyDictionary<string, ColumnChoice>? mapping, CurrentPerson me) =>
        db.ColumnMappings.Add(
            new ColumnMappingRow
            {
                SchoolId = me.SchoolId,
                Fingerprint = header.Fingerprint,
                Mapping = mapping ?? new Dictionary<string, ColumnChoice>(),
                SetById = me.Id,
                ByStaff = me.IsStaff,
                SetAtUtc = clock.GetUtcNow(),
            }
        );

    private Task<IReadOnlyDictionary<string, ColumnChoice>?> RecallAsync(string fingerprint, CancellationToken ct) =>
        db
            .ColumnMappings.AsNoTracking()
            .Where(m => m.Fingerprint == fingerprint)
            .OrderByDescending(m => m.ByStaff)
            .ThenByDescending(m => m.SetAtUtc)
            .ThenByDescending(m => m.Id)
            .Select(m => m.Mapping)
            .FirstOrDefaultAsync(ct)!;

    private static TrackReadResult Read(UploadedTrack file, AttemptMeta meta, CancellationToken ct) =>
        TrackReader.Read(file.Open(), AttemptScoring.Reading(meta), ct);
}
