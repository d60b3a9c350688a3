using System.Text.RegularExpressions;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>What a refusal or a warning says to do is done here, with the names it shows, and helps.</summary>
public class RefusalAdviceTests
{
    private const string Long = "A name of a column that goes on for longer than forty characters, position north";

    private static TrackReadOptions Mapping(params (string Quantity, string Column, string? Unit)[] choices) =>
        new() { ColumnMapping = choices.ToDictionary(c => c.Quantity, c => new ColumnChoice(c.Column, c.Unit)) };

    private static string Refusal(string text, TrackReadOptions? options = null) =>
        Recording.Bad(Recording.ReadText(text, options), TrackProblemKind.Unreadable).Message;

    [Theory]
    [InlineData(Long)]
    [InlineData("x123456789x123456789x123456789x123456789x123456789x123456789x123456789x123456789x123456789x123456789x123456789")]
    public void Column_names_in_a_refusal_are_those_that_a_mapping_takes(string name)
    {
        name = name.Replace(',', ' ');
        var text = $"time,{name},lon\n2026-01-17T17:30:00Z,41.5,-99.5\n";
        var shown = Regex.Match(Refusal(text), @"\(time, (.*), lon\)").Groups[1].Value;
        Assert.Equal(41.5, Recording.GoodText(text, Mapping(("latDeg", shown, null))).LatDeg[0]);
    }

    [Fact]
    public void The_columns_that_are_missing_can_be_said_one_after_the_other()
    {
        const string Text = "stamp;north;east;alt ft\n2026-01-17T17:30:00Z;41.5;-99.5;1000\n";
        Assert.Contains("say which columns hold time, latitude and longitude", Refusal(Text));
        Assert.Contains("a latitude; say which", Refusal(Text, Mapping(("timeS", "stamp", null))));
        Assert.Contains("a longitude; say which", Refusal(Text, Mapping(("timeS", "stamp", null), ("latDeg", "north", null))));
        var all = Mapping(("timeS", "stamp", null), ("latDeg", "north", null), ("lonDeg", "east", null));
        Assert.Equal(1000, Recording.GoodText(Text, all).GpsAltitudeFt![0]);
    }

    [Fact]
    public void Columns_that_hold_no_positions_can_be_corrected()
    {
        const string Text = "time,lat,lon,y,x\n2026-01-17T17:30:00Z,N/A,N/A,41.5,-99.5\n";
        Assert.Contains("check which of its columns (time, lat, lon, y, x)", Refusal(Text));
        Assert.Equal(-99.5, Recording.GoodText(Text, Mapping(("latDeg", "y", null), ("lonDeg", "x", null))).LonDeg[0]);
    }

    [Fact]
    public void A_date_can_be_added_or_pointed_out()
    {
        Assert.Contains("add a date column, or say which", Refusal("utc time,day,lat,lon\n17:30:00,2026-01-17,41.5,-99.5\n"));
        var said = Mapping(("date", "day", null));
        Assert.Equal(17, Recording.GoodText("utc time,day,lat,lon\n17:30:00,2026-01-17,41.5,-99.5\n", said).EpochUtc.Day);
        Assert.Equal(17, Recording.GoodText("utc time,date,lat,lon\n17:30:00,2026-01-17,41.5,-99.5\n").EpochUtc.Day);
    }

    [Theory]
    [InlineData("time,stamp,lat,lon\n0.0,2026-01-17T17:30:00Z,41.5,-99.5\n0.5,2026-01-17T17:30:01Z,41.5,-99.5\n", "time")]
    [InlineData("date,time (s),stamp,lat,lon\n2026-01-17,120,2026-01-17T17:30:00Z,41.5,-99.5\n", "time (s)")]
    [InlineData("millis,time,stamp,lat,lon\n7,86400,2026-01-17T17:30:00Z,41.5,-99.5\n", "time")]
    public void Times_that_count_from_some_start_are_not_told_to_add_a_date(string text, string name)
    {
        var message = Refusal(text);
        Assert.Contains($"\"{name}\" counts from some start", message);
        Assert.DoesNotContain("add a date", message);
        Assert.Equal(2026, Recording.GoodText(text, Mapping(("timeS", "stamp", null))).EpochUtc.Year);
    }

    [Fact]
    public void A_column_of_times_is_not_asked_for_where_there_is_none()
    {
        Assert.Contains("holds a time of day; export", Refusal("elapsed,lat,lon\n0.0,41.5,-99.5\n0.5,41.5,-99.5\n"));
        const string Text = "elapsed,when,lat,lon\n0.0,2026-01-17T17:30:00Z,41.5,-99.5\n";
        Assert.Contains("a time; say which", Refusal(Text));
        Recording.GoodText(Text, Mapping(("timeS", "when", null)));
    }

    [Fact]
    public void A_time_of_day_in_six_digits_is_no_count() =>
        Assert.Equal(17, Recording.GoodText("date,utc time,lat,lon\n2026-01-17,173000,41.5,-99.5\n").EpochUtc.Hour);

    [Fact]
    public void A_mapping_that_takes_one_column_twice_can_be_corrected()
    {
        const string Text = "time,lat,lon,A,B\n2026-01-17T17:30:00Z,41.5,-99.5,100,200\n";
        var twice = Mapping(("indicatedAltitudeFt", "A", null), ("pressureAltitudeFt", "A", null));
        Assert.Contains("choose another column for one of them, or none", Refusal(Text, twice));
        Recording.GoodText(Text, Mapping(("indicatedAltitudeFt", "A", null), ("pressureAltitudeFt", "B", null)));
        Recording.GoodText(Text, Mapping(("indicatedAltitudeFt", "A", null), ("pressureAltitudeFt", "none", null)));
    }

    [Fact]
    public void A_unit_that_cannot_be_may_be_set()
    {
        const string Text = "time,lat,lon,IAS (hPa)\n2026-01-17T17:30:00Z,41.5,-99.5,185.2\n";
        Assert.Contains("set its unit", Assert.Single(Recording.GoodText(Text).Warnings));
        Assert.Equal(100, Recording.GoodText(Text, Mapping(("indicatedAirspeedKt", "IAS (hPa)", "km/h"))).IndicatedAirspeedKt![0], 9);
    }

    [Fact]
    public void A_document_type_can_be_removed()
    {
        const string Text =
            "<!DOCTYPE gpx><gpx><trk><trkseg><trkpt lat=\"41.5\" lon=\"-99.5\"><time>2026-01-17T17:30:00Z</time></trkpt>"
            + "</trkseg></trk></gpx>";
        Assert.Contains("remove the DOCTYPE", Refusal(Text));
        Recording.GoodText(Text.Replace("<!DOCTYPE gpx>", ""));
    }

    [Fact]
    public void Control_characters_of_the_file_are_never_shown()
    {
        const string Bad = "n\u001B[31mort\u0007h\u202E";
        var text = $"time,{Bad},lon,IAS (h\u0001Pa)\n2026-01-17T17:30:00Z,41.5,-99.5,\u001B[2J90\n";
        // Enough text about it that the file is not taken for a binary one.
        text += string.Concat(Enumerable.Repeat("2026-01-17T17:30:00Z,41.5,-99.5,90\n", 20));
        var problem = Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable);
        Assert.DoesNotContain(problem.Message, IsControl);
        var name = problem.Header!.Columns[1].Name;
        Assert.DoesNotContain(name, IsControl);
        Assert.DoesNotContain(problem.Header.Columns.SelectMany(c => c.Samples.Append(c.Unit ?? "")).SelectMany(s => s), IsControl);
        var track = Recording.GoodText(text, Mapping(("latDeg", name, null)));
        Assert.Equal(41.5, track.LatDeg[0]);
        Assert.DoesNotContain(track.Warnings.Concat(track.Columns.Values).SelectMany(s => s), IsControl);

        static bool IsControl(char c) => char.IsControl(c) || c == '\u202E';
    }
}
