using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace SchoolDrills.Api.Watching;

/// <summary>
/// The log on the console, each entry with the number of its request's trace: for people, or one JSON object a line where
/// <c>SCHOOLDRILLS_LOG</c> says <c>json</c>. Scopes are left out: that of a request has its whole address, with whatever token is in it.
/// </summary>
internal sealed class LogLines(IConfiguration configuration) : ConsoleFormatter(FormatterName)
{
    public const string FormatterName = "schooldrills";

    private readonly bool json = configuration["SCHOOLDRILLS_LOG"] is "json";

    public override void Write<TState>(in LogEntry<TState> logEntry, IExternalScopeProvider? scopeProvider, TextWriter textWriter)
    {
        var message = logEntry.Formatter(logEntry.State, logEntry.Exception);
        if (json)
            WriteJson(logEntry, message, textWriter);
        else
            WritePlain(logEntry, message, textWriter);
    }

    private static void WritePlain<TState>(in LogEntry<TState> entry, string message, TextWriter to)
    {
        to.Write($"{Word(entry.LogLevel)}: {entry.Category}");
        if (Traces.Number is { } number)
            to.Write($" [{number}]");
        to.WriteLine();
        foreach (var line in $"{message}\n{entry.Exception}".TrimEnd().Split('\n'))
            to.WriteLine($"      {line.TrimEnd('\r')}");
    }

    private static void WriteJson<TState>(in LogEntry<TState> entry, string message, TextWriter to)
    {
        using var bytes = new MemoryStream();
        using (var line = new Utf8JsonWriter(bytes))
        {
            line.WriteStartObject();
            line.WriteString("time", DateTimeOffset.UtcNow);
            line.WriteString("level", entry.LogLevel.ToString());
            line.WriteString("category", entry.Category);
            line.WriteString("message", message);
            if (Activity.Current is { } activity)
            {
                line.WriteString("traceId", activity.TraceId.ToHexString());
                line.WriteString("spanId", activity.SpanId.ToHexString());
            }

            if (entry.Exception is { } fault)
                line.WriteString("exception", fault.ToString());
            if (entry.State is IEnumerable<KeyValuePair<string, object?>> fields)
            {
                line.WriteStartObject("fields");
                foreach (var (name, value) in fields.Where(f => f.Key != "{OriginalFormat}").DistinctBy(f => f.Key))
                    line.WriteString(name, Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture));
                line.WriteEndObject();
            }

            line.WriteEndObject();
        }

        to.WriteLine(Encoding.UTF8.GetString(bytes.GetBuffer(), 0, (int)bytes.Length));
    }

    private static string Word(LogLevel level) =>
        level switch
        {
            LogLevel.Trace => "trce",
            LogLevel.Debug => "dbug",
            LogLevel.Information => "info",
            LogLevel.Warning => "warn",
            LogLevel.Error => "fail",
            _ => "crit",
        };
}
