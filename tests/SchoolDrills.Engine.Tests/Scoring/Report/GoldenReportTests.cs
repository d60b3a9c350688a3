using System.Text.Json;
using System.Text.Json.Nodes;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>
/// One recording with its whole report, member by member: whatever changes shows with its path. SCHOOLDRILLS_WRITE_GOLDEN=1 writes
/// the report anew, for a change that is meant.
/// </summary>
public sealed class GoldenReportTests
{
    private const string Recorded = "f13.csv",
        Drill = "timed-turns";

    /// <summary>How far a number may be off, by the ending of its name: a processor's last digits, not a change of method.</summary>
    private static readonly (string Ending, double Within)[] Tolerances =
    [
        ("Deg", 0.05),
        ("DegTrue", 1),
        ("Kt", 0.1),
        ("S", 0.1),
        ("Share", 0.005),
        ("confidence", 0.005),
        ("", 0.11),
    ];

    [Fact]
    public void The_report_of_a_recording_is_as_it_was()
    {
        var report = AttemptScorer
            .Score(
                Recording.GoodFile(Recorded),
                Scored.Drill(Drill),
                Scored.Standard,
                new ScoringOptions(),
                cancellation: TestContext.Current.CancellationToken
            )
            .Report;
        var actual = JsonSerializer.SerializeToNode(report, EngineJson.Default.ScoreReport)!;
        var path = Path.Combine(Source.Root, "tests", "SchoolDrills.Engine.Tests", "Scoring", "Report", "f13-timed-turns.json");
        if (Environment.GetEnvironmentVariable("SCHOOLDRILLS_WRITE_GOLDEN") == "1")
            File.WriteAllText(path, actual.ToJsonString(new JsonSerializerOptions { WriteIndented = true }) + "\n");
        var differences = new List<string>();
        Compare("report", JsonNode.Parse(File.ReadAllText(path)), actual, "", differences);
        Assert.Empty(differences);
    }

    private static void Compare(string path, JsonNode? expected, JsonNode? actual, string name, List<string> differences)
    {
        switch (expected, actual)
        {
            case (JsonObject a, JsonObject b):
                foreach (var member in a.Select(m => m.Key).Union(b.Select(m => m.Key)))
                    Compare($"{path}.{member}", a[member], b[member], member, differences);
                break;
            case (JsonArray a, JsonArray b) when a.Count == b.Count:
                for (var i = 0; i < a.Count; i++)
                    Compare($"{path}[{i}]", a[i], b[i], name, differences);
                break;
            case (JsonValue a, JsonValue b) when a.GetValueKind() == JsonValueKind.Number && b.GetValueKind() == JsonValueKind.Number:
                var within = Tolerances.First(t => name.EndsWith(t.Ending, StringComparison.Ordinal)).Within;
                if (Math.Abs(a.GetValue<double>() - b.GetValue<double>()) > within)
                    differences.Add($"{path}: {a} is now {b}");
                break;
            case (JsonValue a, JsonValue b) when name.EndsWith("Utc", StringComparison.Ordinal):
                if (Math.Abs((a.GetValue<DateTimeOffset>() - b.GetValue<DateTimeOffset>()).TotalSeconds) > 0.1)
                    differences.Add($"{path}: {a} is now {b}");
                break;
            default:
                if (!JsonNode.DeepEquals(expected, actual))
                    differences.Add($"{path}: {expected?.ToJsonString() ?? "nothing"} is now {actual?.ToJsonString() ?? "nothing"}");
                break;
        }
    }
}
