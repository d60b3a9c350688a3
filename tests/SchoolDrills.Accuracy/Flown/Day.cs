using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Accuracy.Flown;

/// <summary>Where and in what air a flight is made: place, wind by height and time, temperature, pressure, turbulence.</summary>
internal sealed class Day
{
    private const double FtPerHpa = 27;

    private readonly List<(double MslFt, double EastKt, double NorthKt)> wind = [];
    private readonly Swell east,
        north;

    /// <summary>Any day anywhere.</summary>
    public Day(Random random)
        : this(
            random,
            random.Between(-48, 58),
            random.Between(-170, 170),
            Math.Round(random.Between(50, 1400)),
            new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero).AddMinutes(random.Next(0, 500_000))
        ) { }

    /// <summary>Any day at a place.</summary>
    public Day(Random random, double latDeg, double lonDeg, double fieldFt, DateTimeOffset startUtc)
    {
        (LatDeg, LonDeg, FieldFt, StartUtc) = (latDeg, lonDeg, fieldFt, startUtc);
        DeclinationDeg = MagneticModel.DeclinationDeg(LatDeg, LonDeg, 1, StartUtc)!.Value;
        SettingHpa = Math.Round(random.Between(992, 1034));
        // A setting misread by three hectopascals now and then; otherwise rounded to the next.
        QnhHpa = SettingHpa + (random.Happens(0.08) ? 3 * random.Sign() : random.Between(-0.5, 0.5));
        IsaDeviationC = random.Between(-14, 16);
        var roughness = random.NextDouble();
        Turbulence =
            roughness < Population.Smooth ? 0
            : roughness < Population.Smooth + Population.LightChop ? 1
            : 2;
        var (fromDeg, kt) = (random.Between(0, 360), random.Happens(0.08) ? 0 : random.Between(3, 18));
        for (var level = 0; level < 3; level++)
        {
            var (sin, cos) = Math.SinCos(Units.DegToRad(fromDeg));
            wind.Add((FieldFt + (level * 2200), -kt * sin, -kt * cos));
            fromDeg += random.Between(-5, 22);
            kt = Math.Min(35, kt * random.Between(1.05, 1.7));
        }

        (east, north) = (new Swell(random), new Swell(random));
    }

    public double LatDeg { get; }

    public double LonDeg { get; }

    public double FieldFt { get; }

    public DateTimeOffset StartUtc { get; }

    public double DeclinationDeg { get; }

    public double QnhHpa { get; }

    /// <summary>What the altimeter is set to.</summary>
    public double SettingHpa { get; }

    public double IsaDeviationC { get; }

    /// <summary>0 none, 1 light chop, 2 light to moderate.</summary>
    public int Turbulence { get; }

    /// <summary>Altimeter reading on the field, feet.</summary>
    public double FieldIndicatedFt => FieldFt + (FtPerHpa * (SettingHpa - QnhHpa));

    public double PressureAltitudeFt(double indicatedFt) => Atmosphere.PressureAltitudeFromIndicatedFt(indicatedFt, SettingHpa);

    public double TemperatureC(double pressureAltitudeFt) => Atmosphere.TemperatureC(pressureAltitudeFt) + IsaDeviationC;

    /// <summary>Height above mean sea level at an altimeter reading, feet.</summary>
    public double MslFt(double indicatedFt)
    {
        var pressureFt = PressureAltitudeFt(indicatedFt);
        return FieldFt + Atmosphere.TrueHeightFt(Atmosphere.IndicatedAltitudeFt(pressureFt, QnhHpa) - FieldFt, IsaDeviationC, pressureFt);
    }

    public double TrueAirspeedKt(double indicatedKt, double indicatedFt)
    {
        var pressureFt = PressureAltitudeFt(indicatedFt);
        return Airspeed.TrueFromCalibratedKt(indicatedKt, pressureFt, TemperatureC(pressureFt));
    }

    /// <summary>Wind toward east and north, without gusts: linear between its levels, and changing slowly, knots.</summary>
    public (double EastKt, double NorthKt) WindAt(double mslFt, double timeS)
    {
        var (eastKt, northKt) = ByHeight(mslFt);
        return (eastKt + east.At(timeS), northKt + north.At(timeS));
    }

    private (double EastKt, double NorthKt) ByHeight(double mslFt)
    {
        var above = wind.FindIndex(w => w.MslFt >= mslFt);
        if (above <= 0)
            return (wind[above == 0 ? 0 : ^1].EastKt, wind[above == 0 ? 0 : ^1].NorthKt);
        var (a, b) = (wind[above - 1], wind[above]);
        var share = (mslFt - a.MslFt) / (b.MslFt - a.MslFt);
        return (a.EastKt + (share * (b.EastKt - a.EastKt)), a.NorthKt + (share * (b.NorthKt - a.NorthKt)));
    }

    /// <summary>A slow change of the wind along one axis: at its steepest some 3 kt an hour, now and then 10.</summary>
    private sealed class Swell(Random random)
    {
        private readonly double sizeKt = random.Between(0.3, 2.5),
            periodS = 3600 * random.Between(1, 3),
            phase = random.Between(0, 2 * Math.PI);

        public double At(double timeS) => sizeKt * (Math.Sin((2 * Math.PI * timeS / periodS) + phase) - Math.Sin(phase));
    }
}
