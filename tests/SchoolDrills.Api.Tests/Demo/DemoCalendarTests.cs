using System.IO.Compression;
using SchoolDrills.Api.Demo;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Api.Tests.Demo;

public sealed class DemoCalendarTests
{
    public static TheoryData<string> Files => [.. DemoWork.Flights.Select(f => f.File).Distinct()];

    [Theory]
    [MemberData(nameof(Files))]
    public void A_recording_is_moved_by_whole_days_and_is_otherwise_the_same(string file)
    {
        var bytes = Recording(file);
        var (was, moved) = (Read(bytes), Read(new DemoCalendar(400).Moved(bytes)));

        Assert.Equal(was.EpochUtc.AddDays(400), moved.EpochUtc);
        Assert.Equal(was.TimeS, moved.TimeS);
        Assert.Equal(was.LatDeg, moved.LatDeg);
    }

    [Fact]
    public void The_last_flights_of_a_new_demo_school_are_a_few_days_old()
    {
        var today = new DateOnly(2031, 5, 17);
        var calendar = DemoCalendar.From(today);

        var newest = DemoWork.Flights.Max(calendar.Of);
        Assert.InRange(newest, today.AddDays(-7), today.AddDays(-1));
        var flight = DemoWork.Flights[3];
        Assert.Equal(calendar, DemoCalendar.From(flight, calendar.DueOn(flight)));
        Assert.StartsWith($"{calendar.Of(flight):yyyy-MM-dd}-", calendar.FileOf(flight), StringComparison.Ordinal);
    }

    private static Track Read(byte[] bytes)
    {
        var read = TrackReader.Read(new MemoryStream(bytes), ct: TestContext.Current.CancellationToken);
        Assert.NotNull(read.Track);
        return read.Track;
    }

    private static byte[] Recording(string file)
    {
        using var packed = typeof(DemoCalendar).Assembly.GetManifestResourceStream($"demo/{file}.gz");
        Assert.NotNull(packed);
        using var unpacked = new GZipStream(packed, CompressionMode.Decompress);
        using var bytes = new MemoryStream();
        unpacked.CopyTo(bytes);
        return bytes.ToArray();
    }
}
