using System.Text.Json;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>An example of a check or a load task, to be put on a drill's timetable.</summary>
/// <param name="Level">How much it asks beside the flying, 1 least, 5 most.</param>
/// <param name="Kind"><c>flow</c>, <c>checklist</c> or <c>task</c>.</param>
/// <param name="Name">Short name.</param>
/// <param name="Script">Of a task, the words the instructor says.</param>
/// <param name="ExpectedAnswer">Of a task, the right answer where there is one.</param>
/// <param name="Items">Of a check, its items in order.</param>
/// <param name="WindowS">Of a check, how long its window stays open, seconds.</param>
public sealed record CallExample(
    int Level,
    string Kind,
    string Name,
    string? Script = null,
    string? ExpectedAnswer = null,
    IReadOnlyList<string>? Items = null,
    double? WindowS = null
)
{
    /// <summary>Every example, from the easiest.</summary>
    public static IReadOnlyList<CallExample> All { get; } = Load();

    /// <summary>The drill with this example on its timetable, in the order of the clock.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="atS">When, seconds from the drill's start.</param>
    public DrillTemplate AddTo(DrillTemplate template, double atS)
    {
        if (Script is { } script)
            return template with { LoadTasks = [.. template.LoadTasks.Append(new(Name, script, atS, ExpectedAnswer)).OrderBy(t => t.AtS)] };
        var check = new Check(Name, Kind == "flow" ? CheckKind.Flow : CheckKind.Checklist, Items!, atS, WindowS!.Value);
        return template with { Checks = [.. template.Checks.Append(check).OrderBy(c => c.FromS)] };
    }

    private static IReadOnlyList<CallExample> Load()
    {
        using var stream = typeof(CallExample).Assembly.GetManifestResourceStream("editing/call-examples.json")!;
        return JsonSerializer.Deserialize(stream, EngineJson.Default.IReadOnlyListCallExample)!;
    }
}
