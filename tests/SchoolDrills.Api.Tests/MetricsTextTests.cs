using System.Diagnostics.Metrics;
using SchoolDrills.Api.Health;
using Xunit;

namespace SchoolDrills.Api.Tests;

public sealed class MetricsTextTests
{
    [Fact]
    public void Counters_add_up_by_label_and_histograms_tell_sum_and_count()
    {
        using var metrics = new MetricsText();
        using var meter = new Meter("SchoolDrills");
        var uploads = meter.CreateCounter<long>("schooldrills.test.uploads");
        uploads.Add(2, new KeyValuePair<string, object?>("format", "gpx"));
        uploads.Add(1, new KeyValuePair<string, object?>("format", "gpx"));
        uploads.Add(1, new KeyValuePair<string, object?>("format", "a \"quoted\" one"));
        var durations = meter.CreateHistogram<double>("schooldrills.test.duration");
        durations.Record(0.5);
        durations.Record(1.25);
        meter.CreateObservableGauge("schooldrills.test.waiting", () => 7);

        var lines = metrics.Write().Split('\n');
        Assert.Contains("# TYPE schooldrills_test_uploads counter", lines);
        Assert.Contains("""schooldrills_test_uploads{format="gpx"} 3""", lines);
        Assert.Contains("""schooldrills_test_uploads{format="a \"quoted\" one"} 1""", lines);
        Assert.Contains("schooldrills_test_duration_sum 1.75", lines);
        Assert.Contains("schooldrills_test_duration_count 2", lines);
        Assert.Contains("schooldrills_test_waiting 7", lines);
    }

    [Fact]
    public void Meters_of_others_are_left_alone()
    {
        using var metrics = new MetricsText();
        using var meter = new Meter("Somebody.Else");
        meter.CreateCounter<long>("somebody.count").Add(1);
        Assert.DoesNotContain("somebody", metrics.Write(), StringComparison.Ordinal);
    }
}
