using System.Text;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using SchoolDrills.Engine.Drills;
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
        Assert.Null(source.GetType().GetProperty("stream")!.GetValue(source));
    }

    [Fact]
    public async Task The_columns_of_a_preview_go_along_as_the_api_would_send_them()
    {
        using var read = new StreamReader(PlotSource.Json(Columns()), Encoding.UTF8);
        var json = await read.ReadToEndAsync(Xunit.TestContext.Current.CancellationToken);
        Render<DebriefPlots>(p => p.Add(d => d.Columns, Columns()).Add(d => d.Report, Report()));

        Assert.Contains("\"altitudeFt\":[3000,null]", json, StringComparison.Ordinal);
        Assert.IsType<DotNetStreamReference>(Opened()!.GetType().GetProperty("stream")!.GetValue(Opened()));
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
        var plots = Render<DebriefPlots>(p => p.Add(d => d.AttemptId, Attempt).Add(d => d.Report, Report())
            .Add(d => d.SelectedChanged, EventCallback.Factory.Create<int?>(this, i => chosen = i)));

        plots.InvokeAsync(() => plots.Instance.Choose(0));
        plots.Render(p => p.Add(d => d.Selected, 0));

        Assert.Equal(0, chosen);
        Assert.Equal("open", module.Invocations.First().Identifier);
    }

    [Fact]
    public void What_the_strips_show_is_said_in_words()
    {
        Assert.StartsWith("Altitude: outside in segment 1 for 14 s, at worst +180 ft. Heading: within tolerance throughout. Vertical speed: not measured.", PlotWords.Summary(Report()), StringComparison.Ordinal);
        Assert.Equal("Plan view: flown path of 1 of 2 segments over the path the drill asks for, wind from 303° true at 20 kt.", PlotWords.Plan(Report()));
    }

    private object? Opened() => module.Invocations["open"].Single().Arguments[1];

    private static ScoreReport Report() => new()
    {
        EngineVersion = "1",
        Drill = new("box", 1),
        Found = true,
        Confidence = 1,
        Wind = new(303, 19.6, 1, "turns"),
        Recording = new() { Format = "csv", Samples = 2, Dropped = 0, Gaps = 0, StartUtc = Start, EndUtc = Start.AddSeconds(30), MedianIntervalS = 1, Columns = new Dictionary<string, string>() },
        Sources = new("recorded", "indicated", "recorded"),
        Overall = new(0.5, Verdict.NotMet, "Half."),
        Segments =
        [
            new()
            {
                Index = 0, Name = "Straight", Kind = SegmentKind.LevelStraight, NominalStartS = 0, NominalEndS = 30, Status = SegmentStatus.Flown,
                StartUtc = Start, EndUtc = Start.AddSeconds(31), Verdict = Verdict.NotMet,
                Deviations =
                [
                    new() { Parameter = Parameter.Altitude, Unit = "ft", Tolerance = 100, Worst = 180, OutsideS = 14, Verdict = Verdict.NotMet, Why = "Outside." },
                    new() { Parameter = Parameter.Heading, Unit = "deg", Tolerance = 10, Worst = 4, OutsideS = 0, Verdict = Verdict.Met, Why = "Inside." },
                ],
            },
            new() { Index = 1, Name = "Turn", Kind = SegmentKind.LevelTurn, NominalStartS = 30, NominalEndS = 60, Status = SegmentStatus.Skipped, Verdict = Verdict.NotMet },
        ],
    };

    private static TrackColumns Columns()
    {
        double?[] none = [null, null];
        return new()
        {
            EpochUtc = Start,
            TimeS = [0, 1],
            LatDeg = [-43, -43],
            LonDeg = [172, 172],
            AltitudeFt = [3000, null],
            HeadingMagDeg = none,
            VerticalSpeedFpm = none,
            TurnRateDegPerS = none,
            AirspeedKt = none,
            SegmentIndex = [0, 0],
            AltitudeTargetFt = none,
            HeadingTargetMagDeg = none,
            VerticalSpeedTargetFpm = none,
            TurnRateTargetDegPerS = none,
            AirspeedTargetKt = none,
            AltitudeBandFt = none,
            HeadingBandDeg = none,
            VerticalSpeedBandFpm = none,
            TurnRateBandDegPerS = none,
            AirspeedBandKt = none,
        };
    }
}
