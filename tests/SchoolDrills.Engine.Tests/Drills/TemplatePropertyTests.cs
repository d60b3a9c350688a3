using System.Collections;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using SchoolDrills.Engine.Drills;
using Xunit;
using static SchoolDrills.Engine.Tests.Drills.Timelines;

namespace SchoolDrills.Engine.Tests.Drills;

public sealed class TemplatePropertyTests
{
    private static readonly Gen<Segment> ValidSegment = Gen.OneOf(
        from s in Gen.Choose(1, 120)
        select new Segment { DurationS = s },
        from deg in Gen.Choose(5, 720)
        from right in Gen.Elements(-1, 1)
        from rate in Gen.Elements(1.5, 2, 3)
        select new Segment { TurnDeg = deg * right, TurnRateDegPerS = rate },
        from ft in Gen.Choose(1, 10)
        from up in Gen.Elements(-100, 100)
        select new Segment { ClimbFt = ft * up },
        from s in Gen.Choose(20, 120)
        from kt in Gen.Elements(-5, 5)
        select new Segment { DurationS = s, SpeedChangeKt = kt },
        from s in Gen.Choose(10, 120)
        from right in Gen.Elements(-3, 3)
        from fpm in Gen.Elements(-500, 500)
        select new Segment { TurnDeg = s * right, ClimbFt = fpm / 60.0 * s }
    );

    private static readonly Gen<Segment> ValidItem = Gen.OneOf(
        ValidSegment,
        ValidSegment,
        from repeat in Gen.Choose(1, 3)
        from inner in ValidSegment.ListOf(3)
        select new Segment
        {
            Name = "Part",
            Repeat = repeat,
            Segments = [.. inner],
        }
    );

    private static readonly Gen<DrillTemplate> ValidTemplate =
        from count in Gen.Choose(1, 12)
        from items in ValidItem.ListOf(count)
        select Drill([.. items]) with
        {
            Entry = new DrillEntry(360, 20000, 150),
        };

    private static readonly Gen<double?> AnyNumber = Gen.Elements<double?>(
        null,
        0,
        -1,
        0.5,
        3,
        30,
        90,
        360,
        -360,
        500,
        1000,
        1e9,
        -1e9,
        double.NaN,
        double.PositiveInfinity
    );

    /// <summary>A valid template with one member of one segment put to anything.</summary>
    private static readonly Gen<DrillTemplate> MutatedTemplate =
        from template in ValidTemplate
        from at in Gen.Choose(0, template.Segments.Count - 1)
        from member in Gen.Choose(0, 6)
        from value in AnyNumber
        select template with
        {
            Segments = [.. template.Segments.Select((s, i) => i == at ? Mutate(s, member, value) : s)],
        };

    private static Segment Mutate(Segment segment, int member, double? value) =>
        member switch
        {
            0 => segment with { DurationS = value },
            1 => segment with { TurnDeg = value },
            2 => segment with { TurnRateDegPerS = value },
            3 => segment with { ClimbFt = value },
            4 => segment with { VerticalSpeedFpm = value },
            5 => segment with { SpeedChangeKt = value },
            _ => segment with { Repeat = value is > -10 and < 1e8 ? (int)value : null },
        };

    [Property(MaxTest = 300, Replay = "20260211,1")]
    public Property Any_valid_template_resolves_to_contiguous_segments() =>
        Prop.ForAll(
            ValidTemplate.ToArbitrary(),
            template =>
            {
                Assert.Empty(TemplateProblems.Of(template));
                AssertConsistent(DrillTimeline.Resolve(template, template.Entry));
                AssertConsistent(DrillTimeline.Resolve(template, template.Entry with { Mirrored = true, HalfRate = true }));
            }
        );

    [Property(MaxTest = 1000, Replay = "20260211,3")]
    public Property A_mutated_template_is_refused_with_a_reason_or_resolves_to_a_consistent_timeline() =>
        Prop.ForAll(
            MutatedTemplate.ToArbitrary(),
            template =>
            {
                var problems = TemplateProblems.Of(template);
                if (problems.Count == 0)
                    AssertConsistent(DrillTimeline.Resolve(template, template.Entry));
                else
                    Assert.All(problems, p => Assert.EndsWith(".", p, StringComparison.Ordinal));
            }
        );

    [Fact]
    public void The_work_of_resolving_grows_with_the_number_of_segments()
    {
        var (hundred, twoHundred) = (ReadsOf(100), ReadsOf(200));

        Assert.InRange(twoHundred, 1, (2 * hundred) + 1);

        static int ReadsOf(int count)
        {
            var segments = new CountedList([.. Enumerable.Repeat(new Segment { TurnDeg = 30 }, count)]);
            var timeline = DrillTimeline.Resolve(Drill() with { Segments = segments }, new DrillEntry(360, 3000, 90));
            Assert.Equal(count, timeline.Segments.Count);
            return segments.Reads;
        }
    }

    /// <summary>Segments that count how often one is looked at.</summary>
    private sealed class CountedList(Segment[] segments) : IReadOnlyList<Segment>
    {
        public int Reads { get; private set; }

        public int Count => segments.Length;

        public Segment this[int index]
        {
            get
            {
                Reads++;
                return segments[index];
            }
        }

        public IEnumerator<Segment> GetEnumerator()
        {
            foreach (var segment in segments)
            {
                Reads++;
                yield return segment;
            }
        }

        IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
    }
}
