namespace SchoolDrills.Api.Uploads;

/// <summary>Scoring within a request; more at once than there are cores would only make each slower.</summary>
internal static class PreviewSlots
{
    private static readonly SemaphoreSlim Slots = new(Math.Max(1, Environment.ProcessorCount));

    public static async Task<T> RunAsync<T>(Func<T> score, CancellationToken ct)
    {
        await Slots.WaitAsync(ct);
        try
        {
            return await Task.Run(score, ct);
        }
        finally
        {
            Slots.Release();
        }
    }
}
