namespace SchoolDrills.Accuracy;

/// <summary>Simulated flights kept apart: those that constants are fitted on, those that a change is judged by, and the unseen.</summary>
/// <param name="Name">As the command line has it.</param>
/// <param name="FirstSeed">First of them.</param>
/// <param name="Count">How many.</param>
internal sealed record SeedSplit(string Name, int FirstSeed, int Count)
{
    /// <summary>Constants are fitted on these.</summary>
    public static SeedSplit Train { get; } = new("train", 1, 400);

    /// <summary>A change of the engine is kept when these are better with it.</summary>
    public static SeedSplit Validate { get; } = new("validate", 10_001, 400);

    /// <summary>Nothing is fitted, chosen or looked at on these before a release writes its figures.</summary>
    public static SeedSplit Test { get; } = new("test", 20_001, 400);

    public static IReadOnlyList<SeedSplit> All { get; } = [Train, Validate, Test];

    public int LastSeed => FirstSeed + Count - 1;

    public static SeedSplit? Named(string name) => All.FirstOrDefault(s => s.Name == name);
}
