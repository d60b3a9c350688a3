using System.Globalization;
using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>
/// Panels that log the local date beside local time, UTC and the offset; whatever midnight passes, and wherever, time goes on.
/// </summary>
public class LocalDateTests
{
    public static TheoryData<string, string> Midnights
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var offset in new[] { "+12:00", "+13:00", "-10:00", "+05:30", "-03:30", "+05:45", "-06:00", "+00:00" })
            {
                // Midnight of UTC, and midnight of the place.
                data.Add(offset, "2026-02-28T23:59:50");
                data.Add(offset, Local("2026-02-28T23:59:50", -1, offset).ToString("s", CultureInfo.InvariantCulture));
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Midnights))]
    public void Local_date_local_time_and_offset_are_the_truth(string offset, string startUtc)
    {
        IsContinuous(Log("Date,Time,UTC Time,UTC Offset", offset, startUtc), startUtc);
        IsContinuous(Log("Lcl Date,Lcl Time,UTC Time,UTCOfst", offset, startUtc), startUtc);
        IsContinuous(Log("UTC Time,Local Date,Local Time,UTC Offset", offset, startUtc), startUtc);
    }

    [Theory]
    [MemberData(nameof(Midnights))]
    public void Local_date_with_the_time_of_UTC_takes_its_day_from_the_offset(string offset, string startUtc)
    {
        IsContinuous(Log("Local Date,UTC Time,UTC Offset", offset, startUtc), startUtc);
        var bare = Log("Date,UTC Time,UTC Offset", offset, startUtc);
        IsContinuous(bare, startUtc);
        Assert.Contains("\"Date\" was taken as the local date", Assert.Single(bare.Warnings));
    }

    [Fact]
    public void A_date_of_UTC_goes_with_the_time_of_UTC()
    {
        IsContinuous(Log("Date,Time,UTC Date,UTC Time,UTC Offset", "+13:00", "2026-02-28T23:59:50"), "2026-02-28T23:59:50");
        var mapping = new Dictionary<string, ColumnChoice> { ["utcOffset"] = new("none") };
        var text = "Date,UTC Time,UTC Offset,lat,lon\n2026-02-28,23:59:50,+13:00,41.5,-99.5\n";
        Assert.Equal(
            new DateTimeOffset(2026, 2, 28, 23, 59, 50, TimeSpan.Zero),
            Recording.GoodText(text, new TrackReadOptions { ColumnMapping = mapping }).EpochUtc
        );
    }

    [Fact]
    public void A_local_date_with_the_time_of_UTC_and_no_offset_is_said_to_be_in_doubt() =>
        Assert.Contains(
            "no column says how far",
            Assert.Single(Recording.GoodText("local date,utc time,lat,lon\n2026-01-18,17:30:00,41.5,-99.5\n").Warnings)
        );

    private static void IsContinuous(Track track, string startUtc)
    {
        Assert.Equal(DateTimeOffset.Parse(startUtc + "Z", CultureInfo.InvariantCulture), track.EpochUtc);
        Assert.Equal(Enumerable.Range(0, 20).Select(i => (double)i), track.TimeS);
        Assert.Equal(0, track.DroppedRecords);
    }

    private static Track Log(string columns, string offset, string startUtc)
    {
        var text = new StringBuilder(columns + ",lat,lon\n");
        for (var i = 0; i < 20; i++)
        {
            var utc = DateTime.Parse(startUtc, CultureInfo.InvariantCulture).AddSeconds(i);
            var local = Local(utc.ToString("s", CultureInfo.InvariantCulture), 1, offset);
            foreach (var column in columns.Split(','))
            {
                text.Append(
                        column switch
                        {
                            "UTC Date" => utc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                            "UTC Time" => utc.ToString("HH:mm:ss", CultureInfo.InvariantCulture),
                            "UTC Offset" or "UTCOfst" => offset,
                            _ when column.EndsWith("Date", StringComparison.Ordinal) => local.ToString(
                                "yyyy-MM-dd",
                                CultureInfo.InvariantCulture
                            ),
                            _ => local.ToString("HH:mm:ss", CultureInfo.InvariantCulture),
                        }
                    )
                    .Append(',');
            }
            text.Append("41.5,-99.5\n");
        }
        return Recording.GoodText(text.ToString());
    }

    private static DateTime Local(string utc, int sign, string offset) =>
        DateTime.Parse(utc, CultureInfo.InvariantCulture) + sign * TimeSpan.Parse(offset.TrimStart('+'), CultureInfo.InvariantCulture);
}
