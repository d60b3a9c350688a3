using System.Runtime.CompilerServices;

namespace SchoolDrills.Engine.Tests;

/// <summary>The project's own files, for tests of its conventions.</summary>
internal static class Source
{
    /// <summary>The project's root folder.</summary>
    public static string Root { get; } = Find();

    /// <summary>Files below a folder that a person writes: what builds leave is not among them.</summary>
    public static IEnumerable<string> Files(string folder, params string[] patterns) =>
        patterns
            .SelectMany(p => Directory.EnumerateFiles(folder, p, SearchOption.AllDirectories))
            .Where(f =>
                !Skipped.Any(s => f.Contains($"{Path.DirectorySeparatorChar}{s}{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            )
            .Order(StringComparer.Ordinal);

    private static readonly string[] Skipped = ["bin", "obj", "node_modules", "artifacts", ".git"];

    private static string Find([CallerFilePath] string file = "")
    {
        var folder = new DirectoryInfo(Path.GetDirectoryName(file)!);
        while (!File.Exists(Path.Combine(folder.FullName, "SchoolDrills.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException($"SchoolDrills.sln is not above {file}.");
        return folder.FullName;
    }
}
