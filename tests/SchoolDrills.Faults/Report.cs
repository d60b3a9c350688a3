using System.Globalization;

namespace SchoolDrills.Faults;

/// <summary>The run as a Markdown table; what is wrong follows, line by line.</summary>
internal static class Report
{
    private const int MostLines = 20;

    public static void Print(FaultOptions options, Site site, Ledger ledger, FaultMaker faults, Verdict verdict)
    {
        Console.WriteLine();
        Console.WriteLine("| | |");
        Console.WriteLine("| --- | --- |");
        Row("uploads, clients, seed", $"{options.Uploads}, {options.Clients}, {options.Seed}");
        Row("accepted", Count(ledger.Accepted.DistinctBy(a => a.AttemptId).Count()));
        foreach (var (host, times) in site.Proxy.AcceptedBy.OrderBy(h => h.Key, StringComparer.Ordinal))
            Row($"accepted by {host}", Count(times));
        Row("sent again", Count(ledger.Again));
        foreach (var (status, times) in ledger.Refused.OrderBy(r => r.Key, StringComparer.Ordinal))
            Row($"refused with {status.Trim()}", Count(times));
        Row("connections broken", Count(ledger.Broken));
        Row("passed to the next host by the proxy", Count(site.Proxy.PassedToNext));
        Row("page's connection made", Count(verdict.PageConnections));
        foreach (var kind in faults.Made.GroupBy(f => f.Kind).OrderBy(k => k.Key, StringComparer.Ordinal))
            Row(kind.Key, $"{Count(kind.Count())} times");
        if (site.Disk is null)
            Row("filled the disk", "not done: a small disk may not be mounted here");
        if (site.Hosts[0].Clock is null)
            Row("set the clock wrong", "not done: it takes Linux and a C compiler (cc)");
        if (options.OlderHost is not null)
            Row("hosts still of the older version", Count(site.Hosts.Count(h => h.IsOlder)));
        Row("given up", Count(verdict.GivenUp));
        Row("lost", Count(verdict.Lost.Count));
        Row("doubled", Count(verdict.Doubled.Count));
        Row("unscored", Count(verdict.Unscored.Count));
        Row("without one audit entry", Count(verdict.Unaudited.Count));
        Row("kept without an answer", Count(verdict.Unanswered));
        Row("jobs that hang", Count(verdict.Jobs.Count));
        Row("refusals that do not say what to do", Count(verdict.Unclear));
        Row("longest from upload to score, by one clock", string.Create(CultureInfo.InvariantCulture, $"{verdict.LongestScoringS:0.0} s"));
        Row("calm after the last fault", string.Create(CultureInfo.InvariantCulture, $"{verdict.CalmAfter.TotalSeconds:0.0} s"));
        Console.WriteLine();
        IEnumerable<string> wrong =
        [
            .. verdict.Lost,
            .. verdict.Doubled,
            .. verdict.Unscored,
            .. verdict.Unaudited,
            .. verdict.Jobs,
            .. ledger.Unclear,
            .. verdict.PageIsOpen ? Array.Empty<string>() : ["the page's connection is not open"],
        ];
        foreach (var line in wrong.Take(MostLines))
            Console.WriteLine($"- {line}");
        Console.WriteLine(verdict.IsGood ? "Nothing was lost, doubled or left." : "Something was lost, doubled, left or left unsaid.");
    }

    private static void Row(string name, string value) => Console.WriteLine($"| {name} | {value} |");

    private static string Count(int number) => number.ToString(CultureInfo.InvariantCulture);
}
