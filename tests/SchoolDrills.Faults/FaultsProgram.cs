using System.Globalization;
using System.Runtime.InteropServices;

namespace SchoolDrills.Faults;

/// <summary>
/// Two hosts that serve and two that score, on one database behind one proxy, to which students send recordings while processes are
/// killed, frozen and cut off. In the end every recording that was accepted has to be there once, unchanged and scored.
/// </summary>
internal static class FaultsProgram
{
    private static async Task<int> Main(string[] args)
    {
        var (options, problem) = FaultOptions.Read(args);
        if (options is null)
        {
            Console.Error.WriteLine(problem);
            return 1;
        }

        using var stop = new CancellationTokenSource();
        using var terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
        using var interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
        await using var site = new Site();
        try
        {
            return await RunAsync(options, site, stop.Token);
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            Console.Error.WriteLine("Stopped before its end.");
            return 1;
        }

        void Stop(PosixSignalContext signal)
        {
            signal.Cancel = true;
            stop.Cancel();
        }
    }

    private static async Task<int> RunAsync(FaultOptions options, Site site, CancellationToken ct)
    {
        await site.StartAsync(options.OlderHost, ct);
        var ledger = new Ledger();
        var school = await School.MakeAsync(site, options.Clients, ct);
        await using var page = PageConnection.Open(site.Proxy.Address);
        using var time = CancellationTokenSource.CreateLinkedTokenSource(ct);
        time.CancelAfter(TimeSpan.FromMinutes(options.MinutesMost));
        var faults = new FaultMaker(site, options, ledger);
        var senders = school.Students.Select(s => new Sender(site.Proxy.Address, s, options, ledger, faults)).ToList();
        try
        {
            await Task.WhenAll([.. senders.Select(s => s.RunAsync(time.Token)), faults.RunAsync(time.Token)]);
        }
        catch (OperationCanceledException) when (time.IsCancellationRequested && !ct.IsCancellationRequested)
        {
            Console.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"{options.MinutesMost} minutes are over: nothing more is sent.")
            );
        }

        await faults.CalmAsync();
        var verdict = await FinalCheck.RunAsync(site, school, ledger, page, ct);
        foreach (var sender in senders)
            sender.Dispose();
        Report.Print(options, site, ledger, faults, verdict);
        return verdict.IsGood ? 0 : 1;
    }
}
