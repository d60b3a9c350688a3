using SchoolDrills.Accuracy.Flown;
using SchoolDrills.Engine.Drills;
using Xunit;

namespace SchoolDrills.Engine.Tests.Scoring;

/// <summary>Simulated flights are drawn as often as their population says, and are what they are said to be.</summary>
public sealed class PopulationTests
{
    private const int Draws = 4000;

    /// <summary>Three standard deviations of a share of a half, over so many draws.</summary>
    private const double Scatter = 0.024;

    private static readonly DrillTemplate BoxCircles = Catalogue.Templates.Single(t => t.Slug == "box-circles");
    private static readonly DrillTimeline Timeline = DrillTimeline.Resolve(BoxCircles, BoxCircles.Entry);

    [Fact]
    public void Aeroplanes_are_drawn_as_often_as_stated()
    {
        Assert.Equal(1, AeroplaneType.All.Sum(t => t.Share), 6);
        var drawn = Drawn(AeroplaneType.Draw);
        Assert.All(AeroplaneType.All, type => Assert.InRange(drawn.Count(d => d == type) / (double)Draws - type.Share, -Scatter, Scatter));
    }

    [Fact]
    public void Habits_are_drawn_as_often_as_stated()
    {
        var drawn = Drawn(PilotHabits.Draw);
        AssertShare(Population.OneClock, drawn.Count(h => h.OneClock));
        AssertShare(Population.Fixates, drawn.Count(h => h.Fixates));
        AssertShare(Population.Tunnels, drawn.Count(h => h.Tunnels));
    }

    [Fact]
    public void Receivers_are_drawn_as_often_as_stated()
    {
        var drawn = Drawn(Receiver.Carried);
        AssertShare(Population.Phone, drawn.Count(r => r.LateS > 0));
        AssertShare(Population.Phone + ((1 - Population.Phone) * Population.Dropouts), drawn.Count(r => r.DropsOut));
        AssertShare(0.06, drawn.Count(r => r.Hz == 0.2));
    }

    [Fact]
    public void Incidents_are_drawn_as_often_as_stated_and_away_from_errors_on_purpose()
    {
        Mistake[] mistakes = [new("late_start", 3, 10, 1)];
        var drawn = Drawn(random => Incidents.Draw(random, BoxCircles, Timeline, mistakes));
        AssertShare(Population.Pause, drawn.Count(i => i.PauseAfter >= 0));
        AssertShare(Population.FlownAgain, drawn.Count(i => i.AgainAfter >= 0));
        AssertShare(Population.BegunAgain, drawn.Count(i => i.BegunAgainAfter >= 0));
        AssertShare(Population.OtherDrill, drawn.Count(i => i.Other is not null));
        Assert.DoesNotContain(drawn, i => i.PauseAfter is 2 or 3 || i.AgainAfter is 2 or 3);
    }

    [Fact]
    public void The_wind_changes_slowly()
    {
        var changes = Enumerable.Range(0, 200).Select(seed => new Day(new Random(seed))).Select(day => (OverS(day, 10), OverS(day, 3600)));
        Assert.All(changes, change => Assert.InRange(change.Item1, 0, 0.1));
        // An hour changes the wind by some 3 kt.
        Assert.InRange(changes.Select(change => change.Item2).Order().ElementAt(100), 1.5, 4.5);

        static double OverS(Day day, double seconds)
        {
            var (before, after) = (day.WindAt(3000, 1000), day.WindAt(3000, 1000 + seconds));
            return Math.Sqrt(Math.Pow(after.EastKt - before.EastKt, 2) + Math.Pow(after.NorthKt - before.NorthKt, 2));
        }
    }

    [Fact]
    public void A_flight_without_a_drill_lasts_an_hour_and_holds_none()
    {
        var flight = FlownFlight.WithoutDrill(5);
        Assert.Null(flight.Template);
        Assert.Empty(flight.Legs);
        Assert.True(flight.Moments[^1].TimeS > 3600);
        Assert.True(flight.OtherLegs.Select(l => Math.Round(l.Leg.Airspeed.ToKt)).Distinct().Count() >= 5);
    }

    [Fact]
    public void Later_flight_of_a_pause_does_not_count_on_the_clock()
    {
        var seed = Enumerable.Range(1, 400).First(s => FlownFlight.Drawn(s).Incidents.PauseAfter >= 0);
        var flight = FlownFlight.Fly(seed);
        var after = flight.Legs.First(l => l.Leg.Segment > flight.Incidents.PauseAfter);
        var before = flight.Legs.Last(l => l.Leg.Segment == flight.Incidents.PauseAfter);
        Assert.True(after.StartS - before.EndS > 15);
        Assert.InRange(after.StartS - after.ClockZeroS - (before.EndS - before.ClockZeroS), -0.2, 0.2);
    }

    [Fact]
    public void A_drill_flown_as_planned_is_recognizable() => Assert.True(Recognition.IsRecognizable(Timeline.Segments, s => AsPlanned(s)));

    [Fact]
    public void A_drill_with_every_turn_40_degrees_short_is_not_recognizable() =>
        Assert.False(
            Recognition.IsRecognizable(Timeline.Segments, s => AsPlanned(s) with { TurnDeg = s.TurnDeg - (40 * Math.Sign(s.TurnDeg)) })
        );

    [Fact]
    public void A_drill_given_up_half_way_is_not_recognizable() =>
        Assert.False(Recognition.IsRecognizable(Timeline.Segments, s => s.Index < Timeline.Segments.Count / 2 ? AsPlanned(s) : null));

    [Fact]
    public void One_segment_left_out_leaves_a_drill_recognizable() =>
        Assert.True(Recognition.IsRecognizable(Timeline.Segments, s => s.Index == 4 ? null : AsPlanned(s)));

    private static Recognition.Made AsPlanned(TimelineSegment s) =>
        new(s.TurnDeg, s.EndAltitudeFt - s.StartAltitudeFt, s.AirspeedKt - s.StartAirspeedKt, s.DurationS);

    private static List<T> Drawn<T>(Func<Random, T> draw)
    {
        var random = new Random(1);
        return [.. Enumerable.Range(0, Draws).Select(_ => draw(random))];
    }

    private static void AssertShare(double stated, int drawn) => Assert.InRange((drawn / (double)Draws) - stated, -Scatter, Scatter);
}
