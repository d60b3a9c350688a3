using Bunit;
using Microsoft.AspNetCore.Components;
using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Web.Charts;

namespace SchoolDrills.Web.Tests.Charts;

public sealed class DebriefPlotsTests : BunitContext
{
    private static readonly DateTimeOffset Start = new(2026, 5, 6, 23, 15, 0, TimeSpan.Zero);
    private static readonly Guid Attempt = Guid.Parse("7b0f0e0a-4d0d-4a86-9d5a-0f3c6c1d2e11");

    private readonly BunitJSModuleInterop module;

    public DebriefPlotsTests()
    {
        module = JSInterop.SetupModule("./js/charts.js");
        module.Mode = JSRuntimeMode.Loose;
    }

    [Fact]
    public void The_track_is_fetched_by_the_browser_itself()
    {
        Render<DebriefPlots>(p => p.Add(d => d.AttemptId, Attempt).Add(d => d.Report, Report()));

        var source = Opened()!;
        Assert.Equal($"api/v1/attempts/{Attempt}/track", source.GetType().GetProperty("url")!.GetValue(source));
        Assert.Null(source.GetType().GetProperty("keptAs")!.GetValue(source));
    }

    [Fact]
    public void The_columns_of_a_preview_are_asked_of_the_browser_that_keeps_them()
    {
        Render<DebriefPlots>(p => p.Add(d => d.KeptAs, "preview-1").Add(d => d.Report, Report()));

        Assert.Equal("preview-1", Opened()!.GetType().GetProperty("keptAs")!.GetValue(Opened()));
    }

    [Fact]
    public void The_first_findings_carry_the_letters_by_which_they_are_read()
    {
        var findings = Enumerable
            .Range(0, 4)
            .Select(i => new Finding(0, FindingKind.AltitudeDrift, Parameter.Altitude, 100, "ft", Start.AddSeconds(i), "Low."))
            .ToList();

        var plotted = PlotSource.Of(Report() with { Findings = findings }).Findings;

        Assert.Equal(["A", "B", "C", null], plotted.Select(f => f.Letter));
        Assert.Equal("altitude", plotted[0].Parameter);
    }

    [Fact]
    public void The_drills_clock_read_zero_by_the_first_segment_that_was_timed_against_it()
    {
        var late = Report();
        late = late with { Segments = [late.Segments[0] with { NominalStartS = 30, StartErrorS = 2 }] };

        Assert.Equal(Start.AddSeconds(-32), PlotDescription.ClockZero(late));
    }

    [Fact]
    public void What_was_moved_on_the_strips_becomes_what_the_engine_takes()
    {
        var startMs = Start.ToUnixTimeMilliseconds();
        var pending = new PendingAdjustments(
            [
                new(2, "start", startMs + 5_200, startMs + 4_000),
                new(2, "end", startMs + 60_000, startMs + 61_000),
                new(0, "start", startMs, startMs + 1_000),
            ],
            [new(startMs, startMs + 10_000)],
            4
        );

        var byHand = pending.ToCorrections(_ => "Traffic.", run: 1);

        Assert.Equal([new(0, Start), new(2, Start.AddSeconds(5.2), Start.AddSeconds(60))], byHand.Boundaries!);
        Assert.Equal([new(Start, Start.AddSeconds(10), "Traffic.")], byHand.Excluded!);
        Assert.Equal(1, byHand.Run);
        Assert.Equal(1.2, pending.Boundaries[0].MovedS, 6);
    }

    [Fact]
    public void Segments_go_along_with_their_flown_times_and_those_not_flown_stay_out()
    {
        var source = PlotSource.Of(Report());

        var only = Assert.Single(source.Segments);
        Assert.Equal("not-met", only.Verdict);
        Assert.Equal(Start.ToUnixTimeMilliseconds(), only.StartMs);
    }

    [Fact]
    public void A_segment_chosen_in_the_drawing_is_told_to_the_page_and_one_chosen_on_the_page_to_the_drawing()
    {
        int? chosen = null;
        var plots = Render<DebriefPlots>(p =>
            p.Add(d => d.AttemptId, Attempt)
                .Add(d => d.Report, Report())
                .Add(d => d.SelectedChanged, EventCallback.Factory.Create<int?>(this, i => chosen = i))
        );

        plots.InvokeAsync(() => plots.Instance.Choose(0));
        plots.Render(p => p.Add(d => d.Selected, 0));

        Assert.Equal(0, chosen);
        Assert.Equal("open", module.Invocations.First().Identifier);
    }

    [Fact]
    public void What_plan_and_strips_show_is_said_in_words()
    {
        Assert.Equal(
            [
                "Straight, straight and level, from 0:00 to 0:31: not met. Altitude outside for 14 s, at "
                    + "worst +180 ft. In tolerance throughout: heading.",
                "Turn, level turn: not flown.",
            ],
            PlotDescription.Narrative(Report())
        );
        Assert.Equal(
            "Plan view: flown path of 1 of 2 segments over the path the drill asks for, wind from 303° true at 20 kt.",
            PlotDescription.Plan(Report())
        );
    }

    private object? Opened() => module.Invocations["open"].Single().Arguments[1];

    private static ScoreReport Report() =>
        new()
        {
            EngineVersion = "1",
            Drill = new("box", 1),
            Found = true,
            Confidence = 1,
            StartUtc = Start,
            Wind = new(303, 19.6, 1, WindSource.Turns),
            Recording = new()
            {
                Format = "csv",
                Samples = 2,
                Dropped = 0,
                Gaps = 0,
                StartUtc = Start,
                EndUtc = Start.AddSeconds(30),
                MedianIntervalS = 1,
                Columns = new Dictionary<string, string>(),
            },
            Sources = new(HeadingSource.Recorded, AltitudeSource.Indicated, AirspeedSource.Recorded),
            Overall = new(0.5, Verdict.NotMet, "Half."),
            Segments =
            [
                new()
                {
                    Index = 0,
                    Name = "Straight",
                    Kind = SegmentKind.LevelStraight,
                    NominalStartS = 0,
                    NominalEndS = 30,
                    Status = SegmentStatus.Flown,
                    StartUtc = Start,
                    EndUtc = Start.AddSeconds(31),
                    Verdict = Verdict.NotMet,
                    Deviations =
                    [
                        new()
                        {
                            Parameter = Parameter.Altitude,
                            Unit = "ft",
                            Tolerance = 100,
                            Worst = 180,
                            OutsideS = 14,
                            Verdict = Verdict.NotMet,
                            Why = "Outside.",
                        },
                        new()
                        {
                            Parameter = Parameter.Heading,
                            Unit = "deg",
                            Tolerance = 10,
                            Worst = 4,
                            OutsideS = 0,
                            Verdict = Verdict.Met,
                            Why = "Inside.",
                        },
                    ],
                },
                new()
                {
                    Index = 1,
                    Name = "Turn",
                    Kind = SegmentKind.LevelTurn,
                    NominalStartS = 30,
                    NominalEndS = 60,
                    Status = SegmentStatus.Skipped,
                    Verdict = Verdict.NotMet,
                },
            ],
        };
}
