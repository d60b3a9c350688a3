namespace SchoolDrills.Api.Scoring;

/// <summary>How many recordings a host scores at once, rescored ones among them.</summary>
internal sealed class ScoringSlots : IDisposable
{
    private readonly SemaphoreSlim free = new(Math.Clamp(Environment.ProcessorCount, 1, 8));

    public Task TakeAsync(CancellationToken ct) => free.WaitAsync(ct);

    public void Release() => free.Release();

    public void Dispose() => free.Dispose();
}
