using System.Diagnostics.Metrics;
using Microsoft.Extensions.Logging;

namespace SchoolDrills.Api.Watching;

/// <summary>
/// What this host measures of itself, under OpenTelemetry's conventions for names and units. Tags have a few fixed words each: no school,
/// person, address or recording is ever one.
/// </summary>
internal sealed class Instruments
{
    public const string Meter = "SchoolDrills";

    /// <summary>Seconds; scoring takes from a tenth of a second to a minute or so, a wait up to hours.</summary>
    private static readonly InstrumentAdvice<double> ScoringS =
            new() { HistogramBucketBoundaries = [0.1, 0.25, 0.5, 1, 2, 4, 8, 15, 30, 60, 120] },
        TurnaroundS = new() { HistogramBucketBoundaries = [1, 2, 5, 10, 20, 60, 120, 300, 600, 1_800, 3_600, 14_400] };

    private readonly Histogram<double> scoring,
        turnaround;
    private readonly Counter<long> refusals,
        uploads,
        uploadBytes;

    private IReadOnlyDictionary<string, bool>? checks;
    private bool ready;

    private readonly ILogger log;

    public Instruments(IMeterFactory meters, ILogger<Instruments> log)
    {
        this.log = log;
        Own = meters.Create(Meter);
        scoring = Own.CreateHistogram("schooldrills.scoring.duration", "s", "Time one run of the scoring job took", null, ScoringS);
        turnaround = Own.CreateHistogram(
            "schooldrills.scoring.turnaround",
            "s",
            "Time from a recording's being accepted to its first score",
            null,
            TurnaroundS
        );
        refusals = Own.CreateCounter<long>("schooldrills.refusals", "{refusal}", "Requests refused, by type of problem and status");
        uploads = Own.CreateCounter<long>("schooldrills.uploads", "{recording}", "Recordings accepted");
        uploadBytes = Own.CreateCounter<long>("schooldrills.uploads.size", "By", "Bytes of the recordings accepted, as they were sent");
        Own.CreateObservableGauge("schooldrills.ready", Ready, null, "1 while all checks of /health/ready let the host serve, else 0");
        Own.CreateObservableGauge(
            "schooldrills.check.healthy",
            Checks,
            null,
            "1 while a check of /health/ready finds nothing amiss, else 0"
        );
    }

    /// <summary>For gauges of others.</summary>
    public Meter Own { get; }

    public void Accepted(long bytes)
    {
        uploads.Add(1);
        uploadBytes.Add(bytes);
    }

    /// <param name="type">Of <see cref="Problems"/>; whatever the framework says by itself counts as <c>http</c>.</param>
    public void Refused(string? type, int status) =>
        refusals.Add(1, new("error.type", Problems.ShortType(type) ?? "http"), new("http.response.status_code", status));

    public void Checked(bool isReady, IReadOnlyDictionary<string, bool> healthy) => (ready, checks) = (isReady, healthy);

    /// <summary>To be disposed when the run is over, and told before how it ended; what ends untold has failed.</summary>
    /// <param name="sentAtUtc">When the recording came in, where this is to be its first score.</param>
    public ScoringRun Scoring(DateTimeOffset? sentAtUtc, TimeProvider clock, CancellationToken ct) => new(this, sentAtUtc, clock, ct);

    private IEnumerable<Measurement<int>> Ready() => checks is null ? [] : [new(ready ? 1 : 0)];

    private IEnumerable<Measurement<int>> Checks() =>
        (checks ?? new Dictionary<string, bool>()).Select(c => new Measurement<int>(
            c.Value ? 1 : 0,
            new KeyValuePair<string, object?>("schooldrills.check", c.Key)
        ));

    public sealed class ScoringRun(Instruments instruments, DateTimeOffset? sentAtUtc, TimeProvider clock, CancellationToken ct)
        : IDisposable
    {
        private readonly long began = clock.GetTimestamp();
        private string outcome = "failed";

        public void Ended(bool scored)
        {
            outcome = scored ? "scored" : "unscorable";
            Traces.TellOutcome(outcome);
            if (scored && sentAtUtc is { } sent)
                instruments.turnaround.Record((clock.GetUtcNow() - sent).TotalSeconds);
        }

        public void Dispose()
        {
            // A host that stops has not failed: the job is taken up by another.
            if (outcome == "failed" && ct.IsCancellationRequested)
                return;
            var took = clock.GetElapsedTime(began);
            instruments.log.LogInformation("A recording ended as {Outcome} after {DurationS:0.0} s", outcome, took.TotalSeconds);
            instruments.scoring.Record(took.TotalSeconds, new KeyValuePair<string, object?>("schooldrills.outcome", outcome));
        }
    }
}
