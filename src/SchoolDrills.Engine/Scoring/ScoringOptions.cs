using SchoolDrills.Engine.Drills;
using SchoolDrills.Engine.Reconstruction;

namespace SchoolDrills.Engine.Scoring;

/// <summary>What is known of a flight besides its recording; null where nothing is.</summary>
public sealed record ScoringOptions
{
    /// <summary>Altimeter setting, hPa.</summary>
    public double? QnhHpa { get; init; }

    /// <summary>Outside air temperature, Celsius.</summary>
    public double? OutsideAirTemperatureC { get; init; }

    /// <summary>Wind from, degrees true.</summary>
    public double? WindFromDegTrue { get; init; }

    /// <summary>Wind speed, knots.</summary>
    public double? WindKt { get; init; }

    /// <summary>Entry heading, degrees magnetic; estimated from the recording when null.</summary>
    public double? HeadingMagDeg { get; init; }

    /// <summary>Entry altitude, feet indicated; estimated from the recording when null.</summary>
    public double? AltitudeFt { get; init; }

    /// <summary>Airspeed to hold, knots indicated; the template's when null.</summary>
    public double? AirspeedKt { get; init; }

    /// <summary>Mirrored, left for right; as the template's entry says when null.</summary>
    public bool? Mirrored { get; init; }

    /// <summary>Turns at half rate; as the template's entry says when null.</summary>
    public bool? HalfRate { get; init; }

    /// <summary>Corrections made by an instructor; null where there are none.</summary>
    public ManualCorrections? Corrections { get; init; }

    /// <summary>Events noted in flight; null where nobody took notes, which differs from nothing having happened.</summary>
    public IReadOnlyList<FlightEvent>? Events { get; init; }

    /// <summary>Conditions of the day, as the reconstruction needs them.</summary>
    internal KnownConditions Conditions =>
        new(QnhHpa, OutsideAirTemperatureC, WindFromDegTrue is { } from && WindKt is { } kt ? WindField.Given(from, kt) : null);

    /// <summary>The drill's entry as planned: what is given here, else the template's.</summary>
    /// <param name="template">The drill.</param>
    internal DrillEntry PlannedEntry(DrillTemplate template) =>
        template.Entry with
        {
            HeadingMagDeg = HeadingMagDeg ?? template.Entry.HeadingMagDeg,
            AltitudeFt = AltitudeFt ?? template.Entry.AltitudeFt,
            AirspeedKt = AirspeedKt ?? template.Entry.AirspeedKt,
            Mirrored = Mirrored ?? template.Entry.Mirrored,
            HalfRate = HalfRate ?? template.Entry.HalfRate,
        };
}
