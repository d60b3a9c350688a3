namespace SchoolDrills.Api.Data.Postgres;

/// <summary>
/// Looks after a server: starts it again at once when it has died, then after a pause that doubles, and gives up in the end.
/// </summary>
internal static class PostgresWatch
{
    /// <summary>How often a running server is looked at.</summary>
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan FirstPause = TimeSpan.FromSeconds(2);

    /// <summary>One that has lived this long since is well again: earlier deaths no longer count.</summary>
    private static readonly TimeSpan Recovered = TimeSpan.FromMinutes(2);

    /// <summary>Then the pause between two tries has grown to half a minute.</summary>
    private const int MostDeaths = 6;

    /// <param name="isRunning">Whether the server lives.</param>
    /// <param name="startAgain">Starts it; answers why it did not start, or null.</param>
    /// <returns>Why it does not live, or null where it was stopped on purpose.</returns>
    public static async Task<string?> RunAsync(Func<bool> isRunning, Func<Task<string?>> startAgain, CancellationToken stop)
    {
        try
        {
            for (var deaths = 0; ; await Task.Delay(Look, stop))
            {
                var aliveSince = DateTime.UtcNow;
                while (isRunning())
                    await Task.Delay(Look, stop);
                deaths = DateTime.UtcNow - aliveSince > Recovered ? 1 : deaths + 1;
                if (deaths > 1)
                    await Task.Delay(FirstPause * Math.Pow(2, deaths - 2), stop);
                var problem = await startAgain();
                if (problem is not null && deaths >= MostDeaths)
                    return problem;
                Console.Error.WriteLine(
                    problem is null
                        ? "PostgreSQL had died and was started again."
                        : $"PostgreSQL has died and did not start: {problem} Trying again."
                );
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            return null;
        }
    }
}
