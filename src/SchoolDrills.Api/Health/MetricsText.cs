using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using System.Globalization;
using System.Text;

namespace SchoolDrills.Api.Health;

/// <summary>
/// Listens to the meters of the runtime, the web server, Npgsql and SchoolDrills, and writes them in the text format
/// that Prometheus reads. Histograms are given as sum and count: enough for rates and means.
/// </summary>
internal sealed class MetricsText : IDisposable
{
    private static readonly string[] Meters =
    [
        "System.Runtime",
        "Microsoft.AspNetCore.Hosting",
        "Microsoft.AspNetCore.Server.Kestrel",
        "Npgsql",
        "SchoolDrills",
    ];

    private readonly MeterListener _listener = new();
    private readonly ConcurrentDictionary<string, Series> _series = new();

    public MetricsText()
    {
        _listener.InstrumentPublished = (instrument, listener) =>
        {
            if (Meters.Contains(instrument.Meter.Name))
                listener.EnableMeasurementEvents(instrument);
        };
        _listener.SetMeasurementEventCallback<long>((instrument, value, tags, _) => Record(instrument, value, tags));
        _listener.SetMeasurementEventCallback<int>((instrument, value, tags, _) => Record(instrument, value, tags));
        _listener.SetMeasurementEventCallback<double>((instrument, value, tags, _) => Record(instrument, value, tags));
        _listener.Start();
    }

    public void Dispose() => _listener.Dispose();

    /// <summary>Every series as it stands now.</summary>
    public string Write()
    {
        _listener.RecordObservableInstruments();
        var text = new StringBuilder();
        foreach (var family in _series.Values.GroupBy(s => s.Name).OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            text.Append(CultureInfo.InvariantCulture, $"# TYPE {family.Key} {family.First().Kind}\n");
            foreach (var series in family)
                series.Write(text);
        }

        return text.ToString();
    }

    private void Record(Instrument instrument, double value, ReadOnlySpan<KeyValuePair<string, object?>> tags)
    {
        var labels = new StringBuilder();
        foreach (var (key, tag) in tags)
        {
            labels.Append(labels.Length == 0 ? "" : ",").Append(Identifier(key)).Append("=\"");
            labels
                .Append(
                    Convert.ToString(tag, CultureInfo.InvariantCulture)?.Replace("\\", "\\\\").Replace("\"", "\\\"").Replace("\n", "\\n")
                )
                .Append('"');
        }

        _series
            .GetOrAdd($"{instrument.Name}{{{labels}}}", _ => new Series(Identifier(instrument.Name), KindOf(instrument), labels.ToString()))
            .Record(value, instrument.IsObservable);
    }

    private static string Identifier(string name) => name.Replace('.', '_').Replace('-', '_');

    private static string KindOf(Instrument instrument)
    {
        var type = instrument.GetType().Name;
        return type.Contains("Histogram", StringComparison.Ordinal) ? "summary"
            : type.Contains("UpDown", StringComparison.Ordinal) || type.Contains("Gauge", StringComparison.Ordinal) ? "gauge"
            : "counter";
    }

    private sealed class Series(string name, string kind, string labels)
    {
        private readonly Lock _gate = new();
        private double _value;
        private long _count;

        public string Name => name;

        public string Kind => kind;

        /// <summary>An observed value replaces the former one; a reported one adds to it, save for a gauge set outright.</summary>
        public void Record(double value, bool replaces)
        {
            lock (_gate)
            {
                _value = replaces ? value : _value + value;
                _count++;
            }
        }

        public void Write(StringBuilder text)
        {
            var braces = labels.Length == 0 ? "" : $"{{{labels}}}";
            lock (_gate)
            {
                if (kind == "summary")
                    text.Append(CultureInfo.InvariantCulture, $"{name}_sum{braces} {_value}\n{name}_count{braces} {_count}\n");
                else
                    text.Append(CultureInfo.InvariantCulture, $"{name}{braces} {_value}\n");
            }
        }
    }
}
