using System.Text.RegularExpressions;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>A drill with left and right exchanged.</summary>
public static partial class TemplateMirror
{
    /// <summary>
    /// Every turn the other way, and the words left and right exchanged in the segments' names. Title and texts stay; mirrored twice a
    /// drill is itself again.
    /// </summary>
    /// <param name="template">The drill.</param>
    public static DrillTemplate Of(DrillTemplate template) => template with { Segments = [.. template.Segments.Select(Of)] };

    private static Segment Of(Segment segment) =>
        segment with
        {
            Name = Sides().Replace(segment.Name, m => Other(m.Value)),
            TurnDeg = -segment.TurnDeg,
            Segments = [.. segment.Segments.Select(Of)],
        };

    private static string Other(string side) =>
        side switch
        {
            "left" => "right",
            "Left" => "Right",
            "LEFT" => "RIGHT",
            "right" => "left",
            "Right" => "Left",
            _ => "LEFT",
        };

    [GeneratedRegex(@"\b(left|Left|LEFT|right|Right|RIGHT)\b")]
    private static partial Regex Sides();
}
