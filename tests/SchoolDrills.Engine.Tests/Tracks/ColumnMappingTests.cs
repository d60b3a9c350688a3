using System.Text;
using SchoolDrills.Engine.Tracks;
using Xunit;

namespace SchoolDrills.Engine.Tests.Tracks;

/// <summary>A person's word on the columns of a CSV; 0.3048 m is a foot, 1852 m/h a knot.</summary>
public class ColumnMappingTests
{
    private const string At = "2026-01-17T17:30:00Z,41.5,-99.5";

    private static TrackReadOptions Mapping(params (string Quantity, string Column, string? Unit)[] choices) =>
        new() { ColumnMapping = choices.ToDictionary(c => c.Quantity, c => new ColumnChoice(c.Column, c.Unit)) };

    private static string Refusal(string text, params (string Quantity, string Column, string? Unit)[] choices) =>
        Recording.Bad(Recording.ReadText(text, Mapping(choices)), TrackProblemKind.Unreadable).Message;

    [Fact]
    public void A_manual_choice_takes_precedence_over_names_and_is_reported()
    {
        var track = Recording.GoodText(
            "time,y,x,altitude,A2\n" + At + ",100,200\n",
            Mapping(("indicatedAltitudeFt", "A2", null), ("gpsAltitudeFt", "none", null), ("latDeg", "y", null), ("lonDeg", "x", null))
        );
        Assert.Equal(200, track.IndicatedAltitudeFt![0]);
        Assert.Null(track.GpsAltitudeFt);
        Assert.Equal(41.5, track.LatDeg[0]);
        Assert.Equal("A2", track.Columns["indicatedAltitudeFt"]);
        Assert.Contains("indicatedAltitudeFt from \"A2\"", Assert.Single(track.Warnings));
    }

    [Fact]
    public void A_remembered_mapping_is_reported_as_the_schools()
    {
        var options = Mapping(("indicatedAltitudeFt", "A2", null)) with { ColumnMappingIsRemembered = true };
        Assert.Contains("the school", Assert.Single(Recording.GoodText("time,lat,lon,A2\n" + At + ",200\n", options).Warnings));
    }

    [Fact]
    public void A_header_without_a_known_word_can_be_mapped_completely()
    {
        var text = "t;a;b;c\n2026-01-17T17:30:00Z;41.5;-99.5;1000\n2026-01-17T17:30:01Z;41.6;-99.4;1001\n";
        var problem = Recording.Bad(Recording.ReadText(text), TrackProblemKind.Unreadable);
        Assert.Contains("t, a, b, c", problem.Message);
        Assert.Equal(["t", "a", "b", "c"], problem.Header!.Columns.Select(c => c.Name));
        Assert.Equal(["41.5", "41.6"], problem.Header.Columns[1].Samples);
        var track = Recording.GoodText(
            text,
            Mapping(("timeS", "t", null), ("latDeg", "a", null), ("lonDeg", "b", null), ("pressureAltitudeFt", "c", null))
        );
        Assert.Equal([41.5, 41.6], track.LatDeg);
        Assert.Equal([1000, 1001], track.PressureAltitudeFt!);
        Assert.Equal(problem.Header.Fingerprint, track.Header!.Fingerprint);
    }

    [Theory]
    [InlineData("indicatedAltitudeFt", "m", "304.8", 1000)]
    [InlineData("pressureAltitudeFt", "FL", "95", 9500)]
    [InlineData("groundSpeedKt", "km/h", "185.2", 100)]
    [InlineData("verticalSpeedFpm", "m/s", "5.08", 1000)]
    [InlineData("altimeterSettingHpa", "inHg", "29.92126", 1013.25)]
    [InlineData("outsideAirTemperatureC", "°F", "50", 10)]
    [InlineData("magneticVariationDeg", "° west", "50", -50)]
    public void A_manual_unit_takes_precedence_over_the_headers(string quantity, string unit, string cell, double expected)
    {
        var track = Recording.GoodText($"time,lat,lon,\"q [ft]\"\n{At},{cell}\n", Mapping((quantity, "q [ft]", unit)));
        var values = (double[]?)typeof(Track).GetProperty(char.ToUpperInvariant(quantity[0]) + quantity[1..])!.GetValue(track);
        Assert.Equal(expected, Assert.Single(values!), 0.01);
        Assert.Equal(unit, track.Header!.Columns[3].Unit);
    }

    [Fact]
    public void Altitude_with_a_manual_unit_of_feet_is_not_converted()
    {
        // Climbs 10 units in 2 s with a vertical speed of 10 m in 2 s, which by itself would be found to be metres.
        var csv = new StringBuilder("time,lat,lon,alt ft,vs fpm\n");
        for (var i = 0; i < 400; i++)
            csv.Append(1_768_671_000 + i * 2).Append(",41.5,-99.5,").Append(i * 10).Append(",984.252\n");
        Assert.Equal(3_990 / 0.3048, Recording.GoodText(csv.ToString()).GpsAltitudeFt![^1], 1e-6);
        Assert.Equal(3_990, Recording.GoodText(csv.ToString(), Mapping(("gpsAltitudeFt", "alt ft", "ft"))).GpsAltitudeFt![^1]);
    }

    [Fact]
    public void Two_columns_can_be_swapped()
    {
        var track = Recording.GoodText(
            "time,lat,lon,pressure altitude,indicated altitude\n" + At + ",100,200\n",
            Mapping(("indicatedAltitudeFt", "pressure altitude", null), ("pressureAltitudeFt", "indicated altitude", null))
        );
        Assert.Equal(100, track.IndicatedAltitudeFt![0]);
        Assert.Equal(200, track.PressureAltitudeFt![0]);
    }

    [Fact]
    public void Columns_of_one_name_are_distinguished_and_nameless_ones_are_numbered()
    {
        var track = Recording.GoodText(
            "time,lat,lon,Alt,Alt,\n" + At + ",100,200,300\n",
            Mapping(("indicatedAltitudeFt", "Alt (2)", null), ("pressureAltitudeFt", "column 6", null))
        );
        Assert.Equal(100, track.GpsAltitudeFt![0]);
        Assert.Equal(200, track.IndicatedAltitudeFt![0]);
        Assert.Equal(300, track.PressureAltitudeFt![0]);
    }

    [Fact]
    public void A_column_called_none_is_a_column() =>
        Assert.Equal(5, Recording.GoodText("time,lat,lon,none\n" + At + ",5\n", Mapping(("bankDeg", "none", null))).BankDeg![0]);

    [Fact]
    public void The_header_has_every_column_with_samples_and_its_quantity()
    {
        var header = Recording.GoodFile("f10.csv").Header!;
        Assert.Equal("timeS", header.Columns.Single(c => c.Name == "utc").TakenAs);
        Assert.Equal("indicatedAltitudeFt", header.Columns.Single(c => c.Name == "indicated_alt_ft").TakenAs);
        Assert.Equal("ft", header.Columns.Single(c => c.Name == "indicated_alt_ft").Unit);
        Assert.Equal("3484", header.Columns.Single(c => c.Name == "indicated_alt_ft").Samples[0]);
        Assert.Equal(15, header.Columns.Count(c => c.TakenAs is not null));
        Assert.All(header.Columns.Where(c => c.TakenAs is not null), c => Assert.Contains(ColumnQuantity.All, q => q.Name == c.TakenAs));
    }

    [Fact]
    public void A_time_with_a_date_in_it_needs_no_date_column()
    {
        var header = Recording.GoodText("utc time,date,utc offset,lat,lon\n2026-01-17T17:30:00Z,x,+13:00,41.5,-99.5\n").Header!;
        Assert.Equal(["timeS", null, null, "latDeg", "lonDeg"], header.Columns.Select(c => c.TakenAs));
    }

    [Fact]
    public void The_header_can_be_read_alone()
    {
        var bytes = Recording.Bytes("f10.csv");
        var whole = Recording.GoodFile("f10.csv").Header!;
        foreach (var copy in new[] { bytes, Recording.Gzipped(bytes), Recording.Zipped(("f10", bytes)) })
        {
            var alone = TrackReader.ReadHeader(new MemoryStream(copy), ct: TestContext.Current.CancellationToken)!;
            Assert.Equal(whole.Fingerprint, alone.Fingerprint);
            Assert.Equal(whole.Columns.Select(c => (c.Name, c.TakenAs, c.Unit)), alone.Columns.Select(c => (c.Name, c.TakenAs, c.Unit)));
        }
        Assert.Null(TrackReader.ReadHeader(new MemoryStream(Recording.Bytes("f13.gpx")), ct: TestContext.Current.CancellationToken));
        Assert.Null(TrackReader.ReadHeader(new MemoryStream(), ct: TestContext.Current.CancellationToken));
    }

    [Fact]
    public void The_fingerprint_is_of_the_header_alone()
    {
        var one = Recording.GoodText("time,lat,lon\n" + At + "\n").Header!.Fingerprint;
        Assert.Equal(one, Recording.GoodText("# another day\ntime, lat ,lon\n" + At.Replace("41.5", "12.5") + "\n").Header!.Fingerprint);
        Assert.NotEqual(one, Recording.GoodText("time,lon,lat\n2026-01-17T17:30:00Z,-99.5,41.5\n").Header!.Fingerprint);
        Assert.Matches("^[0-9a-f]{64}$", one);
    }

    [Fact]
    public void Other_formats_have_no_header_and_take_no_mapping()
    {
        var track = Recording.Good(Recording.ReadFile("f13.gpx", Mapping(("latDeg", "y", null))));
        Assert.Null(track.Header);
        Assert.Empty(track.Warnings);
    }

    [Fact]
    public void A_column_that_is_not_there_is_refused_with_the_header()
    {
        var result = Recording.ReadText("time,lat,lon,A2\n" + At + ",200\n", Mapping(("indicatedAltitudeFt", "A9", null)));
        var problem = Recording.Bad(result, TrackProblemKind.Unreadable);
        Assert.Contains("\"A9\"", problem.Message);
        Assert.Equal(1, problem.Line);
        Assert.Equal("A2", result.Header!.Columns[3].Name);
    }

    [Fact]
    public void A_mapping_that_fits_nothing_is_refused()
    {
        const string Text = "time,lat,lon,A2\n" + At + ",200\n";
        Assert.Contains("\"altitude\"", Refusal(Text, ("altitude", "A2", null)));
        Assert.Contains("both", Refusal(Text, ("indicatedAltitudeFt", "A2", null), ("pressureAltitudeFt", "a2", null)));
        Assert.Contains("kt, km/h", Refusal(Text, ("groundSpeedKt", "A2", "hPa")));
        Assert.Contains("leave the unit out", Refusal(Text, ("timeS", "time", "s")));
        Assert.Contains("latitude", Refusal(Text, ("latDeg", "none", null)));
    }

    [Fact]
    public void Every_quantity_offers_units_that_it_takes()
    {
        Assert.All(ColumnQuantity.Required, name => Assert.Contains(ColumnQuantity.All, q => q.Name == name));
        foreach (var quantity in ColumnQuantity.All)
        {
            foreach (var unit in quantity.Units)
                Recording.GoodText("time,lat,lon,q\n" + At + ",1\n", Mapping((quantity.Name, "q", unit)));
        }
    }
}
