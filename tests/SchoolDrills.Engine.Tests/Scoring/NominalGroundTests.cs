using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Flight;
using SchoolDrills.Engine.Scoring;
using SchoolDrills.Engine.Tests.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>The path that a drill asks for, over the ground of a real recording.</summary>
public sealed class NominalGroundTests
{
    [Fact]
    public void The_path_asked_for_begins_where_the_drill_was_begun_and_runs_to_its_last_second()
    {
        var columns = Columns("f01.gpx", "box-circles");
        var begun = Array.FindIndex(columns.TimeS, t => t >= 0);
        // The recording has a fix a second, so the first of the drill is within one second of its start.
        Assert.InRange(DistanceM(columns, begun, 0), 0, 80);
        Assert.Equal(0, columns.NominalTimeS[0]);
        // Four sides of 3:30, as in the drill's own timeline.
        Assert.Equal(840, columns.NominalTimeS[^1], 1e-6);
        Assert.Equal(columns.NominalTimeS.Order(), columns.NominalTimeS);
    }

    // The record of f01: an excellent pilot in a wind of 4 kt, within all tolerances; a wind left out would carry the end of
    // fourteen minutes 0.9 NM (1,700 m) away.
    [Fact]
    public void An_excellent_pilot_stays_beside_the_path_asked_for_in_the_wind_of_the_day()
    {
        var columns = Columns("f01.gpx", "box-circles");
        var furthestM = Enumerable
            .Range(0, columns.NominalTimeS.Length)
            .Max(i =>
                DistanceM(columns, Array.FindIndex(columns.TimeS, t => t >= Math.Min(columns.NominalTimeS[i], columns.TimeS[^1])), i)
            );
        Assert.InRange(furthestM, 0, 1_200);
    }

    private static TrackColumns Columns(string file, string drill) =>
        AttemptScorer
            .Score(
                Recording.ReadFile(file).Track!,
                Catalogue.Templates.Single(t => t.Slug == drill),
                Catalogue.Standards.Single(s => s.Slug == "instrument-rating"),
                new ScoringOptions(),
                cancellation: TestContext.Current.CancellationToken
            )
            .Columns;

    private static double DistanceM(TrackColumns columns, int flown, int asked) =>
        Geodesy
            .Between(columns.LatDeg[flown], columns.LonDeg[flown], columns.NominalLatDeg[asked], columns.NominalLonDeg[asked])!
            .DistanceM;
}
