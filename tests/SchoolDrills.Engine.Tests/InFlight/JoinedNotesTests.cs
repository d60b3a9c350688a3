using SchoolDrills.Engine.InFlight;
using Xunit;

namespace SchoolDrills.Engine.Tests.InFlight;

/// <summary>Two tablets and what was told of the flight itself; expected values by hand.</summary>
public class JoinedNotesTests
{
    private static readonly Guid One = Guid.NewGuid();
    private static readonly Guid Other = Guid.NewGuid();

    [Theory]
    [InlineData(5, 1)]
    [InlineData(-5, 1)]
    [InlineData(5.1, 2)]
    public void What_two_note_within_five_seconds_is_one(double apartS, int count) =>
        Assert.Equal(count, JoinedNotes.Of([], [Noted(One, 100, "Fuel"), Noted(Other, 100 + apartS, " fuel")]).Count);

    [Fact]
    public void What_one_notes_twice_is_two() =>
        Assert.Equal(2, JoinedNotes.Of([], [Noted(One, 100, "Fuel"), Noted(One, 101, "Fuel")]).Count);

    [Fact]
    public void Another_task_at_the_same_moment_is_another() =>
        Assert.Equal(2, JoinedNotes.Of([], [Noted(One, 100, "Fuel"), Noted(Other, 100, "Lights")]).Count);

    [Fact]
    public void One_number_is_one_event_whenever_it_was_and_the_first_log_has_it()
    {
        var noted = Noted(One, 100, "Fuel");
        Assert.Equal([noted], JoinedNotes.Of([], [noted, noted with { By = Other, AtUtc = noted.AtUtc.AddSeconds(30) }]));
    }

    [Fact]
    public void What_was_told_of_the_flight_itself_counts_before_what_logs_say()
    {
        var told = Noted(null, 103, "Fuel");
        var lights = Noted(One, 103, "Lights");
        Assert.Equal([lights], JoinedNotes.Of([told], [Noted(One, 100, "Fuel"), lights, told with { By = One }]));
    }

    private static NotedEvent Noted(Guid? by, double atS, string detail) =>
        new(Guid.NewGuid(), by, "check", new DateTimeOffset(2026, 11, 28, 12, 0, 0, TimeSpan.Zero).AddSeconds(atS), detail);
}
