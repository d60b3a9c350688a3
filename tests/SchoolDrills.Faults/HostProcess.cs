using System.Diagnostics;

namespace SchoolDrills.Faults;

/// <summary>
/// One host as a process, with a line to the database of its own. Started again whenever it ends, as a supervisor would; each time on
/// another port.
/// </summary>
internal sealed class HostProcess : IAsyncDisposable
{
    public const string Program = "SchoolDrills.Web.dll";
    private const string Ready = "SchoolDrills is ready at ";
    private static readonly TimeSpan RestartPause = TimeSpan.FromSeconds(1);

    private readonly string logFile;
    private readonly string? spoolFolder;
    private string? olderHost;
    private readonly CancellationTokenSource stopping = new();
    private readonly TaskCompletionSource firstReady = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task running;
    private Process? process;

    /// <param name="olderHost">Where the version is that it begins as; once that has ended, it is of the present one.</param>
    public HostProcess(string name, string role, DatabaseLine line, string folder, string? spoolFolder, string? olderHost)
    {
        this.olderHost = olderHost;
        Clock = HostClock.Make(folder, name);
        Name = name;
        Role = role;
        Line = line;
        this.spoolFolder = spoolFolder;
        logFile = Path.Combine(folder, name + ".log");
        running = KeepRunningAsync();
    }

    public string Name { get; }

    public string Role { get; }

    public DatabaseLine Line { get; }

    /// <summary>Its own; null where none can be set.</summary>
    public HostClock? Clock { get; }

    public bool IsOlder => olderHost is not null;

    /// <summary>Where it serves; null while it does not.</summary>
    public Uri? Address { get; private set; }

    public Task FirstReady => firstReady.Task;

    /// <summary>Runs a command of the host's program, and answers what it prints.</summary>
    public static async Task<string> CommandAsync(string command, DatabaseLine line, CancellationToken ct)
    {
        using var process = Process.Start(StartInfo([command], line))!;
        var error = process.StandardError.ReadToEndAsync(ct);
        var output = await process.StandardOutput.ReadToEndAsync(ct);
        await process.WaitForExitAsync(ct);
        return process.ExitCode == 0 ? output : throw new InvalidOperationException($"{command} failed: {await error}");
    }

    /// <returns>Whether there was a process to send it to.</returns>
    public async Task<bool> SignalAsync(string signal)
    {
        if (process is not { } present)
            return false;
        try
        {
            await Signals.SendAsync(signal, present.Id);
            return true;
        }
        catch (InvalidOperationException)
        {
            return false;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await stopping.CancelAsync();
        await SignalAsync(Signals.Thaw);
        await SignalAsync(Signals.End);
        await Task.WhenAny(running, Task.Delay(TimeSpan.FromSeconds(30)));
        if (!running.IsCompleted)
            await SignalAsync(Signals.Kill);
        await running;
        stopping.Dispose();
    }

    private static ProcessStartInfo StartInfo(IEnumerable<string> arguments, DatabaseLine line, string? from = null)
    {
        from ??= AppContext.BaseDirectory;
        var start = new ProcessStartInfo("dotnet", [Path.Combine(from, Program), .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = from,
        };
        start.Environment["ConnectionStrings__SchoolDrills"] = line.OwnerConnectionString;
        start.Environment["SCHOOLDRILLS_DEMO"] = "0";
        start.Environment["SCHOOLDRILLS_METRICS"] = "off";
        start.Environment["SCHOOLDRILLS_PROXY"] = "127.0.0.1";
        return start;
    }

    private async Task KeepRunningAsync()
    {
        await using var log = new StreamWriter(logFile) { AutoFlush = true };
        while (!stopping.IsCancellationRequested)
        {
            var start = StartInfo(["--role", Role, "--urls", "http://127.0.0.1:0"], Line, olderHost);
            Clock?.AddTo(start);
            if (spoolFolder is not null)
                start.Environment["ASPNETCORE_TEMP"] = spoolFolder;
            using var started = Process.Start(start)!;
            process = started;
            var error = CopyAsync(started.StandardError, log);
            await CopyAsync(started.StandardOutput, log);
            await error;
            await started.WaitForExitAsync(CancellationToken.None);
            Address = null;
            process = null;
            olderHost = null;
            await Task.Delay(RestartPause, stopping.Token).ContinueWith(_ => { }, TaskScheduler.Default);
        }
    }

    private async Task CopyAsync(StreamReader said, StreamWriter log)
    {
        while (await said.ReadLineAsync(CancellationToken.None) is { } line)
        {
            if (line.StartsWith(Ready, StringComparison.Ordinal))
            {
                Address = new Uri(line[Ready.Length..]);
                firstReady.TrySetResult();
            }

            lock (log)
                log.WriteLine(line);
        }
    }
}
