using System.Text.Json;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Drills.Editing;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills.Editing;

public sealed class EditingPropertyTests
{
    private static readonly Gen<Segment> AnySegment = Gen.OneOf(
        from s in Gen.Choose(5, 120)
        select new Segment { Name = "leg", DurationS = s },
        from deg in Gen.Choose(5, 360)
        from side in Gen.Elements(-1, 1)
        select new Segment { Name = "turn left or right", TurnDeg = deg * side },
        from ft in Gen.Choose(1, 10)
        from way in Gen.Elements(-100, 100)
        select new Segment { ClimbFt = ft * way, VerticalSpeedFpm = 500 },
        Gen.Constant(new Segment())
    );

    /// <summary>What is done, and three numbers that choose where.</summary>
    private static readonly Gen<(int Do, int A, int B, Segment Segment)[]> AnyEdits =
        from count in Gen.Choose(1, 25)
        from edits in (
            from what in Gen.Choose(0, 8)
            from a in Gen.Choose(0, 1000)
            from b in Gen.Choose(0, 1000)
            from segment in AnySegment
            select (what, a, b, segment)
        ).ListOf(count)
        select edits.ToArray();

    private static readonly DrillTemplate Begun = Drill(new Segment { Name = "first", DurationS = 30 }) with
    {
        Entry = new DrillEntry(360, 20000, 120),
    };

    private static SegmentEdit Do(DrillTemplate template, (int Do, int A, int B, Segment Segment) edit)
    {
        var rows = SegmentEdits.Rows(template);
        if (rows.Count == 0)
            return SegmentEdits.AddAfter(template, null, edit.Segment);
        var (path, other) = (rows[edit.A % rows.Count].Path, rows[edit.B % rows.Count].Path);
        return edit.Do switch
        {
            0 or 1 => SegmentEdits.AddAfter(template, path, edit.Segment),
            2 => SegmentEdits.Remove(template, path),
            3 => SegmentEdits.Copy(template, path),
            4 => SegmentEdits.Split(template, path),
            5 => SegmentEdits.Repeat(template, [path, other], 2 + (edit.B % 2)),
            6 => rows.Count > 60 ? new(template, path) : SegmentEdits.WriteOut(template, path),
            7 => SegmentEdits.Move(template, path, other, edit.A % 2 == 0),
            _ => SegmentEdits.Step(template, path, edit.B % 2 == 0),
        };
    }

    private static string Json(DrillTemplate template) => JsonSerializer.Serialize(template, EngineJson.Default.DrillTemplate);

    [Property(MaxTest = 300, Replay = "20261128,3")]
    public Property Any_run_of_edits_gives_a_drill_that_resolves_or_problems_that_name_a_place_in_it() =>
        Prop.ForAll(
            AnyEdits.ToArbitrary(),
            edits =>
            {
                var template = Begun;
                foreach (var edit in edits)
                {
                    (template, var path) = Do(template, edit);
                    Assert.True(path is null || SegmentEdits.At(template, path) is not null);
                    var problems = TemplateProblems.Located(template);
                    Assert.Equal(problems.Select(p => p.Sentence), TemplateProblems.Of(template));
                    foreach (var problem in problems.Where(p => p.Path.StartsWith("segments[", StringComparison.Ordinal)))
                        Assert.NotNull(SegmentEdits.At(template, problem.Path));
                    // No group without rows, whatever was taken out or moved.
                    Assert.DoesNotContain(SegmentEdits.Rows(template), r => r.Segment is { Repeat: not null, Segments.Count: 0 });
                    var preview = DraftPreview.Of(template);
                    if (problems.Count == 0)
                        AssertConsistent(preview.Timeline!);
                    if (preview.Timeline is not null)
                        Assert.All(preview.Rows.Values, r => Assert.InRange(r.Last, r.First, preview.Timeline.Segments.Count - 1));
                }
            }
        );

    [Property(MaxTest = 200, Replay = "20261128,5")]
    public Property Undone_and_redone_a_run_of_edits_is_what_it_was() =>
        Prop.ForAll(
            AnyEdits.ToArbitrary(),
            edits =>
            {
                var history = new DraftHistory(Begun);
                foreach (var edit in edits)
                    history = history.Changed(Do(history.Now, edit).Template, "edit");
                var end = history.Now;

                var undone = history;
                while (undone.CanUndo is not null)
                    undone = undone.Undo();
                var redone = undone;
                while (redone.CanRedo is not null)
                    redone = redone.Redo();

                Assert.Same(Begun, undone.Now);
                Assert.Same(end, redone.Now);
                Assert.Equal(Json(history.Undo().Redo().Now), Json(end));
            }
        );

    [Property(MaxTest = 200, Replay = "20261128,7")]
    public Property Mirrored_twice_a_drill_is_itself() =>
        Prop.ForAll(
            AnyEdits.ToArbitrary(),
            edits =>
            {
                var template = edits.Aggregate(Begun, (t, e) => Do(t, e).Template);
                Assert.Equal(Json(template), Json(TemplateMirror.Of(TemplateMirror.Of(template))));
            }
        );

    [Property(MaxTest = 200, Replay = "20261128,9")]
    public Property A_segment_moved_away_and_back_leaves_the_same_segments() =>
        Prop.ForAll(
            AnyEdits.ToArbitrary(),
            edits =>
            {
                var template = edits.Aggregate(Begun, (t, e) => Do(t, e).Template);
                var leaves = Leaves(template);
                if (template.Segments.Count == 0)
                    return;
                foreach (var edit in edits)
                    template = Do(template, (7 + (edit.A % 2), edit.A, edit.B, edit.Segment)).Template;
                Assert.Equal(leaves, Leaves(template));
            }
        );

    private static IEnumerable<string> Leaves(DrillTemplate template) =>
        SegmentEdits.Rows(template).Where(r => r.Segment.Segments.Count == 0).Select(r => r.Segment.ToString()).Order();

    [Property(MaxTest = 200, Replay = "20261128,11")]
    public Property Merged_changes_of_different_parts_are_both_there() =>
        Prop.ForAll(
            (
                from edits in AnyEdits
                from mine in Gen.Choose(0, 1000)
                from theirs in Gen.Choose(0, 1000)
                select (edits, mine, theirs)
            ).ToArbitrary(),
            given =>
            {
                var before = given.edits.Aggregate(Begun, (t, e) => Do(t, e).Template);
                var leaves = SegmentEdits.Rows(before).Where(r => r.Segment.Segments.Count == 0).ToList();
                if (leaves.Count < 2)
                    return;
                var at = given.mine % leaves.Count;
                var (here, there) = (leaves[at].Path, leaves[(at + 1 + (given.theirs % (leaves.Count - 1))) % leaves.Count].Path);
                var mine = Named(before, here, "mine") with { Title = "Mine" };
                var theirs = Named(before, there, "theirs") with { Purpose = "Theirs." };

                var merge = TemplateMerge.Of(before, mine, theirs);

                Assert.Empty(merge.Conflicts);
                Assert.Equal(Json(Named(mine, there, "theirs") with { Purpose = "Theirs." }), Json(merge.Template));
            }
        );

    private static DrillTemplate Named(DrillTemplate template, string path, string name) =>
        SegmentEdits.Replace(template, path, SegmentEdits.At(template, path)! with { Name = name }).Template;
}
