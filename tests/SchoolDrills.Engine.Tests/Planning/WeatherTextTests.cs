using SchoolDrills.Engine.Planning;
using Xunit;

namespace SchoolDrills.Engine.Tests.Planning;

/// <summary>
/// METAR: WMO-No. 306, Manual on Codes, FM 15–XV. Winds aloft: the public description of the FB forecast in the FAA's Aviation Weather
/// Handbook (FAA-H-8083-28), whose worked groups are 9900 (light and variable), 731960 (230° at 119 kt, −60 °C) and 7799 (270° at
/// 199 kt or more).
/// </summary>
public sealed class WeatherTextTests
{
    private const string Forecast = """
        FBUS31 KWNO 190440
        DATA BASED ON 190000Z
        VALID 190600Z   FOR USE 0600-1200Z. TEMPS NEG ABV 24000

        FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
        HOU 2619 2728+01 2635-05 2641-09 2654-21 2665-32 731960 731960 731960
        JOT 2526 2736+01 2642-06 2649-11 2662-22 2674-33 731960 731960 731960
        """;

    [Fact]
    public void An_aerodrome_report_gives_wind_temperature_and_QNH_and_leaves_the_rest_of_its_code_alone()
    {
        var read = WeatherText.Read(
            "METAR NZCH 280700Z AUTO 27015G25KT 240V300 9999 -SHRA FEW030 BKN045CB 15/M02 Q1009 NOSIG=",
            aerodromeFt: 123
        );

        Assert.Empty(read.NotUnderstood);
        Assert.Equal(new WindLevel(123, 270, 15), Assert.Single(read.Winds));
        Assert.Equal(new TemperatureLevel(123, 15), Assert.Single(read.Temperatures));
        Assert.Equal(1009, read.QnhHpa);
        Assert.Equal(["Wind at 123 ft: 270° 15 kt, gusts 25 kt.", "Temperature at 123 ft: 15 °C.", "QNH 1009 hPa."], read.Taken);
    }

    [Theory]
    // 10 m/s is 19.4 kt; 36 km/h the same. 29.92 inHg is 1013.2 hPa (1 inHg = 33.8639 hPa).
    [InlineData("UUEE 281200Z 27010MPS CAVOK M05/M10 Q1013", 270, 19.4, -5, 1013)]
    [InlineData("SPECI LFPG 281200Z 09036KMH 0350 R27L/P1500U FG VV001 03/03 Q0998", 90, 19.4, 3, 998)]
    [InlineData("KBOU 281200Z 36005KT 10SM CLR 22/08 A2992 RMK AO2 SLP123", 360, 5, 22, 1013.2)]
    [InlineData("METAR COR EGXX 281200Z 00000KT 9999 NSC 10/08 Q1020", 0, 0, 10, 1020)]
    public void Units_of_wind_and_setting_are_converted(string report, double fromDeg, double kt, double oatC, double qnhHpa)
    {
        var read = WeatherText.Read(report);

        Assert.Empty(read.NotUnderstood);
        Assert.Equal(new WindLevel(0, fromDeg, kt), Assert.Single(read.Winds));
        Assert.Equal(oatC, Assert.Single(read.Temperatures).TemperatureC);
        Assert.Equal(qnhHpa, read.QnhHpa);
    }

    [Fact]
    public void A_report_over_several_lines_ends_at_its_sign_and_what_follows_a_trend_is_not_taken()
    {
        var read = WeatherText.Read("METAR NZCH 280700Z 27015KT 9999\nSCT030 15/08\nQ1009 TEMPO 33030G45KT\n2000 RA=\n3000 290/30");

        Assert.Empty(read.NotUnderstood);
        Assert.Equal([new WindLevel(0, 270, 15), new WindLevel(3000, 290, 30)], read.Winds);
        Assert.Equal(1009, read.QnhHpa);
    }

    [Fact]
    public void Of_two_reports_the_first_counts_and_that_is_said()
    {
        var read = WeatherText.Read("METAR NZCH 280700Z 27015KT 9999 15/08 Q1009=\nMETAR NZTU 280700Z 18005KT 9999 12/08 Q1010=");

        Assert.Equal(270, Assert.Single(read.Winds).FromDegTrue);
        Assert.Contains("The report of NZTU was left out: the one of NZCH came first.", read.Taken);
    }

    [Theory]
    [InlineData("METAR NZCH 280700Z 27O15KT 9999 15/08 Q1009", "'NZCH: 27O15KT' is no group of a METAR; it was left out.")]
    [InlineData("METAR NZCH 280700Z /////KT 9999 15/08 Q1009", "'NZCH: /////KT': the report has no wind.")]
    [InlineData("METAR NZCH 280700Z 40015KT 9999 15/08 Q1009", "'NZCH: 40015KT': 400 is no direction; it goes to 360.")]
    [InlineData("METAR NZCH 280700Z 27015KT 9999 15/08 Q0109", "'NZCH: Q0109': 109 hPa is no altimeter setting; it is 870 to 1085.")]
    [InlineData(
        "METAR NZCH 280700Z VRB12KT 9999 15/08 Q1009",
        "'NZCH: VRB12KT': a variable wind of 12 kt has no direction to plan with; type the one you expect."
    )]
    public void What_a_report_says_wrongly_is_named_and_the_rest_is_taken(string report, string problem)
    {
        var read = WeatherText.Read(report);

        Assert.Equal([problem], read.NotUnderstood);
        Assert.Equal(15, Assert.Single(read.Temperatures).TemperatureC);
    }

    [Fact]
    public void A_forecast_is_read_by_its_line_of_heights_and_for_its_first_station()
    {
        var read = WeatherText.Read(Forecast);

        Assert.Equal(
            [
                new WindLevel(3000, 260, 19),
                new WindLevel(6000, 270, 28),
                new WindLevel(9000, 260, 35),
                new WindLevel(12000, 260, 41),
                new WindLevel(18000, 260, 54),
                new WindLevel(24000, 260, 65),
                new WindLevel(30000, 230, 119),
                new WindLevel(34000, 230, 119),
                new WindLevel(39000, 230, 119),
            ],
            read.Winds
        );
        Assert.Equal([6000, 9000, 12000, 18000, 24000, 30000, 34000, 39000], read.Temperatures.Select(t => t.AltitudeFt));
        Assert.Equal([1, -5, -9, -21, -32, -60, -60, -60], read.Temperatures.Select(t => t.TemperatureC));
        Assert.Empty(read.NotUnderstood);
        Assert.Contains("JOT was left out: HOU came first. Take its line out to plan with JOT.", read.Taken);
    }

    [Fact]
    public void Where_the_ground_is_high_the_lowest_heights_are_left_out_and_the_last_group_belongs_to_the_last_height()
    {
        var read = WeatherText.Read("FT 3000 6000 9000 12000\nDEN 2321 2434-08");

        Assert.Equal([new WindLevel(9000, 230, 21), new WindLevel(12000, 240, 34)], read.Winds);
        Assert.Equal(new TemperatureLevel(12000, -8), Assert.Single(read.Temperatures));
    }

    [Fact]
    public void Light_and_variable_is_calm_and_a_wind_beyond_planning_is_refused()
    {
        var read = WeatherText.Read("FT 3000 6000 9000\nICT 9900 9900+05 7799-10");

        Assert.Equal([new WindLevel(3000, 0, 0), new WindLevel(6000, 0, 0)], read.Winds);
        Assert.Equal(["'ICT at 9,000 ft: 7799-10': 199 kt is more than the 150 kt that can be planned with."], read.NotUnderstood);
    }

    [Theory]
    [InlineData("DEN 2321 2434-08", "DEN: nobody can say which heights these groups are for; paste the line that begins with FT as well.")]
    [InlineData("FT 3000 6000\nDEN 2321 2434-08 2542-12", "DEN has 3 groups, the line of heights has 2.")]
    [InlineData("FT 3000 6000\nDEN 2321 24X4-08", "'DEN at 6,000 ft: 24X4-08' is no group such as 2725 or 2725-04.")]
    [InlineData(
        "FT 3000 6000\nDEN 2321 4434-08",
        "'DEN at 6,000 ft: 4434-08': 44 stands for no direction; it is 01 to 36, or 51 to 86 from 100 kt on."
    )]
    [InlineData(
        "FT 3000 6000\nDEN 2321 243408",
        "'DEN at 6,000 ft: 243408': the temperature has no sign, which is left out above 24,000 ft alone."
    )]
    public void What_is_wrong_with_a_forecast_is_said_with_its_place(string text, string problem) =>
        Assert.Contains(problem, WeatherText.Read(text).NotUnderstood);

    [Theory]
    [InlineData("3000 270/25 +05", 3000, 270, 25, 5.0)]
    [InlineData("3,000 ft: 270/25 −5", 3000, 270, 25, -5.0)]
    [InlineData("FL050 27025KT M02", 5000, 270, 25, -2.0)]
    [InlineData("2000FT 005/8kt", 2000, 5, 8, null)]
    [InlineData("4500 90°/12 PS10", 4500, 90, 12, 10.0)]
    [InlineData("1500 calm +12C", 1500, 0, 0, 12.0)]
    [InlineData("2000 VRB/03", 2000, 0, 0, null)]
    public void Lines_as_people_type_them_are_read(string line, double altitudeFt, double fromDeg, double kt, double? oatC)
    {
        var read = WeatherText.Read(line);

        Assert.Empty(read.NotUnderstood);
        Assert.Equal(new WindLevel(altitudeFt, fromDeg, kt), Assert.Single(read.Winds));
        Assert.Equal(oatC, read.Temperatures.SingleOrDefault()?.TemperatureC);
    }

    [Theory]
    [InlineData("3000 27O/25", "'3000 27O/25': '27O/25' is no wind and temperature such as '270/25 +05'.")]
    [InlineData("3000 370/25", "'3000 370/25': 370 is no direction; it goes to 360.")]
    [InlineData("3000 270/25\n3000 280/30", "'3000 280/30': there is a wind at 3,000 ft already; the first counts.")]
    [InlineData("hello there", "'HELLO THERE' is no METAR, no winds-aloft line and no line such as '3000 270/25 +05'.")]
    [InlineData("", "There is nothing to read: paste a METAR, a winds-aloft forecast or lines such as '3000 270/25 +05'.")]
    public void A_line_that_is_not_understood_is_shown_with_what_was_expected(string text, string problem) =>
        Assert.Contains(problem, WeatherText.Read(text).NotUnderstood);

    [Fact]
    public void Temperature_at_the_entry_is_even_between_two_levels_and_by_the_standard_lapse_beyond_them()
    {
        var read = WeatherText.Read("3000 270/25 +10\n6000 270/25 +01");

        Assert.Equal(5.5, read.OatCAt(4500)!.Value, 1e-9);
        // 6.5 K per kilometre (ICAO Doc 7488/3): 1.98 °C in 1,000 ft.
        Assert.Equal(11.98, read.OatCAt(2000)!.Value, 0.01);
        Assert.Equal(-0.98, read.OatCAt(7000)!.Value, 0.01);
        Assert.Null(WeatherText.Read("3000 270/25").OatCAt(3000));
    }

    /// <summary>What is written comes back, for winds drawn at random.</summary>
    [Fact]
    public void Any_wind_written_as_a_group_or_a_line_is_read_as_it_was()
    {
        var random = new Random(20260228);
        for (var n = 0; n < 2000; n++)
        {
            var (tens, kt, oatC) = (random.Next(1, 37), random.Next(0, 151), random.Next(-40, 41));
            var group = $"{tens + (kt >= 100 ? 50 : 0):00}{kt % 100:00}{(oatC < 0 ? '-' : '+')}{Math.Abs(oatC):00}";
            var coded = WeatherText.Read($"FT 3000 6000\nXYZ {group}");
            var plain = WeatherText.Read($"6000 {tens * 10:000}/{kt} {(oatC < 0 ? '-' : '+')}{Math.Abs(oatC):00}");

            Assert.Equal(new WindLevel(6000, tens * 10, kt), Assert.Single(coded.Winds));
            Assert.Equal(coded.Winds, plain.Winds);
            Assert.Equal(new TemperatureLevel(6000, oatC), Assert.Single(coded.Temperatures));
            Assert.Equal(coded.Temperatures, plain.Temperatures);
        }
    }

    /// <summary>Damaged text never throws, and whatever is taken from it can be planned with.</summary>
    [Fact]
    public void Damaged_text_gives_only_what_can_be_planned_with()
    {
        var random = new Random(306);
        string[] good =
        [
            Forecast,
            "METAR NZCH 280700Z AUTO 27015G25KT 240V300 9999 -SHRA FEW030 15/M02 Q1009 NOSIG=",
            "3000 270/25 +05\nFL050 27025KT M02\nSFC CALM",
        ];
        const string Letters = "0123456789/+-KTFLMQA =\n:,.ÄZ\t\0−°VRB";
        for (var n = 0; n < 5000; n++)
        {
            var text = good[n % good.Length].ToCharArray().ToList();
            for (var k = random.Next(1, 8); k > 0; k--)
            {
                var at = random.Next(text.Count);
                switch (random.Next(3))
                {
                    case 0:
                        text[at] = Letters[random.Next(Letters.Length)];
                        break;
                    case 1:
                        text.RemoveAt(at);
                        break;
                    default:
                        text.Insert(at, Letters[random.Next(Letters.Length)]);
                        break;
                }
            }

            var read = WeatherText.Read(string.Concat(text), random.Next(2) == 0 ? null : 500);
            Assert.Empty(new PlanConditions(read.QnhHpa ?? 1013.25, Winds: read.Winds).Problems());
            Assert.Equal(read.Winds.Count, read.Winds.Select(w => w.AltitudeFt).Distinct().Count());
            Assert.True(read.Found || read.NotUnderstood.Count > 0);
        }
    }

    [Fact]
    public void A_text_without_end_is_refused_at_once() =>
        Assert.StartsWith(
            "The text is longer than 20000 characters",
            Assert.Single(WeatherText.Read(new string('7', 20_001)).NotUnderstood),
            StringComparison.Ordinal
        );
}
