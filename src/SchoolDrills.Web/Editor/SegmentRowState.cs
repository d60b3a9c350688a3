using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;

namespace SchoolDrills.Web.Editor;

/// <summary>All that a row shows; equal states need not be drawn again.</summary>
/// <param name="Takes">What the turn and the climb take, where they set the time.</param>
public sealed record SegmentRowState(
    string Path,
    Segment Segment,
    SegmentStart Start,
    string By,
    string Then,
    string? Takes,
    string? Problem
)
{
    public string Number => SegmentPath.Number(Path);

    public bool IsGroup => Segment.Segments.Count > 0;

    public int Depth => Path.Split('.').Length - 1;

    public static IEnumerable<SegmentRowState> Of(DrillTemplate template, DraftPreview preview)
    {
        var problems = preview
            .Problems.Where(p => p.Path.StartsWith("segments[", StringComparison.Ordinal))
            .ToLookup(p => p.Path, p => ProblemWords.Plain(p.Sentence));
        foreach (var (path, segment) in SegmentEdits.Rows(template))
        {
            var (by, then) = CellWords.Ending(preview, path, segment);
            var takes =
                segment is { DurationS: null, Segments.Count: 0 } && preview.Rows.TryGetValue(path, out var row)
                    ? CellWords.Clock(Math.Round(preview.Timeline!.Segments[row.First].DurationS, 2))
                    : null;
            var problem = string.Join(" ", problems[path]);
            yield return new(path, segment, preview.StartOf(template, path), by, then, takes, problem.Length > 0 ? problem : null);
        }
    }
}
