using System.Text.RegularExpressions;
using Xunit;

namespace SchoolDrills.Engine.Tests;

/// <summary>Inside a project data and calls flow one way: no two of its folders use each other's types.</summary>
public partial class FolderTests
{
    [Theory]
    [InlineData("SchoolDrills.Engine")]
    [InlineData("SchoolDrills.Api")]
    [InlineData("SchoolDrills.Web")]
    [InlineData("SchoolDrills.Cockpit")]
    [InlineData("SchoolDrills.Engine/Scoring")]
    public void No_two_folders_of_a_project_use_each_other(string project)
    {
        var root = Path.Combine(Source.Root, "src", project);
        var files = Source
            .Files(root, "*.cs", "*.razor")
            // Files at the top compose the project (registrations, the database context): they know every folder by their nature.
            .Select(f =>
                (Path: f, Folder: Path.GetRelativePath(root, f).Split(Path.DirectorySeparatorChar) is [var folder, _, ..] ? folder : null)
            )
            .Where(f => f.Folder is not null)
            .Select(f => (f.Path, Folder: f.Folder!, Code: Code(f.Path)))
            .ToList();
        var owners = new Dictionary<string, string>();
        foreach (var (path, folder, code) in files)
        {
            foreach (
                var type in path.EndsWith(".razor", StringComparison.Ordinal) ? [Path.GetFileNameWithoutExtension(path)] : Declared(code)
            )
            {
                owners.TryAdd(type, folder);
            }
        }

        var uses = files
            .SelectMany(f =>
                Names(f.Code)
                    .Where(owners.ContainsKey)
                    .Select(n => (From: f.Folder, To: owners[n], Why: $"{Path.GetFileName(f.Path)} uses {n}"))
            )
            .Where(u => u.From != u.To)
            .ToLookup(u => (u.From, u.To), u => u.Why);
        Assert.NotEmpty(owners);
        var mutual = uses.Where(u => string.CompareOrdinal(u.Key.From, u.Key.To) < 0 && uses.Contains((u.Key.To, u.Key.From)))
            .Select(u => $"{u.Key.From} and {u.Key.To}: {u.First()}, {uses[(u.Key.To, u.Key.From)].First()}");
        Assert.Empty(mutual);
    }

    /// <summary>A file without comments and strings, so that a word in a sentence is not taken for a type.</summary>
    private static string Code(string path) => Strings().Replace(Comments().Replace(File.ReadAllText(path), ""), "\"\"");

    private static IEnumerable<string> Declared(string code) => Declarations().Matches(code).Select(m => m.Groups[1].Value);

    private static HashSet<string> Names(string code) => [.. Identifiers().Matches(code).Select(m => m.Value)];

    [GeneratedRegex(@"@\*.*?\*@|/\*.*?\*/|//[^\n]*|<!--.*?-->", RegexOptions.Singleline)]
    private static partial Regex Comments();

    [GeneratedRegex("\"(?:\\\\.|[^\"\\\\\n])*\"")]
    private static partial Regex Strings();

    [GeneratedRegex(
        @"^(?:public |internal )(?:static |sealed |abstract |partial |readonly )*(?:class|record|struct|enum|interface)(?: struct)? (\w+)",
        RegexOptions.Multiline
    )]
    private static partial Regex Declarations();

    [GeneratedRegex(@"(?<![.\w])[A-Z]\w+")]
    private static partial Regex Identifiers();
}
