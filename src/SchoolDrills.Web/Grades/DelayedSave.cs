namespace SchoolDrills.Web.Grades;

/// <summary>Saves a moment after the last change, one save at a time.</summary>
internal sealed class DelayedSave(TimeSpan delay, Func<Task> save) : IDisposable
{
    private CancellationTokenSource? waiting;
    private Task latest = Task.CompletedTask;

    public bool IsIdle => latest.IsCompleted;

    /// <summary>Ends when the change, or a later one in its place, is saved or given up.</summary>
    public Task ChangedAsync()
    {
        waiting?.Cancel();
        waiting = new CancellationTokenSource();
        return latest = SaveAfterAsync(latest, waiting.Token);
    }

    /// <summary>Gives up what waits to be saved and ends with the save under way.</summary>
    public Task StopAsync()
    {
        waiting?.Cancel();
        return latest;
    }

    public void Dispose() => waiting?.Cancel();

    private async Task SaveAfterAsync(Task before, CancellationToken replaced)
    {
        try
        {
            await Task.Delay(delay, replaced);
            await before;
            replaced.ThrowIfCancellationRequested();
        }
        catch (OperationCanceledException)
        {
            await before;
            return;
        }

        await save();
    }
}
