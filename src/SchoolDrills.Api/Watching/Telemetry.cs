using System.Diagnostics;
using System.Reflection;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Console;
using Npgsql;
using OpenTelemetry;
using OpenTelemetry.Logs;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace SchoolDrills.Api.Watching;

/// <summary>
/// Traces, figures and log to a collector, by the standard <c>OTEL_*</c> settings: on where one names an endpoint, else not there at all.
/// </summary>
internal static class Telemetry
{
    /// <summary>The meters that are ours to tell, here and at <c>/metrics</c>.</summary>
    public static readonly string[] Meters =
    [
        "System.Runtime",
        "Microsoft.AspNetCore.Hosting",
        "Microsoft.AspNetCore.Server.Kestrel",
        "Npgsql",
        Instruments.Meter,
    ];

    public static string Version { get; } =
        typeof(Telemetry).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];

    public static void AddTelemetry(this IHostApplicationBuilder builder)
    {
        builder.Logging.AddConsoleFormatter<LogLines, ConsoleFormatterOptions>();
        builder.Logging.AddConsole(console => console.FormatterName = LogLines.FormatterName);
        var configuration = builder.Configuration;
        if (configuration["OTEL_SDK_DISABLED"] is "true")
            return;
        var telemetry = new Lazy<OpenTelemetryBuilder>(() =>
            builder
                .Services.AddOpenTelemetry()
                // OTEL_SERVICE_NAME and OTEL_RESOURCE_ATTRIBUTES go before these.
                .ConfigureResource(resource =>
                    resource.Clear().AddService("schooldrills", serviceVersion: Version).AddTelemetrySdk().AddEnvironmentVariableDetector()
                )
        );
        if (Asked("TRACES"))
        {
            telemetry.Value.WithTracing(tracing =>
            {
                if (!Says("OTEL_TRACES_SAMPLER"))
                    tracing.SetSampler(new ParentBasedSampler(new NoPolling()));
                tracing
                    .AddSource(Traces.Source, "System.Net.Http")
                    .AddAspNetCoreInstrumentation(requests => requests.Filter = http => !http.Request.Path.StartsWithSegments("/health"))
                    .AddNpgsql()
                    .AddProcessor(new PrivateParts())
                    .AddOtlpExporter();
            });
        }

        if (Asked("METRICS"))
            telemetry.Value.WithMetrics(metrics => metrics.AddMeter(Meters).AddOtlpExporter());
        if (Asked("LOGS"))
        {
            // No scopes: that of a request has its whole address.
            telemetry.Value.WithLogging(logging => logging.AddOtlpExporter(), logs => logs.IncludeFormattedMessage = true);
        }

        bool Asked(string signal) =>
            configuration[$"OTEL_{signal}_EXPORTER"] is not "none"
            && (Says("OTEL_EXPORTER_OTLP_ENDPOINT") || Says($"OTEL_EXPORTER_OTLP_{signal}_ENDPOINT"));

        bool Says(string name) => !string.IsNullOrWhiteSpace(configuration[name]);
    }

    /// <summary>
    /// A call that no request and no job makes is the job servers' looking for work, several times a second: nothing to keep.
    /// </summary>
    private sealed class NoPolling : Sampler
    {
        public override SamplingResult ShouldSample(in SamplingParameters samplingParameters) =>
            new(samplingParameters.Kind == ActivityKind.Client ? SamplingDecision.Drop : SamplingDecision.RecordAndSample);
    }
}
