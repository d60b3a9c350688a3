using System.Reflection;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests;

/// <summary>The rules of the house that a compiler does not keep: which project knows which, and units in the names of numbers.</summary>
public partial class ConventionTests
{
    private static readonly Assembly Engine = typeof(Track).Assembly;
    private static readonly Assembly Contracts = typeof(SchoolDrillsClient).Assembly;

    /// <summary>Endings that say what a number is of.</summary>
    private static readonly string[] Units =
    [
        "Ft",
        "M",
        "Nm",
        "Km",
        "Kt",
        "Mps",
        "Mps2",
        "Kmh",
        "Fpm",
        "Deg",
        "DegMag",
        "DegTrue",
        "DegPerS",
        "DegPerMin",
        "Rad",
        "S",
        "Min",
        "Hpa",
        "InHg",
        "C",
        "K",
        "Nt",
        "KgPerM3",
        "KtPerMph",
        "NmPerMinute",
        "PerKft",
        "PerAttempt",
        "Year",
        "Share",
        "Ratio",
        "Confidence",
        "Probability",
        "LoadFactor",
    ];

    [Fact]
    public void The_engine_references_no_other_project_of_ours() =>
        Assert.DoesNotContain(Engine.GetReferencedAssemblies(), a => a.Name!.StartsWith("SchoolDrills", StringComparison.Ordinal));

    [Fact]
    public void The_contracts_know_the_engine_alone_and_no_ASP_NET()
    {
        var known = Contracts.GetReferencedAssemblies().Select(a => a.Name!).ToList();
        Assert.Equal(["SchoolDrills.Engine"], known.Where(n => n.StartsWith("SchoolDrills", StringComparison.Ordinal)));
        Assert.DoesNotContain(
            known,
            n =>
                n.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal)
                || n.StartsWith("Microsoft.EntityFrameworkCore", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("SchoolDrills.Engine", "")]
    [InlineData("SchoolDrills.Contracts", "SchoolDrills.Engine")]
    [InlineData("SchoolDrills.Api", "SchoolDrills.Contracts SchoolDrills.Engine")]
    [InlineData("SchoolDrills.Cockpit", "SchoolDrills.Contracts SchoolDrills.Engine")]
    [InlineData("SchoolDrills.Web", "SchoolDrills.Api SchoolDrills.Cockpit SchoolDrills.Contracts")]
    public void A_project_references_only_what_its_arrows_allow(string project, string allowed)
    {
        var references = XDocument
            .Load(Path.Combine(Source.Root, "src", project, project + ".csproj"))
            .Descendants("ProjectReference")
            .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value.Replace('\\', '/')));
        Assert.Empty(references.Except(allowed.Split(' ')));
    }

    [Fact]
    public void Pages_speak_with_the_API_over_HTTP_and_with_no_database()
    {
        // The host's own start alone, and what it refuses to start over, puts the API beside the pages.
        foreach (var file in Sources("SchoolDrills.Web").Where(f => Path.GetFileName(f) is not ("Program.cs" or "SecurityHeaders.cs")))
            Assert.False(ForbiddenInPages().IsMatch(File.ReadAllText(file)), $"{file} knows the API's inside or its database.");
    }

    [Fact]
    public void The_engine_uses_no_clock_no_randomness_no_settings_no_files_and_no_log()
    {
        foreach (var file in Sources("SchoolDrills.Engine"))
        {
            var found = ForbiddenInEngine().Match(File.ReadAllText(file));
            Assert.False(found.Success, $"{file} has {found.Value}.");
        }
    }

    [Fact]
    public void A_number_says_its_unit_at_the_end_of_its_name()
    {
        var unnamed = new[] { Engine, Contracts }
            .SelectMany(a => a.GetExportedTypes())
            .SelectMany(Numbers)
            .Distinct()
            .Where(n =>
                !HasUnit(n[(n.LastIndexOf('.') + 1)..])
                && !UnitBeside.Contains(n[..n.IndexOf('.', StringComparison.Ordinal)])
                && !Unitless.Contains(n)
            )
            .Order(StringComparer.Ordinal)
            .ToList();
        Assert.True(unnamed.Count == 0, string.Join('\n', unnamed));
    }

    [Fact]
    public void Every_exception_from_naming_units_is_still_needed()
    {
        var numbers = new[] { Engine, Contracts }.SelectMany(a => a.GetExportedTypes()).SelectMany(Numbers).ToHashSet();
        Assert.Equal("", string.Join('\n', Unitless.Where(u => !numbers.Contains(u))));
        Assert.Equal("", string.Join('\n', UnitBeside.Where(t => !numbers.Any(n => n.StartsWith(t + ".", StringComparison.Ordinal)))));
    }

    /// <summary>Types that reckon in whatever unit they are given, or whose unit stands beside the number.</summary>
    private static readonly HashSet<string> UnitBeside =
    [
        "LoadChange",
        "CleanTrack",
        "Deviation",
        "DeviationReport",
        "Deviations",
        "Exceedance",
        "JudgedExample",
        "Finding",
        "FlownSegment",
        "Interval",
        "Judge",
        "ParameterFormat",
        "SaturationEpisode",
        "SmoothColumn",
        "Smoother",
        "Tolerance",
        "ToleranceStandard",
        "Trend",
    ];

    /// <summary>Numbers that have none: points of a level, counts, bounds of a share, log odds, kappa.</summary>
    private static readonly HashSet<string> Unitless =
    [
        "Agreement.Kappa",
        "AgreementOfTwo.Hi",
        "AgreementOfTwo.Kappa",
        "AgreementOfTwo.Lo",
        "Alignment.LogOdds",
        "DrillLevel.Length",
        "DrillLevel.Load",
        "DrillLevel.Pace",
        "DrillLevel.Score",
        "DrillLevel.Steepness",
        "DrillLevel.ThingsAtOnce",
        "Forecast.Attempts",
        "Geodesy.Flattening",
        "LoadAttempt.OwnRating",
        "LoadCalibration.Bias",
        "GradingDrift.Change",
        "GradingDrift.MeanBefore",
        "GradingDrift.MeanNow",
        "GroundMotion.TrueOverIndicated",
        "LevelLine.Score",
        "ProgressPoint.Hi",
        "ProgressPoint.Lo",
        "Reading.Weight",
        "RescoredAttempt.WithinShareBefore",
        "RescoredAttempt.WithinShareNow",
        "SchoolPrior.Strength",
        "SegmentReading.PlainNumber",
        "ShareInterval.OfSamples.samples",
        "SharePoint.Samples",
        "TaskLoad.Raw",
        "TaskLoad.Weighted",
        "WeakSegmentSummary.Hi",
        "WeakSegmentSummary.Lo",
    ];

    private static bool HasUnit(string name)
    {
        // AltitudeFtAt(timeS) is feet.
        if (name.EndsWith("At", StringComparison.Ordinal))
            name = name[..^2];
        return Units.Any(u =>
            name.Equals(u, StringComparison.OrdinalIgnoreCase)
            || (
                name.EndsWith(u, StringComparison.Ordinal)
                && char.IsLetterOrDigit(name[^(u.Length + 1)])
                && !char.IsUpper(name[^(u.Length + 1)])
            )
        );
    }

    /// <summary>Every public number of a type, by <c>Type.member</c> or <c>Type.Method.parameter</c>.</summary>
    private static IEnumerable<string> Numbers(Type type)
    {
        const BindingFlags Own = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        foreach (var property in type.GetProperties(Own).Where(p => IsNumber(p.PropertyType)))
            yield return $"{type.Name}.{property.Name}";
        foreach (var field in type.GetFields(Own).Where(f => IsNumber(f.FieldType)))
            yield return $"{type.Name}.{field.Name}";
        foreach (var method in type.GetMethods(Own).Where(m => !m.IsSpecialName && m.Name is not "Deconstruct"))
        {
            if (IsNumber(method.ReturnType))
                yield return $"{type.Name}.{method.Name}";
            foreach (var parameter in method.GetParameters().Where(p => IsNumber(p.ParameterType)))
                yield return $"{type.Name}.{method.Name}.{parameter.Name}";
        }
    }

    private static bool IsNumber(Type type) =>
        type == typeof(double)
        || type == typeof(double?)
        || type == typeof(double[])
        || type == typeof(ReadOnlySpan<double>)
        || type == typeof(IReadOnlyList<double>);

    private static IEnumerable<string> Sources(string project) =>
        Source.Files(Path.Combine(Source.Root, "src", project), "*.cs", "*.razor");

    [GeneratedRegex(@"SchoolDrills\.Api\b|EntityFrameworkCore|\bNpgsql\b|Hangfire")]
    private static partial Regex ForbiddenInPages();

    [GeneratedRegex(
        @"DateTime(Offset)?\.(Utc)?Now|TimeProvider|new Random\(\)|Random\.Shared|Environment\."
            + @"|\bConsole\.|\bFile\.|ILogger|Stopwatch|Guid\.NewGuid"
    )]
    private static partial Regex ForbiddenInEngine();
}
