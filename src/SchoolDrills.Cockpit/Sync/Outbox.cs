using System.Globalization;
using System.Net;
using SchoolDrills.Cockpit.Flying;
using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Sync;

/// <summary>Where sending stands.</summary>
internal enum OutboxState
{
    Idle,
    Sending,
    NoNetwork,

    /// <summary>Nobody is signed in any more.</summary>
    SignedOut,
}

/// <summary>
/// Sends what this device noted and recorded, once each: a log goes under its own number and a recording is known by its bytes, so
/// what was sent twice is there once. What the server refuses is set aside with its reason and holds nothing else up.
/// </summary>
internal sealed class Outbox(SchoolDrillsClient api, DeviceStore store, DeviceTime time) : IDisposable
{
    /// <summary>What the server has stays on the device this long, for a look back at the aircraft.</summary>
    private static readonly TimeSpan KeptFor = TimeSpan.FromDays(14);

    private static string NoPositions => T["This device kept no position in this flight."];

    private readonly SemaphoreSlim one = new(1);
    private Task? sending;

    public OutboxState State { get; private set; }

    public event Action? Changed;

    /// <summary>Sends what waits; where that is on already, waits for it.</summary>
    /// <param name="again">Tries again what was refused.</param>
    public Task SendAsync(bool again = false) => sending is { IsCompleted: false } ? sending : sending = RunAsync(again);

    public void Dispose() => one.Dispose();

    private async Task RunAsync(bool again)
    {
        Tell(OutboxState.Sending);
        try
        {
            // Whoever is signed in now may not be who noted the flight.
            var me = await api.MeAsync();
            var flights = (await store.FlightsAsync()).Where(f => f.PersonId == me.Id).ToDictionary(f => f.Id);
            var marks = (await store.MarksAsync()).ToLookup(m => m.LogId);
            foreach (var log in (await store.LogsAsync()).Where(l => flights.ContainsKey(l.FlightId)).OrderBy(l => l.OpenedAtUtc))
            {
                if (log.StartedAtUtc is not null)
                    await SendAsync(log, flights[log.FlightId], marks[log.Id], again);
            }

            await ForgetAsync(flights.Values, marks);
            Tell(OutboxState.Idle);
        }
        catch (ApiProblemException problem) when (problem.Status == HttpStatusCode.Unauthorized)
        {
            Tell(OutboxState.SignedOut);
        }
        catch (Exception e) when (IsPassing(e))
        {
            Tell(OutboxState.NoNetwork);
        }
    }

    private async Task SendAsync(StoredLog log, StoredFlight flight, IEnumerable<StoredMark> marks, bool again)
    {
        var sent = await store.SendingAsync(log.Id);
        if (log.Version > sent.Version && (sent.Refused is null || again))
            sent = await SendMarksAsync(log, flight, marks);
        // Marks first: a recording that is scored then is scored with them.
        if (flight is { EndedAtUtc: not null, Recorded: true } && !sent.RecordingSent && (sent.RecordingRefused is null || again))
            sent = await SendRecordingAsync(log, flight);
        // Without a recording of its own the device learns from the server which attempt became of it.
        if (!flight.Recorded && sent is { AttemptId: null, Refused: null })
            sent = await FindAttemptAsync(log, sent);
        if (sent is { AttemptId: { } attempt, ReportIsServers: false })
            await FetchReportAsync(log, attempt);
    }

    private async Task<StoredSending> SendMarksAsync(StoredLog log, StoredFlight flight, IEnumerable<StoredMark> marks)
    {
        var body = new PutFlightLog
        {
            StartedAtUtc = log.StartedAtUtc,
            EndedAtUtc = log.EndedAtUtc,
            // The device's own recording is by the same clock: never compared, both count as right.
            ClockAheadS = flight.ClockAheadS ?? (flight.Recorded ? 0 : null),
            SentAtUtc = time.UtcNow,
            Events = [.. marks.Where(m => !m.Undone).OrderBy(m => m.Number).Select(m => new AttemptEvent(m.Id, m.Kind, m.AtUtc, m.Detail))],
        };
        try
        {
            var view = await api.PutFlightLogAsync(log.AssignmentId, log.Id, body);
            return await KeepAsync(
                log.Id,
                s => s with { Version = log.Version, Refused = null, AttemptId = s.AttemptId ?? view.AttemptId }
            );
        }
        catch (ApiProblemException problem) when (!IsPassing(problem))
        {
            return await KeepAsync(log.Id, s => s with { Refused = problem.Message });
        }
    }

    private async Task<StoredSending> SendRecordingAsync(StoredLog log, StoredFlight flight)
    {
        if (await store.PositionsAsync(flight.Id) == 0)
            return await KeepAsync(log.Id, s => s with { RecordingRefused = NoPositions });
        try
        {
            using var csv = new MemoryStream(await store.CsvAsync(flight));
            var accepted = await api.UploadAsync(log.AssignmentId, csv, FileName(flight), new AttemptMeta());
            return await KeepAsync(log.Id, s => s with { AttemptId = accepted.AttemptId, RecordingSent = true, RecordingRefused = null });
        }
        catch (ApiProblemException problem) when (!IsPassing(problem))
        {
            return await KeepAsync(log.Id, s => s with { RecordingRefused = problem.Message });
        }
    }

    private async Task<StoredSending> FindAttemptAsync(StoredLog log, StoredSending sent)
    {
        var views = await api.FlightLogsAsync(log.AssignmentId);
        return views.FirstOrDefault(v => v.Id == log.Id)?.AttemptId is { } attempt
            ? await KeepAsync(log.Id, s => s with { AttemptId = attempt })
            : sent;
    }

    /// <summary>The server's report instead of the device's own, once it is there.</summary>
    private async Task FetchReportAsync(StoredLog log, Guid attemptId)
    {
        try
        {
            if (await api.AttemptAsync(attemptId) is { Status: AttemptStatus.Scored, Score: { } score })
                await KeepAsync(log.Id, s => s with { Report = score, ReportIsServers = true });
        }
        catch (ApiProblemException problem) when (!IsPassing(problem))
        {
            // Deleted since, or withheld until the student has judged himself: the device's own report stays.
        }
    }

    /// <summary>What the device made of the flight by itself; the server's report, where it has come meanwhile, stays.</summary>
    public Task KeepReportAsync(Guid logId, ScoreReport report) =>
        KeepAsync(logId, s => s.ReportIsServers ? s : s with { Report = report });

    private async Task ForgetAsync(IEnumerable<StoredFlight> flights, ILookup<Guid, StoredMark> marks)
    {
        var logs = (await store.LogsAsync()).ToLookup(l => l.FlightId);
        foreach (var flight in flights.Where(f => f.EndedAtUtc < time.UtcNow - KeptFor))
        {
            var isSent = true;
            foreach (var log in logs[flight.Id])
                isSent &= IsSent(log, await store.SendingAsync(log.Id), flight);
            if (!isSent)
                continue;
            var own = logs[flight.Id].Select(l => l.Id).ToList();
            await store.ForgetAsync(flight.Id, own, [.. own.SelectMany(id => marks[id]).Select(m => m.Id)]);
        }
    }

    private async Task<StoredSending> KeepAsync(Guid logId, Func<StoredSending, StoredSending> change)
    {
        await one.WaitAsync();
        try
        {
            var changed = change(await store.SendingAsync(logId));
            await store.SaveAsync(changed);
            return changed;
        }
        finally
        {
            one.Release();
            Changed?.Invoke();
        }
    }

    /// <summary>Nothing of it waits on this device.</summary>
    public static bool IsSent(StoredLog log, StoredSending sent, StoredFlight flight) =>
        log.StartedAtUtc is null || log.Version <= sent.Version && (!flight.Recorded || sent.RecordingSent);

    public static string FileName(StoredFlight flight) =>
        string.Create(CultureInfo.InvariantCulture, $"cockpit-{flight.StartedAtUtc.UtcDateTime:yyyyMMdd-HHmm}.csv");

    /// <summary>It may go by itself: no network, a server that restarts or asks to wait.</summary>
    private static bool IsPassing(Exception e) =>
        e is HttpRequestException or TaskCanceledException
        || e is ApiProblemException { Status: var status } && ((int)status >= 500 || (int)status is 408 or 429);

    private void Tell(OutboxState state)
    {
        State = state;
        Changed?.Invoke();
    }
}
