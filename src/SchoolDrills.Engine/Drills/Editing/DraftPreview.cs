using System.Globalization;

namespace SchoolDrills.Engine.Drills.Editing;

/// <summary>
/// What can be shown of a draft at every keystroke. A draft with problems is drawn as far as it goes: to the first segment that is refused,
/// without the calls that are.
/// </summary>
/// <param name="Problems">Every problem with its place; empty where the draft can be published.</param>
/// <param name="Timeline">The draft by the clock; null where not even its first segment can be flown.</param>
/// <param name="Path">Its path over still air.</param>
/// <param name="Level">Its difficulty.</param>
/// <param name="Closure">Where it ends against where it began.</param>
/// <param name="Rows">Of each row that is flown, by its path, the first and the last segment of the timeline flown from it.</param>
public sealed record DraftPreview(
    IReadOnlyList<TemplateProblem> Problems,
    DrillTimeline? Timeline,
    NominalPath? Path,
    DrillLevel? Level,
    DrillClosure? Closure,
    IReadOnlyDictionary<string, RowFlown> Rows
)
{
    private const double DrawnEveryS = 2;

    /// <summary>True where the whole draft is shown, though its texts may have problems.</summary>
    public bool IsWhole { get; private init; }

    /// <summary>The preview of a draft.</summary>
    /// <param name="template">The draft.</param>
    public static DraftPreview Of(DrillTemplate template)
    {
        var problems = TemplateProblems.Located(template);
        if (Flyable(template, problems) is not { } flyable)
            return new(problems, null, null, null, null, new Dictionary<string, RowFlown>());
        var timeline = TimelineResolver.Resolve(flyable, flyable.Entry);
        var path = NominalPath.OverStillAir(timeline, flyable.Entry, DrawnEveryS);
        return new(problems, timeline, path, DrillLevel.Of(timeline), DrillClosure.Of(timeline, path), FlownFrom(flyable))
        {
            IsWhole = ReferenceEquals(flyable.Segments, template.Segments),
        };
    }

    /// <summary>Where a row begins: on the clock of its first time through where it has one, else where the row before it ends.</summary>
    /// <param name="template">The draft.</param>
    /// <param name="path">The row; null for one to be added at the end.</param>
    public SegmentStart StartOf(DrillTemplate template, string? path)
    {
        if (path is not null && Rows.TryGetValue(path, out var row))
            return Start(Timeline!.Segments[row.First]);
        return Timeline is { Segments: [.., var last] }
            ? new(last.EndHeadingMagDeg, last.EndAltitudeFt, last.AirspeedKt)
            : new(template.Entry.HeadingMagDeg, template.Entry.AltitudeFt, template.Entry.AirspeedKt);

        static SegmentStart Start(TimelineSegment s) => new(s.StartHeadingMagDeg, s.StartAltitudeFt, s.StartAirspeedKt);
    }

    private static Dictionary<string, RowFlown> FlownFrom(DrillTemplate template)
    {
        var rows = new Dictionary<string, RowFlown>();
        var flat = FlatSegments.Of(template);
        for (var i = 0; i < flat.Count; i++)
        {
            // A group is flown where its rows are.
            string? path = flat[i].Path;
            while (path is not null)
            {
                rows[path] = rows.TryGetValue(path, out var row) ? row with { Last = i } : new RowFlown(i, i);
                path = SegmentPath.Group(path);
            }
        }

        return rows;
    }

    /// <summary>The rows before one, its groups flown once as far as to it.</summary>
    private static Segment[] Before(IReadOnlyList<Segment> segments, ReadOnlySpan<int> refused)
    {
        var rows = segments.Take(refused[0]).ToList();
        if (refused.Length > 1 && Before(segments[refused[0]].Segments, refused[1..]) is { Length: > 0 } inside)
            rows.Add(segments[refused[0]] with { Repeat = 1, Segments = inside });
        return [.. rows];
    }

    private static readonly Comparer<int[]> InOrder = Comparer<int[]>.Create(
        (a, b) => a.Zip(b, (x, y) => x.CompareTo(y)).FirstOrDefault(order => order != 0, a.Length.CompareTo(b.Length))
    );

    /// <summary>The part of a draft that can be resolved; null where there is none.</summary>
    private static DrillTemplate? Flyable(DrillTemplate template, IReadOnlyList<TemplateProblem> problems)
    {
        // Texts do not matter to a drawing; each round takes out what the last one found, and at least one thing.
        while (problems.Count > 0)
        {
            if (problems.Any(p => p.Path.StartsWith("entry", StringComparison.Ordinal) || p.Path == "segments"))
                return null;
            var refused = problems
                .Where(p => p.Path.StartsWith("segments[", StringComparison.Ordinal))
                .Select(p => SegmentPath.Indexes(p.Path))
                .Order(InOrder)
                .FirstOrDefault();
            var (checks, tasks) = (Indexes("checks["), Indexes("loadTasks["));
            template = template with
            {
                SchemaVersion = 1,
                Slug = "draft",
                Version = 0,
                Title = "Draft",
                Purpose = "Draft.",
                Trains = null,
                Prerequisites = [],
                CommonErrors = [],
                Sources = [],
                StandardSlug = "draft",
                Segments = refused is null ? template.Segments : Before(template.Segments, refused),
                Checks = template.Checks.Count > TemplateLimits.Calls ? [] : [.. template.Checks.Where((_, i) => !checks.Contains(i))],
                LoadTasks =
                    template.LoadTasks.Count > TemplateLimits.Calls ? [] : [.. template.LoadTasks.Where((_, i) => !tasks.Contains(i))],
            };
            if (template.Segments.Count == 0)
                return null;
            problems = TemplateProblems.Located(template);
        }

        return template;

        HashSet<int> Indexes(string member) =>
            [
                .. problems
                    .Where(p => p.Path.StartsWith(member, StringComparison.Ordinal))
                    .Select(p =>
                        int.Parse(
                            p.Path.AsSpan(member.Length, p.Path.IndexOf(']', StringComparison.Ordinal) - member.Length),
                            CultureInfo.InvariantCulture
                        )
                    ),
            ];
    }
}

/// <summary>The segments of a timeline that are flown from one row.</summary>
/// <param name="First">The first, from 0.</param>
/// <param name="Last">The last.</param>
public readonly record struct RowFlown(int First, int Last);
