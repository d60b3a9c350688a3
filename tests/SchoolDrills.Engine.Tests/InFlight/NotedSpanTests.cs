using SchoolDrills.Engine.InFlight;
using Xunit;

namespace SchoolDrills.Engine.Tests.InFlight;

/// <summary>Expected values by hand; seconds after noon.</summary>
public class NotedSpanTests
{
    [Fact]
    public void A_log_spans_all_its_times_and_none_has_no_span()
    {
        Assert.Equal(Span(10, 60), NotedSpan.Of([At(30), null, At(10), At(60)]));
        Assert.Null(NotedSpan.Of([null, null]));
    }

    [Fact]
    public void It_is_of_the_flight_whose_drill_it_overlaps_most()
    {
        // Overlaps of 100 to 400 s: none within the drill, 50 s, 200 s.
        RecordedFlight[] flights = [Flight(0, 500, 420, 480), Flight(0, 500, 350, 450), Flight(0, 500, 150, 350)];
        Assert.Equal(2, Span(100, 400).FlightAmong(flights, current: null));
        Assert.Equal(2, Span(100, 400).FlightAmong(flights, current: 1));
    }

    [Fact]
    public void Between_flights_that_fit_alike_it_stays_where_it_is()
    {
        RecordedFlight[] flights = [Flight(0, 500, 100, 300), Flight(5, 505, 100.5, 300)];
        Assert.Equal(0, Span(50, 400).FlightAmong(flights, current: null));
        Assert.Equal(1, Span(50, 400).FlightAmong(flights, current: 1));
    }

    [Fact]
    public void A_recording_in_which_no_drill_is_known_does_where_no_other_fits()
    {
        RecordedFlight[] flights = [Flight(0, 500), Flight(0, 500, 100, 300)];
        Assert.Equal(1, Span(250, 400).FlightAmong(flights, current: 0));
        Assert.Equal(0, Span(450, 600).FlightAmong(flights[..1], current: null));
        Assert.Null(Span(501, 600).FlightAmong(flights, current: 0));
    }

    private static DateTimeOffset At(double s) => new DateTimeOffset(2026, 11, 28, 12, 0, 0, TimeSpan.Zero).AddSeconds(s);

    private static NotedSpan Span(double startS, double endS) => new(At(startS), At(endS));

    private static RecordedFlight Flight(double startS, double endS, double? drillStartS = null, double? drillEndS = null) =>
        new(At(startS), At(endS), drillStartS is { } from ? At(from) : null, drillEndS is { } to ? At(to) : null);
}
