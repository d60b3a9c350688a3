using SchoolDrills.Cockpit.Storage;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Cockpit.Flying;

/// <summary>
/// The flight that is on: its drills and marks. Everything is written to the device first and shown then, so that what is seen is never
/// lost.
/// </summary>
internal sealed class FlightLog(DeviceStore store, DeviceTime time) : IDisposable
{
    private readonly SemaphoreSlim one = new(1);
    private readonly List<StoredMark> marks = [];

    public StoredFlight? Flight { get; private set; }

    /// <summary>The drill that is flown, or was last.</summary>
    public StoredLog? Log { get; private set; }

    /// <summary>Of that drill, in the order made, those that were taken back as well.</summary>
    public IReadOnlyList<StoredMark> Marks => marks;

    public event Action? Changed;

    /// <summary>Takes up what was on when the page was closed.</summary>
    public Task ResumeAsync() =>
        AloneAsync(async () =>
        {
            Flight = (await store.FlightsAsync()).Where(f => f.EndedAtUtc is null).MaxBy(f => f.StartedAtUtc);
            Log = Flight is null
                ? null
                : (await store.LogsAsync()).Where(l => l.FlightId == Flight.Id && l.EndedAtUtc is null).MaxBy(l => l.OpenedAtUtc);
            marks.Clear();
            if (Log is { } log)
                marks.AddRange((await store.MarksAsync()).Where(m => m.LogId == log.Id).OrderBy(m => m.Number));
        });

    /// <summary>Opens a drill to be flown, and a flight for it where none is on.</summary>
    public Task OpenAsync(StoredWork work, StoredPerson person, bool record, double? clockAheadS) =>
        AloneAsync(async () =>
        {
            if (Flight is null)
            {
                var flight = new StoredFlight(Guid.CreateVersion7(), person.Id, time.UtcNow, record, clockAheadS);
                await store.SaveAsync(flight);
                Flight = flight;
            }

            var log = new StoredLog(
                Guid.CreateVersion7(),
                Flight.Id,
                work.Assignment.Id,
                work.Assignment.DrillTitle,
                work.Assignment.StudentName,
                time.UtcNow
            );
            await store.SaveAsync(log);
            Log = log;
            marks.Clear();
        });

    /// <summary>Starts the drill's clock; a time ahead of now lets it come.</summary>
    public Task StartClockAsync(DateTimeOffset atUtc) =>
        AloneAsync(async () =>
        {
            if (Log is not { StartedAtUtc: null, EndedAtUtc: null } log)
                return;
            await AddAsync(log, EventKinds.ClockStart, atUtc, null);
            await SaveAsync(Log! with { StartedAtUtc = atUtc });
        });

    /// <summary>Notes that something happened now.</summary>
    public Task MarkAsync(string kind, string? detail = null) =>
        AloneAsync(async () =>
        {
            if (Log is { EndedAtUtc: null } log)
                await AddAsync(log, kind, time.UtcNow, detail);
        });

    /// <summary>Takes the last mark back that still stands.</summary>
    public Task UndoAsync() =>
        AloneAsync(async () =>
        {
            if (Log is not { EndedAtUtc: null } || marks.FindLastIndex(m => !m.Undone) is not (>= 0 and var at))
                return;
            var undone = marks[at] with { Undone = true };
            await store.SaveAsync(undone);
            marks[at] = undone;
            await SaveAsync(Log with { StartedAtUtc = undone.Kind == EventKinds.ClockStart ? null : Log.StartedAtUtc });
        });

    /// <summary>The drill is over; its marks can be sent.</summary>
    public Task EndDrillAsync() =>
        AloneAsync(async () =>
        {
            if (Log is { EndedAtUtc: null } log)
                await SaveAsync(log with { EndedAtUtc = time.UtcNow });
        });

    /// <summary>Puts the drill aside; the flight goes on.</summary>
    public void Leave()
    {
        Log = null;
        marks.Clear();
        Changed?.Invoke();
    }

    /// <summary>The flight is over; its recording can be sent.</summary>
    public Task EndFlightAsync() =>
        AloneAsync(async () =>
        {
            if (Flight is not { } flight)
                return;
            if (Log is { EndedAtUtc: null } log)
                await SaveAsync(log with { EndedAtUtc = time.UtcNow });
            await store.SaveAsync(flight with { EndedAtUtc = time.UtcNow });
            (Flight, Log) = (null, null);
            marks.Clear();
        });

    public void Dispose() => one.Dispose();

    private async Task AddAsync(StoredLog log, string kind, DateTimeOffset atUtc, string? detail)
    {
        var mark = new StoredMark(Guid.CreateVersion7(), log.Id, marks.Count + 1, kind, atUtc, detail);
        await store.SaveAsync(mark);
        marks.Add(mark);
        await SaveAsync(log);
    }

    private async Task SaveAsync(StoredLog log)
    {
        var next = log with { Version = log.Version + 1 };
        await store.SaveAsync(next);
        Log = next;
    }

    /// <summary>Two taps come one after the other, however slow the device writes.</summary>
    private async Task AloneAsync(Func<Task> change)
    {
        await one.WaitAsync();
        try
        {
            await change();
        }
        finally
        {
            one.Release();
        }

        Changed?.Invoke();
    }
}
