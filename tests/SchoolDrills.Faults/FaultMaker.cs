using System.Diagnostics;
using System.Globalization;

namespace SchoolDrills.Faults;

/// <summary>A fault as it was made, and when after the start.</summary>
internal sealed record FaultMade(string Kind, string Where, TimeSpan At);

/// <summary>
/// Makes faults one after the other, in an order that the seed alone decides: each kind once, then each once more in another order.
/// What a fault leaves behind, such as a host that starts again, goes on into the next.
/// </summary>
internal sealed class FaultMaker
{
    /// <summary>How many kinds there are.</summary>
    public const int Kinds = 9;

    /// <summary>A database that dies more often is not started again at once: that is for one that cannot live.</summary>
    private static readonly TimeSpan BetweenDatabaseKills = TimeSpan.FromSeconds(130);

    private readonly Site site;
    private readonly FaultOptions options;
    private readonly Ledger ledger;
    private readonly Random random;
    private readonly Stopwatch time = Stopwatch.StartNew();
    private readonly List<FaultMade> made = [];
    private readonly TaskCompletionSource[] reached;
    private TimeSpan databaseKilled = -BetweenDatabaseKills;

    public FaultMaker(Site site, FaultOptions options, Ledger ledger)
    {
        this.site = site;
        this.options = options;
        this.ledger = ledger;
        random = new Random(options.Seed);
        reached =
        [
            .. Enumerable
                .Range(0, options.Faults + 1)
                .Select(_ => new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)),
        ];
        reached[0].SetResult();
    }

    public IReadOnlyList<FaultMade> Made => made;

    /// <summary>Ends once so many faults are begun.</summary>
    public Task ReachedAsync(int faults, CancellationToken ct) => reached[faults].Task.WaitAsync(ct);

    public async Task RunAsync(CancellationToken ct)
    {
        var bag = new Queue<Func<CancellationToken, Task>>();
        for (var number = 1; number <= options.Faults; number++)
        {
            if (bag.Count == 0)
                bag = new Queue<Func<CancellationToken, Task>>(Shuffled());
            await BeforeAsync(number, ct);
            reached[number].SetResult();
            await bag.Dequeue()(ct);
        }
    }

    /// <summary>Takes back whatever was left when the time was over.</summary>
    public async Task CalmAsync()
    {
        site.Disk?.Empty();
        foreach (var host in site.Hosts)
        {
            host.Line.Mend();
            host.Clock?.Set(TimeSpan.Zero);
            await host.SignalAsync(Signals.Thaw);
        }
    }

    private Func<CancellationToken, Task>[] Shuffled()
    {
        Func<CancellationToken, Task>[] kinds =
        [
            ct => KillAsync("web", ct),
            ct => KillAsync("worker", ct),
            ct => FreezeAsync("web", ct),
            ct => FreezeAsync("worker", ct),
            KillDatabaseAsync,
            CutAsync,
            SlowAsync,
            FillDiskAsync,
            SetClockAsync,
        ];
        Debug.Assert(kinds.Length == Kinds);
        random.Shuffle(kinds);
        return kinds;
    }

    /// <summary>Waits until as large a part of the uploads is begun as of the faults, and then for a moment.</summary>
    private async Task BeforeAsync(int number, CancellationToken ct)
    {
        var begun = (number - 1) * options.Uploads / options.Faults;
        while (ledger.Begun < begun)
            await Task.Delay(50, ct);
        await Task.Delay(TimeSpan.FromSeconds(0.5 + random.NextDouble()), ct);
    }

    private async Task KillAsync(string role, CancellationToken ct)
    {
        ct.ThrowIfCancellationRequested();
        var host = Pick(role);
        Note($"killed a {role}", host.IsOlder ? host.Name + ", of the older version" : host.Name);
        await host.SignalAsync(Signals.Kill);
    }

    private async Task FreezeAsync(string role, CancellationToken ct)
    {
        var host = Pick(role);
        Note($"froze a {role}", host.Name);
        await host.SignalAsync(Signals.Freeze);
        await SecondsAsync(2, 5, ct);
        await host.SignalAsync(Signals.Thaw);
    }

    private async Task KillDatabaseAsync(CancellationToken ct)
    {
        if (time.Elapsed - databaseKilled < BetweenDatabaseKills)
        {
            await CutAsync(ct);
            return;
        }

        databaseKilled = time.Elapsed;
        Note("killed the database", "database");
        await site.KillDatabaseAsync();
    }

    private async Task CutAsync(CancellationToken ct)
    {
        var host = site.Hosts[random.Next(site.Hosts.Count)];
        Note("cut the line to the database", host.Name);
        host.Line.Cut();
        await SecondsAsync(1, 4, ct);
        host.Line.Mend();
    }

    private async Task SlowAsync(CancellationToken ct)
    {
        var host = site.Hosts[random.Next(site.Hosts.Count)];
        Note("slowed the line to the database", host.Name);
        host.Line.Slow(TimeSpan.FromMilliseconds(20 + random.Next(130)));
        await SecondsAsync(3, 6, ct);
        host.Line.Mend();
    }

    private async Task FillDiskAsync(CancellationToken ct)
    {
        if (site.Disk is null)
        {
            await CutAsync(ct);
            return;
        }

        Note("filled the disk", "web 1 and web 2");
        await site.Disk.FillAsync();
        await SecondsAsync(3, 6, ct);
        site.Disk.Empty();
    }

    /// <summary>A clock that was set wrong stays so through the next faults, until it is this fault's turn again.</summary>
    private async Task SetClockAsync(CancellationToken ct)
    {
        if (site.Hosts[0].Clock is null)
        {
            await CutAsync(ct);
            return;
        }

        if (site.Hosts.FirstOrDefault(h => h.Clock!.Ahead != TimeSpan.Zero) is { } wrong)
        {
            Note("set the clock right", wrong.Name);
            wrong.Clock!.Set(TimeSpan.Zero);
            return;
        }

        var host = site.Hosts[random.Next(site.Hosts.Count)];
        var ahead = TimeSpan.FromHours(HostClock.LeastHours + random.Next(4)) * (random.Next(2) == 0 ? -1 : 1);
        Note("set the clock wrong", string.Create(CultureInfo.InvariantCulture, $"{host.Name}, {ahead.TotalHours:+0;-0} h"));
        host.Clock!.Set(ahead);
        await SecondsAsync(3, 6, ct);
    }

    private HostProcess Pick(string role)
    {
        var hosts = site.Of(role).ToList();
        return hosts[random.Next(hosts.Count)];
    }

    private Task SecondsAsync(int least, int most, CancellationToken ct) =>
        Task.Delay(TimeSpan.FromSeconds(least + (most - least) * random.NextDouble()), ct);

    private void Note(string kind, string where)
    {
        made.Add(new FaultMade(kind, where, time.Elapsed));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{time.Elapsed.TotalSeconds, 6:0.0} s  {kind} ({where})"));
    }
}
