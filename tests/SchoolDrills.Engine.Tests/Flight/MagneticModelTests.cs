using System.Globalization;
using SchoolDrills.Engine.Flight;
using Xunit;

namespace SchoolDrills.Engine.Tests.Flight;

public sealed class MagneticModelTests
{
    /// <summary>Source: the 100 test values published with WMM2025 (NOAA NCEI and BGS), to their printed precision.</summary>
    [Fact]
    public void Every_published_test_value_of_the_2025_model_is_reproduced_to_its_printed_precision()
    {
        var rows = File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Flight", "wmm2025-test-values.csv"))
            .Skip(2)
            .Select(line => Array.ConvertAll(line.Split(','), cell => double.Parse(cell, CultureInfo.InvariantCulture)))
            .ToList();
        Assert.Equal(100, rows.Count);
        foreach (var row in rows)
        {
            var field = MagneticModel.At(row[2], row[3], row[1], row[0])!;
            Assert.Equal(row[4], field.NorthNt, 0.001);
            Assert.Equal(row[5], field.EastNt, 0.001);
            Assert.Equal(row[6], field.DownNt, 0.001);
            Assert.Equal(row[7], field.HorizontalNt, 0.001);
            Assert.Equal(row[8], field.TotalNt, 0.001);
            Assert.Equal(row[9], field.InclinationDeg, 0.0051);
            Assert.Equal(row[10], field.DeclinationDeg, 0.0051);
        }
    }

    /// <summary>Source: WMM2025 report, table 6: date, height km, latitude, longitude, D, I, F.</summary>
    [Theory]
    [InlineData(2025.0, 0, 80, 0, 1.28, 83.21, 55178.5)]
    [InlineData(2025.0, 0, 0, 120, -0.16, -14.93, 41064.3)]
    [InlineData(2025.0, 0, -80, 240, 68.78, -72.00, 54698.2)]
    [InlineData(2025.0, 100, 80, 0, 0.85, 83.26, 52964.9)]
    [InlineData(2025.0, 100, 0, 120, -0.15, -15.08, 39032.1)]
    [InlineData(2025.0, 100, -80, 240, 68.21, -72.19, 52035.0)]
    [InlineData(2027.5, 0, 80, 0, 2.59, 83.24, 55253.9)]
    [InlineData(2027.5, 0, 0, 120, -0.24, -14.65, 41036.9)]
    [InlineData(2027.5, 0, -80, 240, 68.49, -71.92, 54474.2)]
    [InlineData(2027.5, 100, 80, 0, 2.16, 83.29, 53034.3)]
    [InlineData(2027.5, 100, 0, 120, -0.23, -14.81, 39007.4)]
    [InlineData(2027.5, 100, -80, 240, 67.93, -72.10, 51825.7)]
    public void The_table_of_the_models_report_is_reproduced(
        double year,
        double heightKm,
        double latDeg,
        double lonDeg,
        double declinationDeg,
        double inclinationDeg,
        double totalNt
    )
    {
        var field = MagneticModel.At(latDeg, lonDeg, heightKm, year)!;
        Assert.Equal(declinationDeg, field.DeclinationDeg, 0.0051);
        Assert.Equal(inclinationDeg, field.InclinationDeg, 0.0051);
        Assert.Equal(totalNt, field.TotalNt, 0.051);
    }

    /// <summary>
    /// Sources: test values published with WMM2015 and WMM2020, at sea level: north and east part, nT, and declination. Those models
    /// were made with less data than the definitive field; they differ by some 50 nT and tenths of a degree.
    /// </summary>
    [Theory]
    [InlineData(2015.0, 80, 0, 6627.1, -445.9, -3.85)]
    [InlineData(2015.0, 0, 120, 39518.2, 392.9, 0.57)]
    [InlineData(2015.0, -80, 240, 5797.3, 15761.1, 69.81)]
    [InlineData(2020.0, 80, 0, 6570.4, -146.3, -1.28)]
    [InlineData(2020.0, 0, 120, 39624.3, 109.9, 0.16)]
    public void The_definitive_field_agrees_with_the_forecasts_of_its_time(
        double year,
        double latDeg,
        double lonDeg,
        double northNt,
        double eastNt,
        double declinationDeg
    )
    {
        var field = MagneticModel.At(latDeg, lonDeg, 0, year)!;
        Assert.Equal(northNt, field.NorthNt, 60.0);
        Assert.Equal(eastNt, field.EastNt, 60.0);
        Assert.Equal(declinationDeg, field.DeclinationDeg, 0.3);
    }

    /// <summary>Two models meet at 2025.0: by no more than the terms that one leaves out, at latitudes where people learn to fly.</summary>
    [Fact]
    public void The_declination_runs_on_through_the_years_of_both_models()
    {
        for (var lat = -60.0; lat <= 70; lat += 5)
        {
            for (var lon = -180.0; lon < 180; lon += 15)
            {
                double before = MagneticModel.At(lat, lon, 1, 2024.9999)!.DeclinationDeg,
                    after = MagneticModel.At(lat, lon, 1, 2025.0)!.DeclinationDeg;
                Assert.Equal(0, Angles.DifferenceDeg(after, before), 0.5);
                var (year, next) = (MagneticModel.At(lat, lon, 1, 2009.9)!, MagneticModel.At(lat, lon, 1, 2010.1)!);
                Assert.Equal(0, Angles.DifferenceDeg(next.DeclinationDeg, year.DeclinationDeg), 0.2);
            }
        }
    }

    [Theory]
    [InlineData(1999.99)]
    [InlineData(2030.01)]
    [InlineData(double.NaN)]
    public void Outside_its_years_the_model_has_no_answer(double year) => Assert.Null(MagneticModel.At(-43.7, 171.9, 0.5, year));

    [Fact]
    public void The_pole_gives_finite_values()
    {
        var field = MagneticModel.At(90, 0, 0, 2026)!;
        Assert.True(double.IsFinite(field.NorthNt + field.EastNt + field.DownNt));
    }

    [Fact]
    public void The_middle_of_a_year_is_its_half()
    {
        Assert.Equal(2026.0, MagneticModel.DecimalYear(new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero)));
        Assert.Equal(2026.5, MagneticModel.DecimalYear(new DateTimeOffset(2026, 7, 2, 12, 0, 0, TimeSpan.Zero)), 6);
    }

    [Fact]
    public void The_middle_of_a_leap_year_comes_half_a_day_earlier_and_a_local_time_counts_by_its_instant()
    {
        Assert.Equal(2028.5, MagneticModel.DecimalYear(new DateTimeOffset(2028, 7, 2, 0, 0, 0, TimeSpan.Zero)), 1e-9);
        Assert.Equal(2027.0, MagneticModel.DecimalYear(new DateTimeOffset(2027, 1, 1, 13, 0, 0, TimeSpan.FromHours(13))), 1e-9);
    }

    /// <summary>
    /// Source: WMM2025 report, uncertainty of D: √(0.26² + (5417/H)²); by hand 0.375° for H = 20,000 nT and 2.72° for 2,000.
    /// </summary>
    [Theory]
    [InlineData(20_000, 0.375)]
    [InlineData(2_000, 2.721)]
    public void Declination_is_less_certain_where_the_field_points_down(double horizontalNt, double sigmaDeg) =>
        Assert.Equal(sigmaDeg, new MagneticField(horizontalNt * 0.6, horizontalNt * -0.8, 50_000).DeclinationSigmaDeg, 0.0006);

    [Fact]
    public void The_first_and_the_last_instant_of_the_model_are_in_it_and_a_second_later_is_not()
    {
        Assert.NotNull(MagneticModel.DeclinationDeg(-43.7, 171.9, 0.5, new DateTimeOffset(2000, 1, 1, 0, 0, 0, TimeSpan.Zero)));
        Assert.NotNull(MagneticModel.DeclinationDeg(-43.7, 171.9, 0.5, new DateTimeOffset(2030, 1, 1, 0, 0, 0, TimeSpan.Zero)));
        Assert.Null(MagneticModel.DeclinationDeg(-43.7, 171.9, 0.5, new DateTimeOffset(2030, 1, 1, 0, 0, 1, TimeSpan.Zero)));
    }

    [Fact]
    public void A_latitude_beyond_the_pole_and_a_height_beyond_the_model_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => MagneticModel.At(90.5, 0, 0, 2026));
        Assert.Throws<ArgumentOutOfRangeException>(() => MagneticModel.At(45, 0, -2, 2026));
        Assert.Throws<ArgumentOutOfRangeException>(() => MagneticModel.At(45, 0, 900, 2026));
    }
}
