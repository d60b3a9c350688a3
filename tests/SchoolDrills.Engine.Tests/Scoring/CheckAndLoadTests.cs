using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Scoring;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>What was noted on board, joined with what was flown. The drill has a clean-up flow of 30 s on each of its four sides.</summary>
public sealed class CheckAndLoadTests
{
    private static readonly int[] CleanUps = [2, 6, 10, 14];

    [Fact]
    public void Nobody_noting_is_not_the_same_as_nothing_done()
    {
        Assert.DoesNotContain(Scored.Report("f01.gpx", "box-circles").Findings, f => f.Kind == FindingKind.MissedCheck);
        Assert.Equal(
            4,
            Scored
                .Report("f01.gpx", "box-circles", new ScoringOptions { Events = [] })
                .Findings.Count(f => f.Kind == FindingKind.MissedCheck)
        );
    }

    [Fact]
    public void Checks_in_their_windows_late_and_missed_are_told_apart()
    {
        var own = Scored.Report("f01.gpx", "box-circles");
        DateTimeOffset CleanUp(int side, double s) => own.Segments[CleanUps[side]].StartUtc!.Value.AddSeconds(s);
        var findings = Scored
            .Report(
                "f01.gpx",
                "box-circles",
                new ScoringOptions
                {
                    Events =
                    [
                        new FlightEvent("check", CleanUp(0, 12), "Clean-up flow, side 1"),
                        new FlightEvent("check", CleanUp(1, 50), "clean-up flow, side 2"),
                        new FlightEvent("check", CleanUp(3, 5)),
                        new FlightEvent("mark", CleanUp(2, 5), "Clean-up flow, side 3"),
                    ],
                }
            )
            .Findings;
        var late = Assert.Single(findings, f => f.Kind == FindingKind.LateCheck);
        Assert.Equal(CleanUps[1], late.SegmentIndex);
        Assert.Equal(20, late.Magnitude, 0.5);
        Assert.Equal(CleanUps[2], Assert.Single(findings, f => f.Kind == FindingKind.MissedCheck).SegmentIndex);
    }

    /// <summary>Truth of f12: airspeed let go to 71.5 kt from the last third of the first straight on.</summary>
    [Fact]
    public void A_drift_in_the_wake_of_a_load_task_says_so()
    {
        var own = Scored.Report("f12.csv", "racetrack");
        var (drift, first) = (
            own.Findings.Single(f => f is { Kind: FindingKind.AirspeedDrift, SegmentIndex: 0 }),
            own.Segments[0].Deviations.Single(d => d.Parameter == Parameter.Airspeed)
        );
        var leftAt = drift.AtUtc!.Value.AddSeconds(-first.CorrectionS!.Value);
        var told = Scored.Report(
            "f12.csv",
            "racetrack",
            new ScoringOptions { Events = [new FlightEvent("load-task", leftAt.AddSeconds(-5), "Reciprocal")] }
        );
        Assert.Contains(
            "5 s after the load task Reciprocal",
            told.Findings.Single(f => f is { Kind: FindingKind.AirspeedDrift, SegmentIndex: 0 }).Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Airspeed_let_go_for_long_is_a_hint_that_it_went_unread()
    {
        var report = Scored.Report("f12.csv", "racetrack");
        var hint = Assert.Single(report.ScanHints, h => h is { Kind: ScanError.Omission, Parameter: Parameter.Airspeed });
        Assert.Contains("may have", hint.Text, StringComparison.Ordinal);
        Assert.InRange(report.Segments[0].Deviations.Single(d => d.Parameter == Parameter.Airspeed).CorrectionS!.Value, 20, 60);
        Assert.Empty(Scored.Report("f13.csv", "timed-turns").ScanHints);
    }
}
