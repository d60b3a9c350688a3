using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

/// <summary>Commands of the toolbar and the keys, and how undo names them.</summary>
internal static class EditorWords
{
    public static string Import => T["reading a file"];

    /// <summary>Does to each row what a command says; from the last to the first, so that paths still hold.</summary>
    public static SegmentEdit Edit(DrillTemplate template, string what, IReadOnlyList<string> paths)
    {
        var edit = new SegmentEdit(template, paths[^1]);
        // A group chosen together with its rows stands for them.
        var rows = paths.Where(p => !paths.Any(o => p.StartsWith(SegmentPath.Inside(o), StringComparison.Ordinal))).ToList();
        foreach (var path in what == "down" || what is not "up" ? rows.AsEnumerable().Reverse() : rows)
        {
            edit = what switch
            {
                "copy" => SegmentEdits.Copy(edit.Template, path),
                "split" => SegmentEdits.Split(edit.Template, path),
                "write-out" => SegmentEdits.WriteOut(edit.Template, path),
                "up" => SegmentEdits.Step(edit.Template, path, down: false),
                "down" => SegmentEdits.Step(edit.Template, path, down: true),
                "remove" => SegmentEdits.Remove(edit.Template, path),
                _ => edit,
            };
        }

        return edit;
    }

    public static string Named(string what, IReadOnlyList<string> paths)
    {
        var which = paths.Count == 1 ? T["segment {0} | in a sentence", SegmentPath.Number(paths[0])] : T["{0} segments", paths.Count];
        return what switch
        {
            "copy" => T["copying {0}", which],
            "split" => T["splitting {0}", which],
            "write-out" => T["writing out {0}", which],
            "remove" => T["deleting {0}", which],
            _ => T["moving {0}", which],
        };
    }

    /// <summary>A problem in a list, where its place has to be said.</summary>
    public static string Listed(string sentence)
    {
        var plain = ProblemWords.Plain(sentence);
        var colon = sentence.IndexOf(": ", StringComparison.Ordinal);
        var isPlaced =
            colon > 0 && !ReferenceEquals(plain, sentence) && !plain.StartsWith(sentence[..colon], StringComparison.OrdinalIgnoreCase);
        return isPlaced ? $"{char.ToUpperInvariant(sentence[0])}{sentence[1..colon]}: {plain}" : plain;
    }
}
