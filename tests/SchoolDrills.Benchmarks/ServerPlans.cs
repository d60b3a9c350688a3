using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Npgsql;

namespace SchoolDrills.Benchmarks;

/// <summary>Rows and pages that the statements of one request read.</summary>
internal readonly record struct ReadCount(long Answer, long Rows, long Buffers);

/// <summary>
/// The plans by which a server answers a request, as it explains them to its own log from opening to disposal. For a throw-away
/// database alone.
/// </summary>
internal sealed partial class ServerPlans : IAsyncDisposable
{
    private const int Statements = 4,
        Nodes = 6,
        Width = 130;

    /// <summary>The log the private server's output goes to, where it keeps none itself.</summary>
    private const string Log = "coalesce(pg_current_logfile(), '../server.log')";

    private static readonly string[] Settings =
    [
        "session_preload_libraries = 'auto_explain'",
        "auto_explain.log_min_duration = 0",
        "auto_explain.log_analyze = on",
        "auto_explain.log_timing = off",
        "auto_explain.log_buffers = on",
        "auto_explain.log_format = 'json'",
        "log_line_prefix = '@ '",
    ];

    private readonly NpgsqlConnection owner;

    private ServerPlans(NpgsqlConnection owner) => this.owner = owner;

    public static async Task<ServerPlans> OpenAsync(string owner)
    {
        var connection = new NpgsqlConnection(owner);
        await connection.OpenAsync();
        var plans = new ServerPlans(connection);
        // Loaded here first, or its settings are unknown.
        await plans.RunAsync("load 'auto_explain'");
        await plans.SetAsync([.. Settings.Select(s => $"alter system set {s}")]);
        return plans;
    }

    /// <summary>What a request reads once its session is warm, and the bytes of its answer.</summary>
    public async Task<ReadCount> CountAsync(Func<Task<long>> askAsync)
    {
        var (bytes, plans) = await ExplainedAsync(askAsync);
        var read = new ReadCount(bytes, 0, 0);
        foreach (var plan in plans)
        {
            var top = plan.GetProperty("Plan");
            read = read with { Rows = read.Rows + RowsOf(top), Buffers = read.Buffers + BuffersOf(top) };
        }

        return read;
    }

    /// <summary>Prints the dearest statements of a request with the top of their plans.</summary>
    public async Task PrintAsync(string name, Func<Task<long>> askAsync)
    {
        var plans = (await ExplainedAsync(askAsync)).Plans.OrderByDescending(p => BuffersOf(p.GetProperty("Plan"))).ToList();
        Console.WriteLine($"\n### {name}: {plans.Count} statements, the dearest {Math.Min(Statements, plans.Count)}\n");
        foreach (var plan in plans.Take(Statements))
        {
            var top = plan.GetProperty("Plan");
            Console.WriteLine(
                $"    {BuffersOf(top):#,0} buffers: {Cut(Spaces().Replace(plan.GetProperty("Query Text").GetString()!, " "))}"
            );
            foreach (var (node, depth) in NodesOf(top, 0).Where(n => BuffersOf(n.Node) > 0).Take(Nodes))
                Console.WriteLine($"      {new string(' ', 2 * depth)}{Cut(Line(node))}");
        }
    }

    public async ValueTask DisposeAsync()
    {
        await SetAsync([.. Settings.Select(s => $"alter system reset {s[..s.IndexOf(' ', StringComparison.Ordinal)]}")]);
        await owner.DisposeAsync();
    }

    private async Task<(long Answer, List<JsonElement> Plans)> ExplainedAsync(Func<Task<long>> askAsync)
    {
        // Connections the host held are gone; it notices as it uses them. The second answer is from a warm session.
        await RetriedAsync(askAsync);
        var from = await ReadAsync<long>($"select size from pg_stat_file({Log})");
        var bytes = await RetriedAsync(askAsync);
        var log = await ReadAsync<string>($"select pg_read_file({Log}, {from}, 200000000)");
        var plans = Plan().Matches(log).Select(m => JsonDocument.Parse(m.Groups["json"].Value).RootElement);
        return (
            bytes,
            [.. plans.Where(p => !p.GetProperty("Query Text").GetString()!.Contains("hangfire", StringComparison.OrdinalIgnoreCase))]
        );
    }

    private static IEnumerable<(JsonElement Node, int Depth)> NodesOf(JsonElement node, int depth)
    {
        yield return (node, depth);
        if (!node.TryGetProperty("Plans", out var below))
            yield break;
        foreach (var found in below.EnumerateArray().SelectMany(b => NodesOf(b, depth + 1)))
            yield return found;
    }

    /// <summary>Rows the scans came by, those they threw away included.</summary>
    private static long RowsOf(JsonElement top) =>
        (long)
            NodesOf(top, 0)
                .Select(n => n.Node)
                .Where(n => n.TryGetProperty("Relation Name", out _))
                .Sum(n => (Number(n, "Actual Rows") + Number(n, "Rows Removed by Filter")) * Number(n, "Actual Loops"));

    private static long BuffersOf(JsonElement node) => (long)(Number(node, "Shared Hit Blocks") + Number(node, "Shared Read Blocks"));

    private static string Line(JsonElement node)
    {
        var what = node.TryGetProperty("Index Name", out var index) || node.TryGetProperty("Relation Name", out index) ? $" {index}" : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{node.GetProperty("Node Type")}{what}: {Number(node, "Actual Rows"):#,0} rows, {Number(node, "Rows Removed by Filter"):#,0} "
                + $"thrown away, {Number(node, "Actual Loops"):#,0} times, {BuffersOf(node):#,0} buffers"
        );
    }

    private static double Number(JsonElement node, string name) => node.TryGetProperty(name, out var value) ? value.GetDouble() : 0;

    private static string Cut(string line) => line.Length > Width ? line[..Width] + "…" : line;

    private static async Task<long> RetriedAsync(Func<Task<long>> askAsync)
    {
        for (var left = 20; ; left--)
        {
            try
            {
                return await askAsync();
            }
            catch (HttpRequestException) when (left > 0)
            {
                await Task.Delay(50);
            }
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

    [GeneratedRegex(@"LOG:  duration: [\d.]+ ms  plan:\n(?<json>\t\{\n(?:\t.*\n)*?\t\}\n)")]
    private static partial Regex Plan();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
