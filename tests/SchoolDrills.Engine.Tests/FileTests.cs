using Xunit;

namespace SchoolDrills.Engine.Tests;

/// <summary>Files that can be read in one sitting, on a screen, and documents that name what exists.</summary>
public partial class FileTests
{
    private const int MostLines = 300;
    private const int MostColumns = 140;

    private static readonly string[] Written = ["*.cs", "*.razor", "*.js", "*.css", "*.sql", "*.sh"];

    [Fact]
    public void No_file_is_longer_than_300_lines() =>
        Assert.Empty(
            ByHand()
                .Select(f => (File: f, Lines: File.ReadAllLines(f).Length))
                .Where(f => f.Lines > MostLines)
                .Select(f => $"{Short(f.File)}: {f.Lines}")
        );

    [Fact]
    public void No_line_is_longer_than_140_columns() =>
        Assert.Empty(
            ByHand()
                .SelectMany(f => File.ReadAllLines(f).Select((line, i) => (Where: $"{Short(f)}:{i + 1}", line.Length)))
                .Where(l => l.Length > MostColumns)
                .Select(l => l.Where)
        );

    /// <summary>Generated files, and what others wrote.</summary>
    private static IEnumerable<string> ByHand() =>
        Source
            .Files(Source.Root, Written)
            .Where(f => !f.Contains("Migrations", StringComparison.Ordinal) && !f.EndsWith("schema.sql", StringComparison.Ordinal))
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}lib{Path.DirectorySeparatorChar}", StringComparison.Ordinal));

    private static string Short(string file) => Path.GetRelativePath(Source.Root, file);
}
