using System.Globalization;
using System.Reflection;
using System.Text.RegularExpressions;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests;

/// <summary>Documents name what exists: types, members, files, and the values of constants.</summary>
public partial class DocumentTests
{
    private static readonly string[] Code = ["*.cs", "*.razor", "*.js", "*.sql", "*.sh", "*.json", "*.csproj", "*.yml", "Dockerfile"];

    /// <summary>Capitalized words that are not names in this project.</summary>
    private static readonly HashSet<string> NotOurs = ["Host", "Database", "Username", "Password"];

    [Fact]
    public void Every_name_in_backticks_exists()
    {
        var words = Source
            .Files(Source.Root, Code)
            .SelectMany(f => Words().Matches(File.ReadAllText(f)).Select(m => m.Value).Append(Path.GetFileNameWithoutExtension(f)))
            .Concat(
                Directory.EnumerateDirectories(Path.Combine(Source.Root, "src"), "*", SearchOption.AllDirectories).Select(Path.GetFileName)
            )
            .ToHashSet();
        var missing = Documents()
            .SelectMany(d => Spans().Matches(File.ReadAllText(d)).Select(m => (Document: d, Name: m.Groups[1].Value)))
            .Where(s => Names().IsMatch(s.Name))
            .Where(s => !s.Name.Split('.').All(part => words.Contains(part) || NotOurs.Contains(part)))
            .Select(s => $"{Path.GetRelativePath(Source.Root, s.Document)}: {s.Name}");
        Assert.Empty(missing);
    }

    [Fact]
    public void Every_link_leads_to_a_file()
    {
        var broken = Documents()
            .SelectMany(d => Links().Matches(File.ReadAllText(d)).Select(m => (Document: d, Target: m.Groups[1].Value)))
            .Where(l => !l.Target.Contains("://", StringComparison.Ordinal) && !l.Target.StartsWith('#'))
            .Where(l => !Path.Exists(Path.Combine(Path.GetDirectoryName(l.Document)!, l.Target.Split('#')[0])))
            .Select(l => $"{Path.GetRelativePath(Source.Root, l.Document)}: {l.Target}");
        Assert.Empty(broken);
    }

    [Theory]
    [InlineData("Drills/README.md", "DrillModel")]
    [InlineData("Planning/README.md", "PlanModel")]
    [InlineData("Progress/README.md", "ProgressModel")]
    [InlineData("Tracks/README.md", "ReaderLimits")]
    [InlineData("Reconstruction/README.md", "SensorModel", "WindModel")]
    [InlineData(
        "Scoring/README.md",
        "ReadingModel",
        "AlignmentModel",
        "HandlingModel",
        "BoundaryModel",
        "MeasurementModel",
        "WorkloadModel",
        "JudgementRules",
        "FindingThresholds"
    )]
    public void The_tables_of_constants_have_the_values_of_the_code(string page, params string[] types)
    {
        var inCode = types
            .Select(t => typeof(Track).Assembly.GetTypes().Single(type => type.Name == t))
            .SelectMany(t => t.GetFields(BindingFlags.Static | BindingFlags.Public).Where(f => f.IsLiteral))
            .Select(f => $"{f.Name} {Convert.ToString(f.GetRawConstantValue(), CultureInfo.InvariantCulture)}")
            .Order(StringComparer.Ordinal);
        var inPage = Constants()
            .Matches(File.ReadAllText(Path.Combine(Source.Root, "src", "SchoolDrills.Engine", page)))
            .Select(m => $"{m.Groups[1].Value} {m.Groups[2].Value}")
            .Order(StringComparer.Ordinal);
        Assert.Equal(inCode, inPage);
    }

    private static IEnumerable<string> Documents() => Source.Files(Source.Root, "*.md");

    [GeneratedRegex(@"\w+")]
    private static partial Regex Words();

    [GeneratedRegex("`([^`\n]+)`")]
    private static partial Regex Spans();

    /// <summary>A type, or a type with its member.</summary>
    [GeneratedRegex(@"^[A-Z][A-Za-z0-9]*[a-z][A-Za-z0-9]*(\.[A-Z]\w+)?$")]
    private static partial Regex Names();

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Links();

    /// <summary>A constant with its value, in the first cell of a table's row.</summary>
    [GeneratedRegex(@"(?<=^\|[^|]*)`(\w+)` (-?[\d.]+)", RegexOptions.Multiline)]
    private static partial Regex Constants();
}
