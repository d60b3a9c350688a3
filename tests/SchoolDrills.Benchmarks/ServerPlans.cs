using System.Globalization;
using System.Text.RegularExpressions;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>The plans by which a server answers requests, as it explains them to its own log. For a throw-away database alone.</summary>
internal sealed partial class ServerPlans(NpgsqlConnection owner)
{
    private const int Statements = 4,
        Nodes = 4,
        Width = 130;

    /// <summary>The log the private server's output goes to, where it keeps none itself.</summary>
    private const string Log = "coalesce(pg_current_logfile(), '../server.log')";

    private static readonly string[] Settings =
    [
        "session_preload_libraries = 'auto_explain'",
        "auto_explain.log_min_duration = 0",
        "auto_explain.log_analyze = on",
        "auto_explain.log_buffers = on",
        "auto_explain.log_nested_statements = on",
    ];

    /// <summary>Asks each once and prints its slowest statements with the top of their plans.</summary>
    public async Task PrintAsync(IEnumerable<(string Name, Func<Task> AskAsync)> requests)
    {
        // Loaded here first, or its settings are unknown.
        await RunAsync("load 'auto_explain'");
        await SetAsync([.. Settings.Select(s => $"alter system set {s}")]);
        foreach (var (name, askAsync) in requests)
        {
            // Connections the host held are gone; it notices as it uses them. The second answer is from a warm session.
            await RetriedAsync(askAsync);
            var from = await ReadAsync<long>($"select size from pg_stat_file({Log})");
            await RetriedAsync(askAsync);
            Print(name, await ReadAsync<string>($"select pg_read_file({Log}, {from}, 100000000)"));
        }

        await SetAsync([.. Settings.Select(s => $"alter system reset {s[..s.IndexOf(' ', StringComparison.Ordinal)]}")]);
    }

    private static void Print(string name, string log)
    {
        var plans = Plan().Matches(log).Where(p => !p.Groups["text"].Value.Contains("hangfire", StringComparison.Ordinal)).ToList();
        Console.WriteLine($"\n### {name}: {plans.Count} statements, the slowest {Math.Min(Statements, plans.Count)}\n");
        foreach (
            var plan in plans.OrderByDescending(p => double.Parse(p.Groups["ms"].Value, CultureInfo.InvariantCulture)).Take(Statements)
        )
        {
            var lines = plan.Groups["text"].Value.Split('\n');
            var top = lines.SkipWhile(l => !l.Contains("(cost=", StringComparison.Ordinal)).ToList();
            var query = string.Join(' ', lines[..(lines.Length - top.Count)].Select(l => l.Trim()));
            Console.WriteLine($"    {plan.Groups["ms"].Value} ms: {Cut(query["Query Text: ".Length..].Trim())}");
            foreach (var line in top.Where(l => l.Contains("actual", StringComparison.Ordinal)).Take(Nodes))
                Console.WriteLine($"      {Cut(Estimate().Replace(line.TrimStart('\t'), ""))}");
            Console.WriteLine($"      {top.Find(l => l.Contains("Buffers:", StringComparison.Ordinal))?.Trim() ?? "no buffers"}");
        }
    }

    private static string Cut(string line) => line.Length > Width ? line[..Width] + "…" : line;

    private static async Task RetriedAsync(Func<Task> askAsync)
    {
        for (var left = 10; ; left--)
        {
            try
            {
                await askAsync();
                return;
            }
            catch (HttpRequestException) when (left > 0) { }
        }
    }

    /// <summary>Settings for sessions to come; those of the host end.</summary>
    private async Task SetAsync(string[] settings)
    {
        foreach (var setting in settings)
            await RunAsync(setting);
        await RunAsync("select pg_reload_conf()");
        await RunAsync(
            """
            select pg_terminate_backend(pid) from pg_stat_activity
            where datname = current_database() and pid <> pg_backend_pid() and backend_type = 'client backend'
            """
        );
    }

    private async Task RunAsync(string sql)
    {
        await using var command = new NpgsqlCommand(sql, owner);
        await command.ExecuteNonQueryAsync();
    }

    private async Task<T> ReadAsync<T>(string sql)
    {
        await using var command = new NpgsqlCommand(sql, owner);
        return (T)(await command.ExecuteScalarAsync())!;
    }

    [GeneratedRegex(@"LOG:  duration: (?<ms>[\d.]+) ms  plan:\n(?<text>(?:\t.*\n)*)")]
    private static partial Regex Plan();

    [GeneratedRegex(@"\(cost=[^)]*\) ")]
    private static partial Regex Estimate();
}
