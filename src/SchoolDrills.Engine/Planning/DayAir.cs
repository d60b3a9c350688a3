using SchoolDrills.Engine.Flight;

namespace SchoolDrills.Engine.Planning;

/// <summary>The air of a day: the standard atmosphere, shifted by the altimeter setting and by the temperature at the entry.</summary>
internal sealed class DayAir(double entryFt, PlanConditions conditions)
{
    public double PressureAltitudeFt(double altitudeFt) => Atmosphere.PressureAltitudeFromIndicatedFt(altitudeFt, conditions.QnhHpa);

    public double TemperatureC(double altitudeFt)
    {
        var standardC = Atmosphere.TemperatureC(PressureAltitudeFt(altitudeFt));
        return conditions.OatC is { } oatC ? standardC + oatC - Atmosphere.TemperatureC(PressureAltitudeFt(entryFt)) : standardC;
    }

    public double DensityAltitudeFt(double altitudeFt) =>
        Atmosphere.DensityAltitudeFt(PressureAltitudeFt(altitudeFt), TemperatureC(altitudeFt));

    public double TrueAirspeedKt(double calibratedKt, double altitudeFt) =>
        Airspeed.TrueFromCalibratedKt(calibratedKt, PressureAltitudeFt(altitudeFt), TemperatureC(altitudeFt));
}
