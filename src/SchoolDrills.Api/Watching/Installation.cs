using Hangfire;
using Npgsql;
using SchoolDrills.Api.Data.Postgres;

namespace SchoolDrills.Api.Watching;

/// <summary>The whole installation at one moment: numbers and times, nothing of any school.</summary>
/// <param name="Waiting">Recordings that are stored and not scored.</param>
/// <param name="OldestSinceUtc">Since when the oldest of them waits.</param>
/// <param name="Workers">Job servers that showed themselves lately.</param>
internal sealed record InstallationReading(
    DateTimeOffset AtUtc,
    int Waiting,
    DateTimeOffset? OldestSinceUtc,
    int Workers,
    DateTimeOffset? WorkerSeenAtUtc,
    string SchemaVersion,
    string PostgresVersion,
    DateTimeOffset? BackupAtUtc,
    long? BackupBytes
)
{
    public TimeSpan OldestWaits => OldestSinceUtc is { } since && since < AtUtc ? AtUtc - since : TimeSpan.Zero;
}

/// <summary>
/// Asks the database about the installation, at most every few seconds however many gauges, probes and pages want to know.
/// </summary>
internal sealed class Installation(DatabaseAccess access, JobStorage storage, TimeProvider clock) : IDisposable
{
    /// <summary>How old an answer to a gauge or a probe may be.</summary>
    public static readonly TimeSpan Pace = TimeSpan.FromSeconds(15);

    /// <summary>A recording that waits for so long waits for something that does not come.</summary>
    public static readonly TimeSpan ScoringPatience = TimeSpan.FromMinutes(10);

    public static readonly TimeSpan HeartbeatPatience = TimeSpan.FromSeconds(20);

    private readonly SemaphoreSlim turn = new(1);

    /// <summary>The newest answer; null before the first.</summary>
    public InstallationReading? Newest { get; private set; }

    /// <exception cref="NpgsqlException">The database does not answer.</exception>
    public Task<InstallationReading> ReadAsync(CancellationToken ct) => ReadAsync(Pace, ct);

    /// <param name="most">How old an answer may be.</param>
    public async Task<InstallationReading> ReadAsync(TimeSpan most, CancellationToken ct)
    {
        if (IsFresh(Newest, most))
            return Newest!;
        await turn.WaitAsync(ct);
        try
        {
            return IsFresh(Newest, most) ? Newest! : Newest = await AskAsync(ct);
        }
        finally
        {
            turn.Release();
        }
    }

    public void Dispose() => turn.Dispose();

    private bool IsFresh(InstallationReading? reading, TimeSpan most) => reading is not null && clock.GetUtcNow() - reading.AtUtc < most;

    private async Task<InstallationReading> AskAsync(CancellationToken ct)
    {
        var now = clock.GetUtcNow();
        var seen = storage.GetMonitoringApi().Servers().Select(s => (DateTimeOffset?)Utc(s.Heartbeat ?? s.StartedAt)).ToList();
        await using var app = new NpgsqlConnection(access.App);
        await app.OpenAsync(ct);
        await using var told = new NpgsqlCommand(
            """
            select waiting, oldest_since_utc, schema_version, backup_at_utc, backup_bytes, current_setting('server_version')
            from lookup.installation()
            """,
            app
        );
        await using var row = await told.ExecuteReaderAsync(ct);
        await row.ReadAsync(ct);
        return new InstallationReading(
            now,
            row.GetInt32(0),
            Time(row, 1),
            seen.Count(at => at > now - HeartbeatPatience),
            seen.Max(),
            row.GetString(2),
            row.GetString(5).Split(' ')[0],
            Time(row, 3),
            row.IsDBNull(4) ? null : row.GetInt64(4)
        );
    }

    private static DateTimeOffset? Time(NpgsqlDataReader row, int column) => row.IsDBNull(column) ? null : Utc(row.GetDateTime(column));

    /// <summary>What says no zone is in UTC already.</summary>
    private static DateTimeOffset Utc(DateTime time) =>
        time.Kind == DateTimeKind.Unspecified ? new DateTimeOffset(time, TimeSpan.Zero) : new DateTimeOffset(time.ToUniversalTime());
}
