namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>A template after an edit, and the segment to go on with.</summary>
/// <param name="Template">The template.</param>
/// <param name="Path">The segment to go on with; null where none is left.</param>
public sealed record SegmentEdit(DrillTemplate Template, string? Path);

/// <summary>
/// Edits of a template's segments, each giving a new template. A path that is not in the template, and an edit that has nothing to do,
/// leaves the template as it is.
/// </summary>
public static class SegmentEdits
{
    private const string Top = "segments";

    /// <summary>The segment at a path; null where there is none.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    public static Segment? At(DrillTemplate template, string path)
    {
        var indexes = SegmentPath.Indexes(path);
        Segment? at = null;
        var list = template.Segments;
        foreach (var index in indexes)
        {
            if (index >= list.Count)
                return null;
            at = list[index];
            list = at.Segments;
        }

        return at;
    }

    /// <summary>Every segment and group in the order of the rows, with its path.</summary>
    /// <param name="template">The drill.</param>
    public static IReadOnlyList<(string Path, Segment Segment)> Rows(DrillTemplate template)
    {
        var rows = new List<(string, Segment)>();
        Add(template.Segments, Top);
        return rows;

        void Add(IReadOnlyList<Segment> segments, string list)
        {
            for (var i = 0; i < segments.Count; i++)
            {
                var path = SegmentPath.Of(list, i);
                rows.Add((path, segments[i]));
                Add(segments[i].Segments, SegmentPath.Inside(path));
            }
        }
    }

    /// <summary>Puts another segment in a segment's place.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    /// <param name="segment">What takes its place.</param>
    public static SegmentEdit Replace(DrillTemplate template, string path, Segment segment) =>
        At(template, path) is null ? new(template, null) : new(Splice(template, path, 1, [segment]), path);

    /// <summary>Adds a segment behind another; inside a group where that is one of its rows.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment before the new one; null adds at the end of the drill.</param>
    /// <param name="segment">The new segment.</param>
    public static SegmentEdit AddAfter(DrillTemplate template, string? path, Segment segment)
    {
        if (path is null || At(template, path) is null)
            return new(template with { Segments = [.. template.Segments, segment] }, SegmentPath.Of(Top, template.Segments.Count));
        var next = Beside(path, 1);
        return new(Splice(template, next, 0, [segment]), next);
    }

    /// <summary>Takes a segment, or a group with its rows, out; a group left without rows goes with its last.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    public static SegmentEdit Remove(DrillTemplate template, string path)
    {
        if (At(template, path) is null)
            return new(template, null);
        while (SegmentPath.Group(path) is { } group && At(template, group)!.Segments.Count == 1)
            path = group;
        var left = Splice(template, path, 1, []);
        var next =
            At(left, path) is not null ? path
            : SegmentPath.Index(path) > 0 ? Beside(path, -1)
            : null;
        return new(left, next);
    }

    /// <summary>Puts a copy of a segment, or of a group, behind it.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    public static SegmentEdit Copy(DrillTemplate template, string path) =>
        At(template, path) is { } segment ? AddAfter(template, path, segment) : new(template, null);

    /// <summary>Two halves in place of a segment: half the time, the turn, the climb and the change of speed each.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment; a group is not split.</param>
    public static SegmentEdit Split(DrillTemplate template, string path)
    {
        if (At(template, path) is not { Segments.Count: 0 } segment)
            return new(template, path);
        var half = segment with
        {
            DurationS = segment.DurationS / 2,
            TurnDeg = segment.TurnDeg / 2,
            ClimbFt = segment.ClimbFt / 2,
            SpeedChangeKt = segment.SpeedChangeKt / 2,
        };
        return new(Splice(template, path, 1, [half, half]), path);
    }

    /// <summary>
    /// Makes a group of the segments from the first to the last of those chosen, to be flown several times. They must stand in one list.
    /// </summary>
    /// <param name="template">The drill.</param>
    /// <param name="paths">The segments.</param>
    /// <param name="times">How often the group is flown.</param>
    /// <param name="name">Prefix of its segments' names; may be empty.</param>
    public static SegmentEdit Repeat(DrillTemplate template, IReadOnlyCollection<string> paths, int times, string name = "")
    {
        var chosen = paths.Where(p => At(template, p) is not null).ToList();
        if (chosen.Count == 0 || chosen.Select(SegmentPath.List).Distinct().Count() > 1)
            return new(template, null);
        var (first, last) = (chosen.MinBy(SegmentPath.Index)!, chosen.MaxBy(SegmentPath.Index)!);
        var count = SegmentPath.Index(last) - SegmentPath.Index(first) + 1;
        var group = new Segment
        {
            Name = name,
            Repeat = times,
            Segments = [.. Enumerable.Range(0, count).Select(i => At(template, Beside(first, i))!)],
        };
        return new(Splice(template, first, count, [group]), first);
    }

    /// <summary>
    /// Writes a group out as it is flown: its rows as often as it is repeated, in its place. A group of more than
    /// <see cref="TemplateLimits.Segments"/> rows is left as it is.
    /// </summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The group.</param>
    public static SegmentEdit WriteOut(DrillTemplate template, string path)
    {
        if (At(template, path) is not { Segments.Count: > 0 } group)
            return new(template, path);
        var times = Math.Max(1, group.Repeat ?? 1);
        return (double)times * group.Segments.Count > TemplateLimits.Segments
            ? new(template, path)
            : new(Splice(template, path, 1, [.. Enumerable.Repeat(group.Segments, times).SelectMany(s => s)]), path);
    }

    /// <summary>Moves a segment before or behind another, into its group or out of one.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    /// <param name="target">The segment beside which it comes to stand.</param>
    /// <param name="behind">Behind it rather than before it.</param>
    public static SegmentEdit Move(DrillTemplate template, string path, string target, bool behind)
    {
        if (At(template, path) is not { } segment || At(template, target) is null || IsWithin(target, path))
            return new(template, path);
        // A mark that lives through the removal, whatever it does to the paths.
        var mark = new Segment();
        var place = behind ? Beside(target, 1) : target;
        var without = Remove(Splice(template, place, 0, [mark]), Moved(path, place)).Template;
        var at = Find(without, mark);
        return at == path ? new(template, path) : new(Splice(without, at, 1, [segment]), at);
    }

    /// <summary>Moves a segment one row up or down among its rows, or out of its group at the group's edge.</summary>
    /// <param name="template">The drill.</param>
    /// <param name="path">The segment.</param>
    /// <param name="down">Down rather than up.</param>
    public static SegmentEdit Step(DrillTemplate template, string path, bool down)
    {
        var beside = down || SegmentPath.Index(path) > 0 ? Beside(path, down ? 1 : -1) : null;
        if (beside is not null && At(template, beside) is { } neighbour)
        {
            // A neighbouring group is entered, not jumped: that is the row one sees next.
            return neighbour.Segments.Count == 0 || At(template, path) is { Segments.Count: > 0 }
                ? Move(template, path, beside, behind: down)
                : Move(template, path, SegmentPath.Of(SegmentPath.Inside(beside), down ? 0 : neighbour.Segments.Count - 1), behind: !down);
        }

        return SegmentPath.Group(path) is { } group ? Move(template, path, group, behind: down) : new(template, path);
    }

    /// <summary>True where a path is another's or inside it.</summary>
    private static bool IsWithin(string path, string other) =>
        path == other || path.StartsWith(SegmentPath.Inside(other), StringComparison.Ordinal);

    private static string Beside(string path, int by) => SegmentPath.Of(SegmentPath.List(path), SegmentPath.Index(path) + by);

    private static string Find(DrillTemplate template, Segment mark) => Rows(template).First(r => ReferenceEquals(r.Segment, mark)).Path;

    /// <summary>A path after something was put in at another.</summary>
    private static string Moved(string path, string inserted)
    {
        var (indexes, at) = (SegmentPath.Indexes(path), SegmentPath.Indexes(inserted));
        var depth = at.Length - 1;
        var sameList = indexes.Length >= at.Length && at.Take(depth).SequenceEqual(indexes.Take(depth));
        if (sameList && indexes[depth] >= at[depth])
            indexes[depth]++;
        return SegmentPath.Of(indexes);
    }

    /// <summary>The template with some rows of one list taken out and others put in.</summary>
    private static DrillTemplate Splice(DrillTemplate template, string path, int remove, IReadOnlyList<Segment> insert)
    {
        var indexes = SegmentPath.Indexes(path);
        return template with { Segments = In(template.Segments, 0) };

        IReadOnlyList<Segment> In(IReadOnlyList<Segment> segments, int depth)
        {
            var at = indexes[depth];
            if (depth < indexes.Length - 1)
            {
                var group = segments[at];
                return [.. segments.Take(at), group with { Segments = In(group.Segments, depth + 1) }, .. segments.Skip(at + 1)];
            }

            return [.. segments.Take(at), .. insert, .. segments.Skip(at + remove)];
        }
    }
}
