namespace SchoolDrills.Api.Uploads;

/// <summary>
/// Work of the engine within requests: as many at once as there are cores, so that none is slower for the others and what they hold in
/// memory is bounded. A request takes its slot once, around all of it.
/// </summary>
internal static class EngineSlots
{
    private static readonly SemaphoreSlim Slots = new(Environment.ProcessorCount);

    public static async Task<T> RunAsync<T>(Func<Task<T>> work, CancellationToken ct)
    {
        await Slots.WaitAsync(ct);
        try
        {
            return await work();
        }
        finally
        {
            Slots.Release();
        }
    }
}
